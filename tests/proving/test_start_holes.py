"""Openings inside a part: the blade is threaded through a hole, which is a piece of work of its own before the cut."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Job
from sequencer.model.workshop import Workshop
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.features.samples import make
from tests.made import knowledge, without_station_kind, workshop
from tests.outside.bench import board
from tests.proving import damage
from tests.proving.forced import forced

HOLE, CUT = "rail/window-start-hole/cut", "rail/window/cut"
DRILLS = ("pillar-drill", "hand-boring", "cordless-drill", "mains-drill")


def opening(kind: str = "cut-out", **fields: Any) -> Job:
    sizes = {"face": "inside", "length": 100, "width": 40, "at": {"left": 60}} | fields
    return board(make(kind, name="window", **sizes), length=300)


def without_drills(shop: Workshop) -> Workshop:
    for kind in DRILLS:
        shop = without_station_kind(shop, kind)
    return shop


def way(drawn: Job, shop: Workshop, operation: str) -> Way:
    ((_, found, _),) = ways_of(CUT, drawn, shop, knowledge())
    return next(each for each in found if each.operation == operation)


@pytest.mark.parametrize(
    ("kind", "fields", "across"),
    [
        ("cut-out", {}, 8.0),
        ("cut-out", {"radius": 12, "at": {"right": 40, "top": 20}}, 8.0),
        ("cut-out", {"width": 11}, 7.0),
        ("slot", {"width": 10, "at": {"left": 40, "bottom": 30}}, 6.0),
    ],
    ids=["in the middle", "rounded", "narrow", "slot"],
)
def test_the_hole_is_drilled_in_the_waste_before_the_scroll_saw(kind: str, fields: dict[str, Any], across: float) -> None:
    drawn, plan, task = forced("saw-inside-on-scroll-saw", "rail/window", opening(kind, **fields))
    work = [step for step in plan.steps if step.kind == "work"]
    (drilling,) = (step for step in work if HOLE in step.tasks)
    (sawing,) = (step for step in work if CUT in step.tasks)
    assert drilling.number < sawing.number
    assert drilling.title == "Drill the window start hole: rail (A)"
    (reason,) = (each for each in plan.reasons if (each.before, each.after) == (HOLE, CUT))
    assert reason.kind == "reach"
    assert reason.sentence == "The blade needs a hole to be threaded through before the window is sawn."
    hole = next(each for each in plan.tasks if each.id == HOLE)
    assert {each.name: each.value for each in hole.settings}["bit"] == across
    # Drilled on the bench drill: with its guard, what holds the wood, its hazard, its bit.
    assert drilling.station_kind == "pillar-drill"
    assert drilling.guard_line.startswith("Close the chuck guard before you switch on.")
    assert "Turning parts can grab hair and sleeves. Tie both back." in drilling.hazard_line
    assert any(tool.endswith(f"bit, {across:g} mm") for tool in drilling.tools)
    assert "Mark its cross in the middle of the waste first." in drilling.notes
    says = [look.says for each in carry_out(plan, drawn).proof.tasks if each.task == task.id for look in each.looked]
    assert f"the blade goes through a hole of {across:g} mm in the waste" in says


def test_the_proof_finds_a_cut_whose_hole_is_missing_or_not_through() -> None:
    drawn, plan, _ = forced("saw-inside-on-scroll-saw", "rail/window", opening())
    missing = replace(plan, tasks=tuple(each for each in plan.tasks if each.id != HOLE))
    says = [each.says for each in carry_out(missing, drawn).proof.failures]
    assert "the waste has no hole that the blade can be threaded through" in says
    says = [each.says for each in carry_out(damage.swapped(plan, HOLE, CUT), drawn).proof.failures]
    assert "the waste has no hole that the blade can be threaded through" in says
    hole = next(each for each in plan.tasks if each.id == HOLE)
    stopped = replace(hole, settings=tuple(replace(each, value=9.0) if each.name == "depth" else each for each in hole.settings))
    says = [each.says for each in carry_out(damage.with_task(plan, stopped), drawn).proof.failures]
    assert "the waste has no hole that the blade can be threaded through" in says


def test_where_nothing_drills_the_scroll_saw_is_refused_for_its_true_reason() -> None:
    refused = way(opening(), without_drills(workshop("well-equipped")), "saw-inside-on-scroll-saw")
    assert [each.what for each in refused.obstacles] == [
        "The blade is threaded through a hole in the waste, and nothing in this workshop can make that hole."
    ]
    assert way(opening(), workshop("well-equipped"), "saw-inside-on-scroll-saw").possible


def test_where_the_one_drill_lacks_its_guard_the_refusal_says_so() -> None:
    shop = without_drills(workshop("well-equipped"))
    drill = workshop("well-equipped").stations["pillar-drill"]
    bare = replace(drill, guards=tuple(each for each in drill.guards if each != "chuck-guard"))
    refused = way(opening(), replace(shop, stations={**shop.stations, "pillar-drill": bare}), "saw-inside-on-scroll-saw")
    (obstacle,) = refused.obstacles
    assert obstacle.what.startswith(
        "The blade is threaded through a hole in the waste, and nothing in this workshop can make that hole. "
    )
    assert "chuck guard" in obstacle.what


def test_a_slit_too_narrow_for_a_hole_is_refused_with_its_figures() -> None:
    narrow = way(opening("slot", width=7), workshop("well-equipped"), "saw-inside-on-scroll-saw")
    assert [each.what for each in narrow.obstacles] == [
        "The blade is threaded through a hole in the waste, and that of the window has no room for one of 4 mm with 2 mm "
        "beside it."
    ]


def test_by_hand_the_hole_is_bored_first_and_the_coping_saw_is_threaded_through() -> None:
    drawn = opening()
    plan = make_plan(drawn, workshop("hand-tools"), knowledge())
    proof = with_record(plan, carry_out(plan, drawn)).proof
    assert proof is not None
    assert proof.held, proof.failures
    work = [step for step in plan.steps if step.kind == "work"]
    (boring,) = (step for step in work if HOLE in step.tasks)
    (sawing,) = (step for step in work if CUT in step.tasks)
    assert (boring.station_kind, sawing.operation) == ("hand-boring", "Thread the coping saw and saw the opening")
    assert boring.title == "Drill the window start hole: rail (A)"
    assert boring.number < sawing.number
    assert sawing.instructions[0] == "Put the blade through the hole, teeth towards the handle."


def test_what_needs_no_hole_gets_none() -> None:
    for drawn in (opening(at={"bottom": 0}), board(make("hole", name="window", face="inside", diameter=12), length=300)):
        plan = make_plan(drawn, workshop("well-equipped"), knowledge())
        assert not [each for each in plan.tasks if "start-hole" in each.id]
