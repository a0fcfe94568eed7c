"""Ear protection at every kind of station whose level, measured or assumed, reaches what the region acts on, or is not known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.asking.answers import answer
from sequencer.model.plan import Plan
from sequencer.model.workshop import Station, Workshop
from sequencer.planning.loudness import EAR_PROTECTION, acted_on_from, is_loud, level_at, strictest_action
from sequencer.planning.planner import make_plan
from sequencer.planning.shop import Premises
from tests.made import job, knowledge, plan, workshop

KINDS = sorted(knowledge().stations)
POWERED = [name for name in KINDS if knowledge().stations[name].power in ("machine", "powered-hand")]


def in_region(name: str, **limits: float) -> Premises:
    return Premises(replace(workshop(), region=name, limits=limits), knowledge())


@pytest.mark.parametrize("name", KINDS)
def test_a_level_measured_at_any_kind_of_station_decides_from_the_figure_itself_on(name: str) -> None:
    kind, acted_on = knowledge().stations[name], acted_on_from(in_region("GB"))
    assert not is_loud(kind, Station("one", name, noise=acted_on - 0.1), acted_on)
    assert is_loud(kind, Station("one", name, noise=acted_on), acted_on)


@pytest.mark.parametrize("name", KINDS)
def test_where_nothing_is_measured_the_files_level_counts_and_no_level_is_loud(name: str) -> None:
    kind = knowledge().stations[name]
    unmeasured = is_loud(kind, Station("one", name), 80.0)
    if kind.noise is None:
        assert unmeasured is (name in POWERED)
    elif kind.noise.default is None:
        assert unmeasured
    else:
        assert level_at(kind, Station("one", name)) == kind.noise.default
        assert unmeasured is (kind.noise.default >= 80.0)


@pytest.mark.parametrize("name", KINDS)
def test_a_file_that_states_a_loud_level_says_ear_protection_and_the_hazard(name: str) -> None:
    """Also for those who read the file by itself: the sanders stated 97 dB(A) and nothing to wear."""
    kind = knowledge().stations[name]
    level = level_at(kind)
    if level is not None and level >= strictest_action(knowledge()):
        assert EAR_PROTECTION in kind.wear
        assert "noise" in kind.hazards


# 80 dB(A): Control of Noise at Work Regulations 2005, lower action value; Directive 2003/10/EC. 85 dB(A): 29 CFR 1910.95, half
# of the dose; model WHS Regulations of Australia, which have no action value under their limit. As in lists/limits.yaml.
@pytest.mark.parametrize(
    ("region", "acted_on"), [("GB", 80), ("EU", 80), ("US", 85), ("AU", 85), ("generic", 80), ("no such place", 80)]
)
def test_the_regions_lowest_figure_counts_and_the_strictest_where_there_is_none(region: str, acted_on: float) -> None:
    assert acted_on_from(in_region(region)) == acted_on


def test_a_schools_own_stricter_figure_counts() -> None:
    assert acted_on_from(in_region("GB", **{"noise-action": 75.0})) == 75.0


def unmeasured(shop: Workshop) -> Workshop:
    return replace(shop, stations={name: replace(each, noise=None) for name, each in shop.stations.items()})


def worn(plan: Plan) -> dict[str, set[bool]]:
    """Of each kind of powered station in a plan whether ear protection is worn in its steps and on its card."""
    found: dict[str, set[bool]] = {}
    for step in plan.steps:
        if step.station_kind in POWERED:
            found.setdefault(step.station_kind, set()).add(EAR_PROTECTION in {each.name for each in step.wear})
            assert "noise" in {each.name for each in step.hazards} or step.kind != "work"
    for card in plan.stations:
        if card.kind in POWERED:
            found[card.kind].add(EAR_PROTECTION in {each.name for each in card.wear})
    return found


def test_a_plan_with_nothing_measured_has_ear_protection_at_every_powered_station() -> None:
    there = worn(make_plan(job("herb-caddy"), unmeasured(workshop()), knowledge()))
    assert {"pillar-drill", "scroll-saw"} <= set(there)
    assert set(map(frozenset, there.values())) == {frozenset({True})}


def test_a_machine_measured_quiet_needs_none() -> None:
    made = plan("herb-caddy")
    quiet = {step.station_kind for step in made.steps if (workshop().stations[step.station].noise or 99) < 80} & set(POWERED)
    assert quiet
    for step in made.steps:
        if step.station_kind in quiet:
            assert EAR_PROTECTION not in {each.name for each in step.wear}


@pytest.mark.parametrize(
    ("asked", "shop", "said"), [("pillar-drill", None, True), ("disc-sander", "full", True), ("pillar-drill", "full", False)]
)
def test_the_answer_about_a_station_says_so_too(asked: str, shop: str | None, said: bool) -> None:
    text = answer(asked, knowledge(), workshop(shop) if shop else None)
    wear = " ".join(text.split()).partition(" wear: ")[2].partition(" hazards: ")[0]
    assert "eye protection" in wear
    assert ("ear protection" in wear) is said
