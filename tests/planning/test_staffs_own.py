"""What hazards keep to staff in their own words never comes to students: glues, finishes, woods."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from sequencer.knowledge.forms.hazards import Hazard
from sequencer.model.job import Finish
from sequencer.model.plan import Plan, Step
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop

# Words of the hazard files by which a product, or mixing and pouring it, is kept to staff.
USED_BY_STAFF = re.compile(
    r"let staff (use|mix) it|do not touch it|staff only,|staff (glue|spread|mix and spread|put it on|weigh)|mixed by staff",
    re.IGNORECASE,
)
POURED_BY_STAFF = re.compile(r"staff (open|pour|mix the powder)", re.IGNORECASE)
A_POT_NOT_A_GLUE = {"hot-hide-glue"}
FILLED = "Take a small tin that staff have filled."
WET = ("glue", "dowel", "biscuit", "wedge")


def says(hazard: Hazard, words: re.Pattern[str]) -> bool:
    controls = [control.text for level in hazard.controls.values() for control in level]
    supervision = " ".join(hazard.body.partition("## Supervision")[2].split())
    return any(words.search(text) for text in (hazard.student, supervision, *controls))


def kept_to_staff() -> set[str]:
    things = (*knowledge().glues.values(), *knowledge().finishes.values())
    brought = {name for each in things for name in each.hazards} - A_POT_NOT_A_GLUE
    return {name for name in brought if says(knowledge().hazards[name], USED_BY_STAFF)}


@cache
def with_glue(glue: str) -> Plan:
    """The herb caddy with a glue, which is given time enough to close all its joints."""
    slow = replace(knowledge().glues[glue], open_time=15.0)
    known = replace(knowledge(), glues={**knowledge().glues, glue: slow})
    return make_plan(replace(job("herb-caddy"), glue=glue), replace(workshop(), temperature=22.0), known)


@cache
def with_finish(finish: str) -> Plan:
    drawn = replace(job("herb-caddy"), finish=(Finish(finish),))
    return make_plan(drawn, replace(workshop(), temperature=22.0), knowledge())


def kinds(step: Step, plan: Plan) -> set[str]:
    return {task.kind for task in plan.tasks if task.id in step.tasks}


def test_the_hazard_files_keep_strong_glues_and_solvents_to_staff() -> None:
    assert kept_to_staff() >= {
        "polyurethane-glue", "epoxy-glue", "urea-formaldehyde-glue", "contact-adhesive", "instant-glue", "solvent-finish",
    }  # fmt: skip


@pytest.mark.parametrize("glue", knowledge().glues)
def test_a_glue_kept_to_staff_is_on_no_student_step(glue: str) -> None:
    made = with_glue(glue)
    spread = [step for step in made.steps if kinds(step, made) & {*WET} and step.kind == "work"]
    assert spread
    brought = {*knowledge().glues[glue].hazards}
    for step in spread:
        assert brought <= {each.name for each in step.hazards}
        if step.card == "student":
            assert not {each.name for each in step.hazards} & (kept_to_staff() | {"caustic-lime"}), step.title
        assert (step.who.operator == "staff") == knowledge().glues[glue].staff
        assert knowledge().glues[glue].name in step.tools
        assert glue == "pva" or knowledge().glues["pva"].name not in step.tools


@pytest.mark.parametrize("finish", knowledge().finishes)
def test_a_finish_kept_to_staff_is_on_no_student_step_and_staff_pour_the_others(finish: str) -> None:
    made = with_finish(finish)
    coats = [step for step in made.steps if "coat" in kinds(step, made) and step.kind == "work"]
    assert coats
    for step in coats:
        found = {each.name for each in step.hazards}
        assert {*knowledge().finishes[finish].hazards} <= found
        if step.card == "student":
            assert not found & kept_to_staff(), step.title
            if any(says(knowledge().hazards[name], POURED_BY_STAFF) for name in knowledge().finishes[finish].hazards):
                assert FILLED in step.instructions or knowledge().finishes[finish].kind == "wax"
                assert FILLED in step.method or knowledge().finishes[finish].kind == "wax"


def test_only_the_finish_of_a_coat_brings_its_hazards() -> None:
    drawn = replace(job("herb-caddy"), finish=(Finish("lacquer", parts=("floor",)), Finish("water-based-paint", parts=("side",))))
    made = make_plan(drawn, workshop(), knowledge())
    coats = [step for step in made.steps if "coat" in kinds(step, made)]
    brings = {step.who.operator: {each.name for each in step.hazards} for step in coats}
    assert "solvent-finish" in brings["staff"]
    assert "solvent-finish" not in brings["student"]


@pytest.mark.parametrize(("glue", "gloves"), [("pva", False), ("aliphatic", False), ("weatherproof-pva", True), ("epoxy", True)])
def test_gloves_are_worn_for_every_glue_but_plain_white_and_yellow_glue(glue: str, gloves: bool) -> None:
    made = with_glue(glue)
    for step in made.steps:
        if kinds(step, made) & {*WET}:
            worn = {each.name for each in step.wear if not each.forbidden}
            assert ("gloves" in worn) is gloves
            assert {"apron", "eye-protection"} <= worn
    (text,) = [c.text for c in knowledge().hazards["glue-contact"].controls["ppe"] if c.wear == "gloves"]
    assert "other than white wood glue" in text
