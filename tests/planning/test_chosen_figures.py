"""A figure that no plate states and the school chooses: a looser one needs who decided it and why, and is printed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.findings import Refused
from sequencer.knowledge.figure_changes import BY_LIMITS, figure_looser
from sequencer.model.plan import Plan
from sequencer.model.record import DecisionLine
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop


def planned(figures: dict[str, float], **decided: Any) -> Plan:
    """The herb caddy in a workshop whose lathe states some figures."""
    school = workshop("well-equipped")
    lathe = replace(school.stations["lathe"], figures=figures, **decided)
    return make_plan(job("herb-caddy"), replace(school, stations={**school.stations, "lathe": lathe}), knowledge())


def own(plan: Plan) -> list[DecisionLine]:
    return [line for line in plan.decisions if line.about.startswith("lathe")]


@pytest.mark.parametrize("decided", [{}, {"by": "Head of technology"}, {"why": "heavy bed"}])
@pytest.mark.parametrize(("figure", "value", "shipped"), [("off-balance", 0.05, "0.02"), ("slenderness", 20, "15")])
def test_a_looser_figure_without_who_or_why_is_refused(figure: str, value: float, shipped: str, decided: dict[str, str]) -> None:
    with pytest.raises(Refused) as refused:
        planned({figure: value}, **decided)
    (error,) = [each for each in refused.value.findings if each.level == "error"]
    assert (error.code, error.subject) == ("unnamed-loosening", "lathe")
    assert f"{figure} {value:g} instead of {shipped}" in error.what
    assert error.remedy == f"Add `by` (a role) and `why` to the station, or write {shipped} or stricter."


def test_one_that_somebody_answers_for_is_printed_with_who_and_why() -> None:
    plan = planned({"off-balance": 0.05}, by="Head of technology", why="our lathe is bolted down")
    (line,) = own(plan)
    assert (line.about, line.by, line.why) == ("lathe, off-balance", "Head of technology", "our lathe is bolted down")
    assert line.text.startswith("off-balance 0.05 instead of 0.02, how far the middle of its weight")
    (note,) = [each for each in plan.findings if each.code == "loosened-figure"]
    assert note.level == "note"


@pytest.mark.parametrize("figures", [{"off-balance": 0.02}, {"off-balance": 0.01, "slenderness": 10}, {"swing": 400}])
def test_as_strict_a_figure_or_one_of_the_plate_needs_nobody(figures: dict[str, float]) -> None:
    assert own(planned(figures)) == []


# What a plate, a maker or a rule settles, wherever a station has a figure of that name.
MEASURED = {
    "batten-width", "blade-radius", "centre-bite", "coldest", "cutter-diameter", "cutter-width", "dovetail-cutter", "fence-reach",
    "kerf", "pad", "run-out", "smallest-radius", "sole", "swing", "throat", "vice-opening",
}  # fmt: skip
# Names of which some stations measure the figure and others choose it; here those that measure it: a spindle's travel, a blade's
# height, the room in front of a machine, the length of a saw.
MEASURED_THERE = {
    "deepest": {
        "chiselling", "hand-held-router", "hand-sawing", "hollow-chisel-mortiser", "mitre-saw", "pillar-drill",
        "portable-circular-saw", "pull-over-saw", "router-table", "saw-bench", "slot-cutting",
    },
    "largest-diameter": {"hand-boring", "hand-held-router", "pillar-drill", "router-table", "slot-cutting"},
    "longest": {
        "band-saw", "gluing", "jigsaw", "laser-cutter", "lathe", "mitre-saw", "portable-circular-saw", "pull-over-saw",
        "router-table", "saw-bench", "spindle-moulder", "surface-planer", "thicknesser",
    },
    "thickest": {
        "band-saw", "hand-planing", "hollow-chisel-mortiser", "laser-cutter", "pillar-drill", "scroll-saw", "thicknesser",
    },
    "widest": {
        "belt-sander", "chiselling", "disc-sander", "hand-sawing", "laser-cutter", "mitre-saw", "pull-over-saw",
        "router-plane-and-spokeshave", "saw-bench", "surface-planer", "thicknesser",
    },
}  # fmt: skip
NAILED = ("mitre-pins", "mitre-pin-in", "mitre-pin-edge", "nail-in")
LEAST_OF_A_PIECE = ("shortest", "narrowest", "thinnest", "least-remnant", "board-rest", "base-rim", "centre-depth")
FIGURES = [(kind.station, name, each) for kind in knowledge().stations.values() for name, each in kind.figures.items()]


def test_the_least_of_a_piece_is_everywhere_the_school_s_choice_and_the_larger_the_stricter() -> None:
    least = {(station, name): each for station, name, each in FIGURES if name in LEAST_OF_A_PIECE}
    assert {name for _, name in least} == set(LEAST_OF_A_PIECE)
    assert [at for at, each in least.items() if each.chosen != "higher" or each.default is None] == []


def test_a_cautious_figure_that_no_plate_settles_is_the_school_s_choice() -> None:
    """A new one is marked `chosen`, or named above as one that can be read or measured."""
    unsettled = [
        (station, name)
        for station, name, each in FIGURES
        if each.source.lower().startswith(("common practice", "from memory", "plain geometry"))
        and each.default is not None
        and not each.chosen
        and name not in MEASURED
        and station not in MEASURED_THERE.get(name, ())
    ]
    assert unsettled == []


def test_what_is_chosen_is_not_among_what_is_measured() -> None:
    chosen = {(station, name) for station, name, each in FIGURES if each.chosen}
    assert {at for at in chosen if at[1] in MEASURED or at[0] in MEASURED_THERE.get(at[1], ())} == set()
    assert {name for _, name in chosen} - set(LEAST_OF_A_PIECE) == {
        *MEASURED_THERE,
        *NAILED,
        "gripped",
        "off-balance",
        "slenderness",
    }


def test_chosen_is_the_way_in_which_the_limits_of_the_station_are_stricter() -> None:
    """A figure turned round would let a workshop file loosen it unsaid: the limits that use it say which way they leave less."""
    for station, name, each in FIGURES:
        kind = knowledge().stations[station]
        # What an operation applies to only says which of two ways it is.
        limits_only = {key: replace(operation, applies=()) for key, operation in kind.operations.items()}
        if each.chosen and each.default is not None and name in BY_LIMITS:
            stricter = each.default + 1 if each.chosen == "higher" else each.default - 1
            said = figure_looser(replace(kind, operations=limits_only), name, each, replace(each, default=stricter))
            assert list(said) in ([], ["machines are set by it"], ["which way is stricter is not known"]), (station, name)


@pytest.mark.parametrize(("station", "figure", "value"), [("pillar-drill", "shortest", 5), ("mitre-saw", "least-remnant", 1)])
def test_a_workshop_file_may_not_undercut_the_least_of_a_piece_unsaid(station: str, figure: str, value: float) -> None:
    school = workshop()
    undercut = replace(school.stations[station], figures={**school.stations[station].figures, figure: value})
    with pytest.raises(Refused) as refused:
        make_plan(job("herb-caddy"), replace(school, stations={**school.stations, station: undercut}), knowledge())
    (error,) = [each for each in refused.value.findings if each.level == "error"]
    assert (error.code, error.subject) == ("unnamed-loosening", station)
    assert f"{figure} {value:g} instead of" in error.what
