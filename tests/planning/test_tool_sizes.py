"""Sizes of tools at hand: what needs another size is not done there, what is not listed is laid out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest

from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop
from sequencer.planning.limits import Obstacle
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from tests.made import job, knowledge, plan, workshop

GROOVE = "side/floor-groove"


def with_sizes(sizes: Mapping[str, Mapping[str, tuple[float, ...]]], shop: str = "full") -> Workshop:
    """The workshop with sizes listed, by kind of station."""
    school = workshop(shop)
    return replace(
        school,
        stations={name: replace(each, sizes=sizes.get(each.kind, {})) for name, each in school.stations.items()},
    )


def way(operation: str, school: Workshop, about: str = GROOVE) -> Way:
    """One way of a work of the herb caddy, possible or not."""
    return next(
        each
        for _, ways, _ in ways_of(about, job("herb-caddy"), school, knowledge())
        for each in ways
        if each.operation == operation and not each.in_the_long
    )


@cache
def width() -> float:
    return (
        job("herb-caddy").parts["side"].features["floor-groove"].figures(job("herb-caddy").parts["side"].block)["feature.width"]
    )


def test_a_size_that_is_not_at_hand_is_an_obstacle_with_the_nearest_two() -> None:
    wide = f"{width():g}"
    school = with_sizes({"ploughing": {"plough-irons": (3.0, width() - 2, width() + 2, 12.0)}})
    below, above = f"{width() - 2:g}", f"{width() + 2:g}"
    found = way("plough-groove", school)
    assert found.obstacles == (
        Obstacle(
            "size",
            f"There is no plough iron of {wide} mm at ploughing: {below} and {above} mm are the nearest.",
            f"Get one and name it under `sizes` of ploughing, or draw it for {below} or {above} mm.",
            2.0,
        ),
    )
    assert found.settings == ()


def test_only_a_larger_one_is_named_where_all_are_larger() -> None:
    school = with_sizes({"ploughing": {"plough-irons": (width() + 4,)}})
    (obstacle, *_) = (each for each in way("plough-groove", school).obstacles if each.kind == "size")
    assert f": {width() + 4:g} mm is the nearest." in obstacle.what


@pytest.mark.parametrize(("off", "possible"), [(0.0, True), (0.2, True), (-0.2, True), (0.3, False), (-0.3, False)])
def test_a_size_may_be_off_by_what_the_list_allows(off: float, possible: bool) -> None:
    assert knowledge().tool_sizes["plough-irons"].within == 0.2
    school = with_sizes({"ploughing": {"plough-irons": (3.0, width() + off)}})
    assert way("plough-groove", school).possible is possible


def test_what_the_way_out_would_have_been_is_said() -> None:
    hand = plan("herb-caddy", "hand-tools")
    assert any(task.operation == "plough-groove" for task in hand.tasks)
    school = with_sizes({"ploughing": {"plough-irons": (3.0, width() + 4)}})
    there = make_plan(job("herb-caddy"), school, knowledge())
    assert not any(task.operation == "plough-groove" for task in there.tasks)
    assert any(finding.code == "way-out" and "no plough iron of" in finding.what for finding in there.findings)


def tools(plan: Plan) -> set[str]:
    return {thing.name for thing in plan.tools}


def test_a_size_nobody_lists_is_laid_out() -> None:
    assert f"plough iron, {width():g} mm" in tools(plan("herb-caddy", "hand-tools"))


def test_the_size_that_is_at_hand_is_laid_out() -> None:
    school = with_sizes({"ploughing": {"plough-irons": (width() - 0.2, width() + 0.1)}}, "hand-tools")
    found = tools(make_plan(job("herb-caddy"), school, knowledge()))
    assert f"plough iron, {width() + 0.1:g} mm" in found
    assert not any(name.startswith("plough iron, ") and name != f"plough iron, {width() + 0.1:g} mm" for name in found)


def test_a_kind_of_bit_counts_before_bits_of_every_kind() -> None:
    about, diameter = next(
        (f"{part.name}/{name}", feature.figures(part.block)["feature.diameter"])
        for part in job("nest-box").parts.values()
        for name, feature in part.features.items()
        if feature.kind == "hole"
    )

    def possible(sizes: Mapping[str, tuple[float, ...]]) -> bool:
        found = ways_of(about, job("nest-box"), with_sizes({"pillar-drill": sizes}), knowledge())
        drilled = [each for _, ways, _ in found for each in ways if each.kind == "pillar-drill" and each.meant]
        assert drilled
        return any(each.possible for each in drilled)

    kinds = ("lip-and-spur", "forstner", "drill-countersink", "twist")
    assert possible({"bits": (diameter,)})
    assert not possible({"bits": (diameter + 1,)})
    assert possible({"bits": (diameter + 1,), **dict.fromkeys(kinds, (diameter,))})
    assert not possible({"bits": (diameter,), **dict.fromkeys(kinds, (diameter + 1,))})


def test_a_wider_cutter_does_for_a_rebate_and_not_for_a_groove() -> None:
    fits = {
        name: operation.tool_sizes[0].fits
        for name, operation in knowledge().stations["router-table"].operations.items()
        if operation.tool_sizes
    }
    assert fits["rout-groove"] == "same"
    assert fits["rout-rebate"] == fits["rout-tongue"] == "or-larger"
    assert fits["rout-dovetail-housing"] == "or-smaller"


def test_the_smallest_chisel_listed_is_the_narrowest_there() -> None:
    school = with_sizes({"chiselling": {"chisels": (12.0, 18.0)}})
    found = way("plough-groove", school).figures["station.cutter-width"]
    assert found != 12.0
    ways = [each for _, all_ways, _ in ways_of(GROOVE, job("herb-caddy"), school, knowledge()) for each in all_ways]
    chiselled = [each for each in ways if each.kind == "chiselling"]
    assert chiselled
    assert {each.figures["station.cutter-width"] for each in chiselled} == {12.0}


def test_sizes_of_what_nothing_asks_for_are_a_warning() -> None:
    plan = make_plan(job("herb-caddy"), with_sizes({"ploughing": {"spoons": (6.0,)}}), knowledge())
    (found,) = (finding for finding in plan.findings if finding.code == "unknown-sizes")
    assert found.what == "ploughing lists sizes of spoons, which nothing there asks for."
    assert found.remedy == "Sizes asked for at this kind of station: plough-irons."


def test_no_more_is_laid_out_than_the_workshop_counts() -> None:
    """Six mitre shooting boards serve the mitres and the dry fit, at which twelve students could stand."""
    planned, school = plan("picture-frame", "well-equipped"), workshop("well-equipped")
    (board,) = [tool for tool in planned.tools if tool.name == "mitre shooting board"]
    assert board.total == school.counted["mitre-shooting-board"].count
    assert board.shared
