"""What stands in the way of a course by itself is named: no lessons, too short stretches, a station that is never there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.classroom.no_time import no_course, no_time
from sequencer.findings import Finding, Refused
from sequencer.model.workshop import Weekly
from tests.classroom.classes import the_class


def refused(class_: Class) -> list[Finding]:
    """The findings that a class is refused with."""
    with pytest.raises(Refused) as error:
        make_class_plan(class_, effort=0.02, solve=False)
    return list(error.value.findings)


def with_holidays(lessons: int) -> Class:
    """A class with holidays from some lessons on, for longer than is looked at."""
    class_ = the_class()
    time = class_.workshop.time
    assert time.first_date is not None
    days = [time.first_date + timedelta(each) for each in range(800)]
    at_work = [day for day in days if day.weekday() in {each.day for each in time.week}][:lessons]
    time = replace(time, holidays=tuple(day for day in days if day not in at_work))
    return replace(class_, workshop=replace(class_.workshop, time=time))


def with_staff_time(minutes: float) -> Class:
    """A class whose staff have so many minutes of their own, once a week."""
    class_ = the_class()
    time = replace(class_.workshop.time, staff_time=(Weekly(0, 15 * 60, minutes),))
    return replace(class_, workshop=replace(class_.workshop, time=time))


def with_away(name: str, *, weeks: int) -> Class:
    """A class of which a station is away from long before the first lesson until so many weeks after."""
    class_ = the_class()
    days = tuple(date(2026, 1, 1) + timedelta(each) for each in range(400 + 7 * weeks))
    stations = {**class_.workshop.stations, name: replace(class_.workshop.stations[name], away=days)}
    return replace(class_, workshop=replace(class_.workshop, stations=stations))


def test_holidays_over_everything_are_named() -> None:
    (found,) = refused(with_holidays(0))
    assert (found.code, found.subject) == ("no-lessons", "time")
    assert found.what == "The holidays leave no lesson in the 2 years from 2027-02-02."


def test_holidays_that_leave_too_few_lessons_are_named() -> None:
    (found,) = refused(with_holidays(3))
    assert found.code == "no-course"
    assert found.why == "It takes more than the 3 lessons that the 2 years from 2027-02-02 have outside the holidays."
    assert "`holidays`" in found.remedy


def test_what_takes_longer_than_any_stretch_of_staff_is_named_with_both_figures() -> None:
    setting, first, second = refused(with_staff_time(1))
    assert (setting.code, setting.subject) == ("no-time-for-it", "step 1")
    assert "takes 3 minutes in one go, and the longest stretch of staff's own time has 1." in setting.what
    assert "takes 48 minutes, and the longest stretch of staff's own time has 1." in first.what
    assert "no part of it is shorter than 5 minutes" in first.why
    assert second.subject == "step 3"
    assert no_time(with_staff_time(20)) == []


def test_a_station_that_is_away_throughout_is_named_once() -> None:
    (found,) = refused(with_away("marking-out", weeks=160))
    assert (found.code, found.subject) == ("away-throughout", "step 4")
    assert "the marking-out bench (marking-out) is away whenever it could be used." in found.what
    assert "`away` of marking-out" in found.remedy


def test_a_station_that_is_away_for_long_is_told_where_no_course_is_found() -> None:
    class_ = with_away("marking-out", weeks=78)
    assert no_time(class_) == []
    assert no_course(class_).why == (
        "Everyone's work has no room together in the 160 lessons that are looked at: marking-out is away in 154 of them; staff's "
        "own time is 120 minutes a week."
    )


def test_a_demonstration_that_no_lesson_has_room_for_is_named_by_the_tools_shown() -> None:
    class_ = the_class("picture-frame")
    time = class_.workshop.time
    short = replace(time, lesson=time.settling_in + time.clearing_up + 10.0)
    found = no_time(replace(class_, workshop=replace(class_.workshop, time=short)))
    said = [each.what for each in found if each.what.startswith("Showing the ")]
    assert said == [
        "Showing the hand saws: hand planes, with the shooting board takes 15 minutes in one go, and a lesson has 10 to work in."
    ]
