"""Every feature kind planned in a full and in a bare workshop, by every way and with each guard missing in turn: a method whose
proof holds, or a refusal whose reasons are true. The table for reading line by line is `python -m tests.outcomes`.
"""

from __future__ import annotations

import re

import pytest

from sequencer.features.base import feature_kinds
from sequencer.model.workshop import Workshop
from sequencer.planning.limits import Obstacle
from sequencer.planning.ways import Way
from tests.made import knowledge, without_guard, workshop
from tests.outcomes import SHOPS, Case, cases, guards_asked, operations, outcome, ways, ways_of_case

FIGURES = re.compile(r" is (-?[\d.]+)[^,]*, (at least|at most|more than|less than) (-?[\d.]+)")
POWERED = ("machine", "powered-hand")

EVERY = [(case, shop) for case in cases() for shop in SHOPS]
IDS = [f"{case.name}-{shop}" for case, shop in EVERY]


@pytest.mark.parametrize(("case", "shop"), EVERY, ids=IDS)
def test_what_is_taken_is_made_on_solids_and_what_is_refused_has_no_way(case: Case, shop: str) -> None:
    found, taken = ways_of_case(case, shop), outcome(case.job, workshop(shop))
    possible = {way.operation for way in found if way.possible}
    if taken.plan:
        assert taken.held
        assert taken.way in possible
    else:
        assert not possible
        assert all(way.operation in operations() for way in found)
        assert any(error.code == "no-way" for error in taken.errors)


@pytest.mark.parametrize(("case", "shop"), EVERY, ids=IDS)
def test_every_way_that_is_called_possible_makes_the_part_when_it_is_decided(case: Case, shop: str) -> None:
    for operation in {way.operation for way in ways_of_case(case, shop) if way.possible}:
        forced = outcome(case.job, workshop(shop), operation)
        assert forced.way == operation, forced.errors
        assert forced.held, operation


@pytest.mark.parametrize(("case", "shop"), EVERY, ids=IDS)
def test_every_reason_against_a_way_is_true(case: Case, shop: str) -> None:
    for way in ways_of_case(case, shop):
        for obstacle in way.obstacles:
            assert is_true(obstacle, way, workshop(shop)), f"{way.operation}: {obstacle.what}"
            assert obstacle.remedy


@pytest.mark.parametrize(("case", "shop"), EVERY, ids=IDS)
def test_a_missing_guard_takes_away_the_ways_that_ask_for_it_and_no_others(case: Case, shop: str) -> None:
    before = {way.operation for way in ways_of_case(case, shop) if way.possible}
    for guard in guards_asked(ways_of_case(case, shop)):
        without = without_guard(workshop(shop), guard)
        asking = {
            name for name in before if guard in operations()[name].guards.all_of or operations()[name].guards.any_of == (guard,)
        }
        after = {way.operation for way in ways(case.job, without) if way.possible}
        assert before - after >= asking, guard
        assert all(guard in operations()[name].guards.any_of for name in before - after - asking), guard
        taken = outcome(case.job, without)
        if after:
            assert taken.held
            assert taken.way in after
        else:
            title = knowledge().guards[guard].name.lower()
            assert any(title in error.what and title in error.remedy for error in taken.errors), guard


def is_true(obstacle: Obstacle, way: Way, shop: Workshop) -> bool:
    """Whether what is said against a way holds, judged from the files and the figures in the sentence alone."""
    kind, operation = knowledge().stations[way.kind], operations()[way.operation]
    there = [station for station in shop.stations.values() if station.kind == way.kind]
    if obstacle.kind == "station":
        return not there and kind.name.lower() in obstacle.what
    station = next(each for each in there if each.name == way.station)
    if obstacle.kind == "limit" and (said := FIGURES.search(obstacle.what)):
        have, asked = float(said[1]), float(said[3])
        return {"at least": have < asked, "at most": have > asked, "more than": have <= asked, "less than": have >= asked}[
            said[2]
        ]
    if obstacle.kind in ("guard", "holding"):
        asked_for = operation.guards if obstacle.kind == "guard" else operation.holding
        fitted = {*station.guards, *station.holding, *(["dust-extraction"] if station.extraction else [])}
        titles = {
            name: {**knowledge().guards, **knowledge().holding}[name].name.lower()
            for name in (*asked_for.all_of, *asked_for.any_of)
        }
        named = {name for name, title in titles.items() if title in obstacle.what}
        return bool(named) and not named & fitted
    if obstacle.kind == "figure":
        return "not known" in obstacle.what
    if obstacle.kind == "who":
        return kind.power in POWERED and not any({way.kind, "all"} & {*adult.authorised} for adult in shop.adults)
    return obstacle.kind == "limit" and "The piece is" in obstacle.what


def test_every_feature_kind_is_in_the_table() -> None:
    assert {case.kind for case in cases()} == {*feature_kinds()} - ACROSS


def test_every_feature_kind_has_a_hand_way_and_where_the_trade_has_one_a_machine_way() -> None:
    """Without a machine way: joints that schools saw and chop by hand."""
    by_hand_only = set()
    for kind in feature_kinds():
        powers = {
            station.power
            for station in knowledge().stations.values()
            for each in station.operations.values()
            if kind in each.makes
        }
        assert powers & {"hand", "bench"} or kind in BY_MACHINE_ONLY, kind
        if not powers & {*POWERED}:
            by_hand_only.add(kind)
    assert by_hand_only == {*BY_HAND_ONLY}


ACROSS = {"spline-slot"}
"""What is cut in several parts that are joined is no feature of one board: `tests/planning/test_sawn_splines.py` plans it."""

BY_MACHINE_ONLY = {"biscuit-slots"}
"""A slot for a bought-in biscuit has the shape of the cutter that makes it."""

BY_HAND_ONLY = {
    "cope": "a matched cutter for each section and a carriage with cramps and cover: no guard published for an end fed past it",
    "spline-slot": "a frame carried past a blade on its corner: no guard published covers that",
    "dovetail-pins": "on the band saw they lie on a sloping block, the guide raised clear: no guard published covers that; "
    "a finger jig for the router sets sizes of its own, which no drawing can choose",
}
"""Kinds without a machine way, and why there is none. Fingers have one in sheets for the laser alone."""
