"""Small parts made on solids by the ways of sanders, drills with a lead, router plane, spokeshave, rasps, sled and jig."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Task
from sequencer.paper.drawing import picture
from sequencer.paper.pictured import Pictured
from sequencer.planning.planner import make_plan, ways_of
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.features.samples import make
from tests.made import knowledge, workshop
from tests.outside.bench import board
from tests.proving import damage

PLAIN = {"face": "outside", "gauge": 8, "at": {"left": 60}, "countersunk": False}
HOLLOW = [
    {"at": {"left": 150, "top": 0}},
    {"arc_to": {"left": 300, "top": 0}, "radius": 120, "turn": "left"},
]
IN_FACE = {"face": "inside", "depth": 8, "at": [{"bottom": 45, "left": 100}], "along": "width"}
WAYS: list[tuple[str, str, dict[str, Any], dict[str, float]]] = [
    ("round-corner-on-belt", "rounded-corner", {"corners": ["top/left"], "radius": 6}, {}),
    ("chamfer-end-on-belt", "chamfer", {"edges": ["inside/left"], "size": 3}, {}),
    ("sand-curve-on-bobbin", "outline", {"edge": "top", "points": HOLLOW}, {}),
    ("drill-hole-by-mains-drill", "hole", {"face": "inside", "at": {"left": 60, "bottom": 45}, "diameter": 12}, {}),
    (
        "drill-plain-screw-holes-by-mains-drill",
        "screw-holes",
        {"face": "outside", "gauge": 8, "at": {"left": 60}, "countersunk": False},
        {},
    ),
    ("sand-opening-on-bobbin", "cut-out", {"at": {"left": 100, "top": 0}, "length": 120, "width": 40, "radius": 20}, {}),
    ("cut-mitre-on-sled", "mitre", {"end": "left", "long": "bottom"}, {}),
    ("router-plane-housing", "housing", {"face": "inside", "from": "left", "distance": 100, "width": 15, "depth": 5}, {}),
    ("router-plane-rebate", "rebate", {"edge": "inside/left", "width": 12, "depth": 5}, {}),
    ("spokeshave-chamfer", "chamfer", {"edges": ["inside/top"], "size": 6}, {}),
    ("spokeshave-round-over", "round-over", {"edges": ["inside/top"], "radius": 8}, {}),
    ("shape-thick-curve", "outline", {"edge": "top", "points": HOLLOW}, {"thick": 30, "stock": 30}),
    ("rasp-curve", "outline", {"edge": "top", "points": HOLLOW}, {}),
    ("file-rounded-corner", "rounded-corner", {"corners": ["top/left"], "radius": 20}, {}),
    ("file-end-round-over", "round-over", {"edges": ["inside/top"], "radius": 6}, {}),
    (
        "cut-biscuit-slots",
        "biscuit-slots",
        {"face": "top", "depth": 10, "at": [{"left": 90}, {"left": 300}]},
        {"thick": 18, "stock": 18},
    ),
    ("cut-biscuit-slots-in-face", "biscuit-slots", IN_FACE, {"thick": 18, "stock": 18}),
    ("saw-taper-in-jig", "taper", {"edge": "top", "from": "left", "amount": 20}, {"count": 2}),
]


@pytest.mark.parametrize(("way", "kind", "fields", "sizes"), WAYS, ids=[row[0] for row in WAYS])
def test_a_part_made_this_way_is_the_part_that_is_drawn(
    way: str, kind: str, fields: dict[str, Any], sizes: dict[str, float]
) -> None:
    drawn = board(make(kind, name="cut", **fields), length=450, **sizes)  # type: ignore[arg-type]
    drawn = replace(drawn, decisions=(Decision("rail/cut", "Head of technology", "for this check", way=way),))
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    making = carry_out(plan, drawn)
    proof = with_record(plan, making).proof
    assert proof is not None
    assert proof.held, [look for look in proof.looks if not look.held]
    step = next(step for step in plan.steps for task in step.tasks if task == "rail/cut/cut" and step.kind == "work")
    assert step.operation == next(each.operations[way].name for each in knowledge().stations.values() if way in each.operations)
    assert picture(step, Pictured(plan, drawn, making)).readable


def test_slots_in_a_broad_face_are_cut_along_a_batten_measured_from_their_end() -> None:
    drawn = board(make("biscuit-slots", name="cut", **IN_FACE), length=450, thick=18, stock=18)
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    step = next(step for step in plan.steps if "rail/cut/cut" in step.tasks and step.kind == "work")
    assert step.operation == "Cut slots for biscuits in a broad face"
    assert "square-batten" in {each.name for each in step.holding}
    # The near side of a slot of 4 mm is 98 mm from the end, and 8 mm from the sole of the base.
    assert "Cramp the batten 90 mm from the left of the part." in step.method
    said = " ".join((*step.instructions, *step.method))
    assert "Set the fence" not in said
    assert "Rest the fence" not in said


@pytest.mark.parametrize(("left", "goes"), [(39.0, False), (41.0, True)])
def test_a_batten_has_room_between_the_end_and_the_base(left: float, goes: bool) -> None:
    drawn = board(
        make("biscuit-slots", name="cut", **IN_FACE | {"at": [{"bottom": 45, "left": left}]}), length=450, thick=18, stock=18
    )
    found = [way for _, ways, _ in ways_of("rail/cut", drawn, workshop("well-equipped"), knowledge()) for way in ways]
    assert {way.operation for way in found if way.possible} == ({"cut-biscuit-slots-in-face"} if goes else set())


def slotted(fields: dict[str, Any], **sizes: float) -> tuple[Job, Plan, Task]:
    drawn = board(make("biscuit-slots", name="cut", **fields), length=450, thick=18, stock=18, **sizes)  # type: ignore[arg-type]
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    assert carry_out(plan, drawn).proof.held
    return drawn, plan, next(task for task in plan.tasks if task.id == "rail/cut/cut")


def seen(plan: Plan, drawn: Job, check: str) -> set[str]:
    return {look.says for look in carry_out(plan, drawn).proof.failures if look.check == check}


def with_batten(task: Task, value: float) -> Task:
    settings = tuple(replace(each, value=value) if each.name == "batten" else each for each in task.settings)
    return replace(task, settings=settings)


def test_a_batten_a_millimetre_off_cuts_the_slots_a_millimetre_off() -> None:
    drawn, plan, task = slotted(IN_FACE)
    assert seen(damage.with_task(plan, with_batten(task, 91.0)), drawn, "drawing")


def test_slots_in_a_broad_face_without_a_batten_are_noticed() -> None:
    drawn, plan, task = slotted(IN_FACE)
    bare = replace(task, settings=tuple(each for each in task.settings if each.name != "batten"))
    (says,) = seen(damage.with_task(plan, bare), drawn, "held")
    assert says.endswith("where no fence reaches and no batten stands: it tips")


def test_a_batten_that_hangs_over_the_end_of_the_wood_is_noticed() -> None:
    drawn, plan, task = slotted(IN_FACE)
    (says,) = seen(damage.with_task(plan, with_batten(task, 10.0)), drawn, "held")
    assert says == "the batten lies on wood over 33 % of the stretch that the base stands against"


def test_a_base_beside_which_the_wood_is_gone_is_noticed() -> None:
    housing = make("housing", name="gone", face="inside", **{"from": "left"}, distance=103, width=20, depth=6)
    drawn = board(make("biscuit-slots", name="cut", **IN_FACE), housing, length=450, thick=18, stock=18)
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    order = [task.id for task in plan.tasks]
    early = plan
    if order.index("rail/gone/cut") > order.index("rail/cut/cut"):
        early = damage.moved_before(plan, "rail/gone/cut", "rail/cut/cut")
    assert "beside a slot the base bears on wood along 33 % of it only, and tips" in seen(early, drawn, "held")
