"""What a region asks, held against the school's own policy and own limits."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from sequencer.findings import Finding, Refused
from sequencer.knowledge.regions import held, region_named
from sequencer.model.workshop import Rule, Workshop
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.region import region_findings
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from tests.made import job, knowledge, workshop

BEFORE, AFTER = date(2026, 11, 30), date(2026, 12, 1)


def found(day: date | None = AFTER, **changed: Any) -> tuple[Finding, ...]:
    return region_findings(Shop(job=job("herb-caddy"), workshop=replace(workshop(), **changed), knowledge=knowledge()), day)


def test_the_shipped_workshops_ask_no_less_than_any_region() -> None:
    for region in knowledge().regions:
        assert found(region=region) == ()


@pytest.mark.parametrize(("region", "day"), [("atlantis", AFTER), ("australia", date(2019, 1, 1))])
def test_what_is_not_known_is_refused(region: str, day: date) -> None:
    school = replace(workshop(), region=region, limits={"noise-limit": 80.0})
    with pytest.raises(Refused) as refused:
        make_plan(job("herb-caddy"), school, knowledge(), day=day)
    assert {each.code for each in refused.value.findings if each.level == "error"} <= {"unknown-region", "unknown-day"}


def loosened(gate: Any, about: str = "saw-bench") -> tuple[Rule, ...]:
    return (Rule(about, operator="student", supervision="watching", gate=gate, by="Head", why="we always did"),)


@pytest.mark.parametrize("region", ["australia", "united-kingdom", "generic"])
def test_a_policy_looser_than_the_region_s_floor_is_an_error_also_with_who_and_why(region: str) -> None:
    errors = found(region=region, rules=loosened("instructed"))
    assert errors
    assert {(each.level, each.code) for each in errors} == {("error", "looser-than-region")}
    assert "gate instructed instead of signed-off" in errors[0].what
    with pytest.raises(Refused):
        make_plan(job("herb-caddy"), replace(workshop(), region=region, rules=loosened("instructed")), knowledge(), day=AFTER)


def test_a_policy_that_meets_the_floor_is_none() -> None:
    assert found(region="australia", rules=loosened("signed-off")) == ()


def test_what_staff_alone_operate_needs_no_student_s_gate() -> None:
    assert (
        found(region="australia", rules=(Rule("saw-bench", operator="staff", gate="none", by="Head", why="no students"),)) == ()
    )


def test_the_floor_of_one_machine_is_not_another_s() -> None:
    assert found(region="united-kingdom", rules=loosened("instructed", "band-saw")) == ()
    assert found(region="australia", rules=loosened("instructed", "band-saw"))


@pytest.mark.parametrize("region", list(knowledge().regions))
@pytest.mark.parametrize("day", [BEFORE, AFTER, None], ids=str)
def test_an_own_limit_is_taken_when_as_strict_and_refused_when_looser(region: str, day: date | None) -> None:
    where = region_named(region, knowledge())
    for each in held(where, knowledge(), day):
        step = 0.01 if each.measure.stricter == "lower" else -0.01
        for own, looser in ((each.limit.value + step, True), (each.limit.value, False), (each.limit.value - step, False)):
            errors = found(day, region=region, limits={each.about: own})
            assert [error.code for error in errors] == (["looser-than-region"] if looser else []), (each.about, own)


def test_the_day_decides_whether_an_own_limit_is_loose() -> None:
    assert found(BEFORE, region="australia", limits={"dust-softwood": 2.0}) == ()
    assert [each.code for each in found(AFTER, region="australia", limits={"dust-softwood": 2.0})] == ["looser-than-region"]


def test_an_own_limit_about_nothing_is_an_error() -> None:
    (error,) = found(limits={"noise-limits": 80.0})
    assert (error.level, error.code) == ("error", "unknown-measure")
    assert "noise-limit" in error.remedy


def test_the_workshop_is_not_changed_by_its_region() -> None:
    one, other = replace(workshop(), region="australia"), replace(workshop(), region="GB")
    assert isinstance(one, Workshop)
    who = [[step.who for step in make_plan(job("herb-caddy"), each, knowledge(), day=AFTER).steps] for each in (one, other)]
    assert who[0] == who[1]


def rip_to_width(region: str, guards: tuple[str, ...]) -> Way:
    """The way of ripping the caddy's divider to width at a saw bench with these guards."""
    saw = workshop().stations["saw-bench"]
    school = replace(workshop(), region=region, stations={**workshop().stations, "saw-bench": replace(saw, guards=guards)})
    found = [way for _, ways, _ in ways_of("divider/width/cut", job("herb-caddy"), school, knowledge()) for way in ways]
    return next(way for way in found if way.kind == "saw-bench" and way.operation == "rip-on-saw")


USUAL = ("crown-guard", "riving-knife", "push-stick")


@pytest.mark.parametrize("region", ["united-kingdom", "UK", "australia", "new-zealand", "european-union"])
def test_a_guard_that_one_law_asks_for_is_not_missed_elsewhere(region: str) -> None:
    assert not [each for each in rip_to_width(region, USUAL).obstacles if each.kind == "guard"]


@pytest.mark.parametrize("region", ["united-states", "generic"])
def test_it_is_missed_where_that_law_counts_and_where_all_do(region: str) -> None:
    assert [each.what for each in rip_to_width(region, USUAL).obstacles if each.kind == "guard"] == [
        "The anti-kickback fingers of the saw is not fitted at saw-bench."
    ]
    assert not [each for each in rip_to_width(region, (*USUAL, "saw-fingers")).obstacles if each.kind == "guard"]
