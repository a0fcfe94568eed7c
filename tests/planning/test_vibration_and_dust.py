"""Vibration and dust of a day in plans: from the workshop file's figures and the plan's own minutes, against the region's."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import floor
from typing import Any

import pytest

from sequencer.knowledge.exposure import daily_vibration, mean_dust, trigger_minutes
from sequencer.model.plan import Plan
from sequencer.model.record import DayLine
from sequencer.paper.wording import of_a_day
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop

DAY = date(2026, 12, 1)
SANDERS, SAW = "hand-held-sanders", "portable-circular-saw"
"""What a student sands with and what staff cut the class's panels with, in the well-equipped workshop."""


def made(station: str, region: str = "generic", limits: dict[str, float] | None = None, **stated: Any) -> Plan:
    """An example that uses a station, in a workshop that states something else of it."""
    school = workshop("well-equipped")
    changed = replace(school.stations[station], **stated)
    school = replace(school, region=region, limits=limits or {}, stations={**school.stations, station: changed})
    return make_plan(job("step-stool" if station == SANDERS else "herb-caddy"), school, knowledge(), day=DAY)


def line(lines: tuple[DayLine, ...], who: str) -> DayLine:
    return next(each for each in lines if each.who.startswith(who))


def minutes(plan: Plan, station: str, card: str) -> float:
    times = plan.class_.students if card == "staff" else 1
    return times * sum(
        each.minutes for each in plan.steps if each.station == station and each.kind == "work" and each.card == card
    )


def codes(plan: Plan) -> list[str]:
    return [each.code for each in plan.findings]


def test_minutes_of_trigger_time_to_the_action_value_are_those_of_the_formula() -> None:
    plan = made(SANDERS, vibration=7.0)
    time = minutes(plan, SANDERS, "student")
    assert time > 0
    text = line(plan.vibration, "One student").text
    assert f"together {daily_vibration([(7.0, time)]):.1f} m/s2" in text
    assert f"2.5 m/s2 (EU), is reached by one tool alone: hand-held sanders {floor(trigger_minutes(7.0, 2.5))} min." in text
    assert "No figure of the region is passed." in text
    assert not [code for code in codes(plan) if code.startswith("vibration")]


def test_staff_who_do_the_class_s_steps_pass_it_sooner_than_a_student() -> None:
    plan = made(SAW, vibration=8.0)
    time = minutes(plan, SAW, "staff")
    assert time / plan.class_.students < trigger_minutes(8.0, 2.5) < time
    (finding,) = [each for each in plan.findings if each.code == "vibration-passes"]
    assert finding.level == "warning"
    assert finding.what.startswith("Staff, one person for the class")
    assert finding.what.endswith("passes vibration of hand and arm over a day, action value.")
    # To stay under it no longer a day than the trigger time, to the minute.
    assert f"at most {floor(trigger_minutes(8.0, 2.5))} minutes of this work a day" in line(plan.vibration, "Staff").text


def test_both_figures_are_named_where_both_are_passed() -> None:
    plan = made(SAW, vibration=30.0)
    text = line(plan.vibration, "Staff").text
    assert "action value, 2.5 m/s2 (EU)" in text
    assert "limit, 5 m/s2 (EU)" in text
    assert f"at most {floor(trigger_minutes(30.0, 2.5))} minutes" in text


def test_what_nobody_has_stated_is_to_be_looked_up() -> None:
    plan = made(SANDERS, vibration=None)
    student = line(plan.vibration, "One student")
    assert student.text == ""
    assert student.measure.startswith("Not stated: hand-held sanders: look up the maker's figure")
    assert "vibration-not-known" in codes(plan)
    assert any("look up the maker's figure" in text for _, text in of_a_day(plan))


@pytest.mark.parametrize(("region", "whose"), [("united-kingdom", "GB"), ("european-union", "EU"), ("australia", "EU")])
def test_the_action_value_is_the_region_s_or_the_strictest_on_record(region: str, whose: str) -> None:
    assert f"the action value, 2.5 m/s2 ({whose}), is reached" in line(made(SANDERS, region).vibration, "One student").text


def test_a_region_whose_law_has_no_figure_passes_none_and_is_told_of_the_lowest_elsewhere() -> None:
    plan = made(SAW, "united-states", vibration=30.0)
    text = line(plan.vibration, "Staff").text
    assert "vibration-passes" not in codes(plan)
    assert "The law there has no figure on record here" in text
    assert f"portable circular saw {floor(trigger_minutes(30.0, 2.5))} min." in text
    assert "No figure of the region is passed" not in text


def test_the_school_s_own_stricter_action_value_counts() -> None:
    plan = made(SANDERS, limits={"vibration-action": 1.0}, vibration=14.0)
    text = line(plan.vibration, "One student").text
    assert (
        f"1 m/s2 (the school's own), is reached by one tool alone: hand-held sanders {floor(trigger_minutes(14, 1))} min" in text
    )
    assert "vibration-passes" in codes(plan)


def test_a_machine_fed_by_hand_counts_where_something_is_stated_of_it_and_only_there() -> None:
    assert "scroll saw" not in str(made("scroll-saw").vibration)
    assert "scroll saw 3 m/s2" in line(made("scroll-saw", vibration=3.0).vibration, "One student").text


def test_a_vibration_of_a_place_where_nothing_is_driven_is_a_warning() -> None:
    assert "vibration-of-nothing" in codes(made("hand-sawing", vibration=3.0))
    assert "vibration-of-nothing" not in codes(made("scroll-saw", vibration=3.0))


def test_held_tools_are_those_the_figure_is_about() -> None:
    held = {name for name, kind in knowledge().stations.items() if kind.power == "powered-hand"}
    for about in ("vibration-action", "vibration-limit"):
        assert set(knowledge().measures[about].stations) == held


def test_measured_dust_is_a_mean_of_the_day_and_the_rest_is_not_known() -> None:
    plan = made(SANDERS, dust=4.0)
    student = line(plan.dust, "One student")
    assert f"at least {mean_dust([(4.0, minutes(plan, SANDERS, 'student'))]):.2f} mg/m3" in student.text
    assert "no leave to make dust" in student.text
    assert student.measure.startswith("Not measured: ")
    assert "hand-held sanders" not in student.measure
    assert "dust-passes" not in codes(plan)


def test_dust_over_the_region_s_figure_is_a_warning() -> None:
    plan = made(SAW, "united-kingdom", dust=40.0)
    # The caddy's plywood is a sheet, and its dust counts as hardwood dust, 3 mg/m3; softwood's would be 5.
    assert "dust of hardwood, mean of 8 hours, 3 mg/m3 (GB)" in line(plan.dust, "Staff").text
    (finding,) = [each for each in plan.findings if each.code == "dust-passes"]
    assert finding.what.startswith("Staff")


def test_hand_work_makes_no_vibration_and_its_sanding_is_dust_nobody_measured() -> None:
    plan = make_plan(job("herb-caddy"), workshop("hand-tools"), knowledge(), day=DAY)
    assert plan.vibration == ()
    assert line(plan.dust, "One student") == DayLine("One student", "", "Not measured: abrasive paper by hand.")
