"""Turning between centres: wood for the centres at both ends, and a stick in balance, by the plan and by the proof."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.features.base import Feature
from sequencer.model.frame import Block
from sequencer.model.job import Job
from sequencer.model.marks import Spots
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.proving.making import carry_out
from sequencer.solid.centring import centre_faults, off_axis
from sequencer.solid.solids import block_solid, box
from tests.features.samples import make
from tests.made import knowledge, workshop
from tests.outside.bench import board
from tests.proving import damage

NOTCH = {"kind": "notch", "edge": "top", "from": "left", "length": 40, "depth": 30}
HOLE = {"kind": "hole", "face": "left", "diameter": 24, "depth": 40}
BRIDLE = {"kind": "bridle", "end": "left", "length": 40, "thickness": 13, "from_outside": 13}
HOUSING = {"kind": "housing", "face": "inside", "from": "left", "distance": 30, "width": 60, "depth": 15}
MORTISE = {"kind": "mortise", "face": "inside", "length": 30, "width": 10, "depth": 20, "at": {"left": 40}}
SIDE_HOLE = {"kind": "hole", "face": "inside", "diameter": 10, "at": {"left": 100, "bottom": 20}}
ENDS = pytest.mark.parametrize("cut", [NOTCH, HOLE, BRIDLE], ids=lambda cut: cut["kind"])
"""Cuts that leave a centre without its wood."""


def stick(cut: dict[str, Any], round_: Feature) -> Job:
    """A square stick of beech, cut and made round."""
    return board(made(cut), round_, length=300, width=40, thick=40, stock=40, material="European beech", hardness="hardwood")


def made(cut: dict[str, Any]) -> Feature:
    return make(cut["kind"], name="cut", **{name: value for name, value in cut.items() if name != "kind"})


def leg(cut: dict[str, Any]) -> Job:
    """Half of it stays square."""
    return stick(
        cut, make("turned-profile", name="round", stations=[{"left": 170, "diameter": 34}, {"left": 300, "diameter": 28}])
    )


def turning(drawn: Job) -> Way:
    (_, ways, _), *_ = ways_of("rail/round", drawn, workshop("well-equipped"), knowledge())
    return next(way for way in ways if way.kind == "lathe")


def planned(drawn: Job) -> Plan:
    return make_plan(drawn, workshop("well-equipped"), knowledge())


def looks(plan: Plan, drawn: Job) -> set[str]:
    return {look.check for look in carry_out(plan, drawn).proof.failures}


@ENDS
def test_a_stick_round_all_along_is_not_turned_once_a_centre_has_no_wood(cut: dict[str, Any]) -> None:
    drawn = stick(cut, make("rounding", name="round"))
    (obstacle,) = turning(drawn).obstacles
    assert obstacle.kind == "holding"
    assert "at the left end, 16 mm across and 10 mm deep" in obstacle.what
    assert "the cut is cut first" in obstacle.what
    assert obstacle.remedy.startswith("Make it round by hand")
    plan = planned(drawn)
    assert not {task.station_kind for task in plan.tasks if task.part == "rail"} & {"lathe"}
    assert not looks(plan, drawn)


@pytest.mark.parametrize("cut", [NOTCH, BRIDLE, HOUSING], ids=lambda cut: cut["kind"])
def test_what_the_centres_or_the_balance_need_is_cut_after_turning_where_half_stays_square(cut: dict[str, Any]) -> None:
    drawn = leg(cut)
    plan = planned(drawn)
    order = [task.id for task in plan.tasks]
    assert order.index("rail/round/cut") < order.index("rail/cut/cut")
    (reason,) = [each for each in plan.reasons if (each.before, each.after) == ("rail/round/cut", "rail/cut/cut")]
    assert reason.kind == "support"
    assert reason.sentence == "The round is turned first: the cut takes away wood that the centres or the balance need."
    assert not looks(plan, drawn)
    # The cards still print the sound order; nothing but this check sees why it matters.
    assert looks(damage.moved_before(plan, "rail/cut/cut", "rail/round/cut"), drawn) == {"centred", "order"}


def test_a_cut_that_the_centres_do_not_mind_comes_before_turning_as_ever() -> None:
    drawn = leg(MORTISE)
    order = [task.id for task in planned(drawn).tasks]
    assert order.index("rail/cut/cut") < order.index("rail/round/cut")


def test_a_stick_with_a_side_cut_away_is_not_turned() -> None:
    drawn = stick({**HOUSING, "distance": 40, "width": 80}, make("rounding", name="round"))
    (obstacle,) = turning(drawn).obstacles
    assert "off the line between the centres, and 0.8 mm is the most" in obstacle.what


@pytest.mark.parametrize("depth", [{}, {"depth": 15}], ids=["through", "blind"])
@pytest.mark.parametrize("kind", ["hole", "mortise", "housing"])
def test_nothing_is_turned_over_a_gap_in_its_side(kind: str, depth: dict[str, float]) -> None:
    cut = {"hole": {**SIDE_HOLE, **depth}, "mortise": {**MORTISE, **depth}, "housing": {**HOUSING, "width": 10, "depth": 3}}[kind]
    drawn = stick(cut, make("rounding", name="round"))
    (obstacle,) = turning(drawn).obstacles
    assert obstacle.kind == "holding"
    assert "the length that is turned has a gap in its surface" in obstacle.what
    assert "on which the tool catches: the cut is cut first" in obstacle.what
    assert "draw those cuts clear of the turned length" in obstacle.remedy
    # By hand a plane may run over it.
    plan = planned(drawn)
    assert "lathe" not in {task.station_kind for task in plan.tasks if task.part == "rail"}
    assert not looks(plan, drawn)


def test_a_cut_that_turning_takes_away_again_catches_nothing() -> None:
    shallow = {**HOUSING, "width": 10, "depth": 3}
    thin = make("turned-profile", name="round", stations=[{"left": 0, "diameter": 32}, {"left": 300, "diameter": 32}])
    assert not turning(stick(shallow, thin)).obstacles


def test_a_hole_bored_where_the_stick_is_turned_after_is_noticed() -> None:
    drawn = leg(SIDE_HOLE)
    plan = planned(drawn)
    order = [task.id for task in plan.tasks]
    assert order.index("rail/cut/cut") < order.index("rail/round/cut")
    assert not looks(plan, drawn)
    (task,) = (task for task in plan.tasks if task.id == "rail/cut/cut")
    (layout,) = task.layouts
    assert isinstance(layout.marks, Spots)
    marks = replace(layout.marks, places=((("left", 220.0), ("bottom", 20.0)),))
    wrong = damage.with_task(plan, replace(task, layouts=(replace(layout, marks=marks),)))
    says = {look.says for look in carry_out(wrong, drawn).proof.failures if look.check == "centred"}
    assert says == {
        "the length that is turned has a gap in its surface, 45 to 55 mm from where it begins, on which the tool catches"
    }


def test_a_station_whose_card_leaves_a_figure_of_its_centres_out_is_noticed() -> None:
    drawn = leg(MORTISE)
    plan = planned(drawn)
    (name,) = [task.station for task in plan.tasks if task.id == "rail/round/cut"]
    assert not looks(plan, drawn)
    for figure in ("centre-bite", "centre-depth", "off-balance"):
        cards = tuple(
            replace(card, figures={each: value for each, value in card.figures.items() if each != figure})
            if card.station == name
            else card
            for card in plan.stations
        )
        assert looks(replace(plan, stations=cards), drawn) == {"centred"}, figure


def test_the_middle_of_the_weight_is_that_of_plain_geometry() -> None:
    whole = block_solid(Block(300, 40, 40))
    # Half the length and half the width away: of the left half, 150 x 20 x 40 stay, their middle 10 mm off.
    assert off_axis(whole, "x") == pytest.approx(0)
    assert off_axis(whole - box((0, 20, 0), (150, 40, 40)), "x") == pytest.approx(10)
    # Two such cuts on opposite sides, one in each half, balance each other at rest and not when it turns.
    both = whole - box((0, 20, 0), (150, 40, 40)) - box((150, 0, 0), (300, 20, 40))
    assert both.centroid.y == pytest.approx(20)
    assert off_axis(both, "x") == pytest.approx(10)


def test_wood_under_both_centres_is_looked_at() -> None:
    whole = block_solid(Block(300, 40, 40))
    assert not list(centre_faults(whole, "x", 16, 10, 0.02))
    for low in (0, 280):
        (fault, *_) = centre_faults(whole - box((low, 12, 12), (low + 20, 28, 28)), "x", 16, 10, 0.02)
        assert fault.endswith("10 mm deep, 0 % is there")
        assert ("left" if low == 0 else "right") in fault
