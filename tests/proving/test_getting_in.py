"""Whether a tool gets into its cut at all: the proof looks at the wood round it, whatever was asked of the way before."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.features.dovetail_pins import DovetailPins
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.proof import Looked
from sequencer.proving.making import carry_out
from tests.features.samples import make
from tests.made import knowledge
from tests.outside.bench import board
from tests.proving import damage
from tests.proving.forced import forced

CLOSED = {"left": 40, "right": 40}
ALL_OPERATIONS = {name: each for kind in knowledge().stations.values() for name, each in kind.operations.items()}


def by(plan: Plan, cut: str, operation: str) -> Plan:
    """The plan with one cut made by the tool of another operation, as if nothing had been asked of it before."""
    task = next(each for each in plan.tasks if each.id == cut)
    return damage.with_task(plan, replace(task, operation=operation, way_in=ALL_OPERATIONS[operation].way_in))


def failures(plan: Plan, drawn: Job) -> list[str]:
    return [each.says for each in carry_out(plan, drawn).proof.failures]


def on_the_way_in(plan: Plan, drawn: Job, cut: str) -> list[Looked]:
    proof = carry_out(plan, drawn).proof
    return [look for each in proof.tasks if each.task == cut for look in each.looked if look.check == "approach"]


def a_groove(**stops: Any) -> Job:
    return board(
        make("groove", name="slit", face="inside", distance=20, width=6, depth=5, from_="bottom", stops=stops), length=300
    )


@pytest.mark.parametrize("operation", ["plough-groove", "groove-on-saw", "rout-groove"])
def test_a_groove_closed_at_both_ends_lets_no_straight_tool_in(operation: str) -> None:
    drawn, plan, task = forced("hand-rout-stopped-groove", "rail/slit", a_groove(**CLOSED))
    says = "it is closed at both ends: 40 and 40 mm of wood stand before it, and the tool must run in and out there"
    assert failures(by(plan, task.id, operation), drawn) == [says]


def test_one_closed_end_is_enough() -> None:
    drawn, plan, task = forced("hand-rout-stopped-groove", "rail/slit", a_groove(right=40))
    says = "it is closed at one end: 40 mm of wood stand before it, and the tool must run in and out there"
    assert failures(by(plan, task.id, "plough-groove"), drawn) == [says]


def test_a_groove_that_is_open_at_both_ends_lets_them_in() -> None:
    drawn, plan, task = forced("plough-groove", "rail/slit", a_groove())
    assert on_the_way_in(plan, drawn, task.id) == [Looked("approach", True, "the tool runs in at one end and out at the other")]


def test_a_housing_that_reaches_no_edge_is_not_sawn_across() -> None:
    housing = make(
        "housing", name="slit", face="inside", from_="left", distance=120, width=12, depth=5, stops={"bottom": 20, "top": 20}
    )
    drawn, plan, task = forced("chisel-stopped-housing", "rail/slit", board(housing, length=300))
    (says,) = failures(by(plan, task.id, "saw-and-chisel-housing"), drawn)
    assert says.startswith("it is closed at both ends: 20 and 20 mm of wood stand before it")


def test_a_saw_kerf_inside_the_wood_is_noticed_on_a_sound_plan() -> None:
    """A line stopped by mistake after planning: the blade is as long as its cut and more."""
    edge = make("notch", name="slit", edge="top", from_="left", distance=120, length=15, depth=20)
    drawn, plan, task = forced("saw-and-chisel-notch", "rail/slit", board(edge, length=300))
    held = Looked("approach", True, "the blade goes right through, its two ends free")
    assert held in on_the_way_in(plan, drawn, task.id)
    (layout,) = task.layouts
    stopped = replace(layout, marks=replace(layout.marks, stops=(("outside", 4.0), ("inside", 4.0))))
    says = failures(damage.with_task(plan, replace(task, layouts=(stopped,))), drawn)
    assert "it is closed at both ends: 4 and 4 mm of wood stand before it, and a blade is as long as its cut and more" in says


def a_slot(left: float, *more: Any) -> Job:
    return board(
        make("slot", name="slit", face="inside", length=60, width=10, at={"left": left, "bottom": 40}), *more, length=300
    )


def test_a_slot_with_wood_all_round_lets_no_saw_in_from_an_edge() -> None:
    drawn, plan, task = forced("chisel-slot-square-ends", "rail/slit", a_slot(120))
    says = "there is wood all round an opening of 60 x 10 mm: no blade comes in from an edge"
    assert failures(by(plan, task.id, "saw-open-slot"), drawn) == [says]


def test_a_slot_that_an_earlier_cut_has_opened_lets_the_saw_in() -> None:
    """What counts is the wood that is there: a notch in the end reaches the slot."""
    notch = make("cut-out", name="mouth", face="inside", length=50, width=30, at={"left": 0, "bottom": 30})
    drawn, plan, task = forced("chisel-slot-square-ends", "rail/slit", a_slot(40, notch))
    opened = damage.moved_before(plan, "rail/mouth/cut", task.id)
    assert on_the_way_in(by(opened, task.id, "saw-open-slot"), drawn, task.id) == [
        Looked("approach", True, "the blade comes in from an edge")
    ]
    shut = damage.moved_before(by(plan, task.id, "saw-open-slot"), task.id, "rail/mouth/cut")
    assert any(says.startswith("there is wood all round an opening of 60 x 10 mm") for says in failures(shut, drawn))


def test_only_what_is_let_down_or_bores_its_own_hole_starts_inside_the_wood() -> None:
    own = {name for name, each in ALL_OPERATIONS.items() if each.cut == "saw-to-line" and each.way_in == "anywhere"}
    assert own == {"saw-opening-by-jigsaw", "saw-large-hole", "saw-cut-out-with-pad-saw"}
    for name in own:
        assert any("hole" in sentence.split() for sentence in ALL_OPERATIONS[name].instructions.cut), name
    # A cutter that is not let down into the wood runs in at the end.
    plunged = {name for name, each in ALL_OPERATIONS.items() if each.cut == "rout" and each.way_in == "anywhere"}
    assert all(name.startswith(("hand-rout-", "cut-biscuit-slots", "cut-loose-tenon")) for name in plunged)


def test_sockets_between_pins_are_sawn_in_from_their_end_where_they_go_through() -> None:
    pins = DovetailPins(name="slit", end="left", length=15, tails=3, pin=6, slope=6)
    drawn, plan, task = forced("saw-and-chop-pins", "rail/slit", board(pins, length=300))
    says = "the blade goes right through from face to face and comes in from an end"
    assert on_the_way_in(plan, drawn, task.id) == [Looked("approach", True, says)]


def test_sockets_with_a_lap_in_front_are_not() -> None:
    pins = DovetailPins(name="slit", end="left", length=15, depth=10, tails=3, pin=6, slope=6)
    drawn, plan, task = forced("chop-lapped-pins", "rail/slit", board(pins, length=300))
    assert on_the_way_in(plan, drawn, task.id) == []
    (says,) = failures(by(plan, task.id, "saw-and-chop-pins"), drawn)
    assert says == "it is closed at one end: 285 mm of wood stand before it, and a blade is as long as its cut and more"
