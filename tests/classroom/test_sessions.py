"""The real calendar: lessons on their days, staff's own time between them, holidays left out."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest

from sequencer.classroom.sessions import DAY, sessions
from sequencer.model.workshop import Timetable, Weekly

TUESDAY, THURSDAY = Weekly(1, 10 * 60 + 15), Weekly(3, 13 * 60 + 30)
STATED = Timetable(
    60, 10, 10, 2, date(2027, 2, 2), (date(2027, 2, 4),), (TUESDAY, THURSDAY), (Weekly(0, 15 * 60, 60), Weekly(2, 15 * 60, 30))
)


def test_lessons_stand_on_their_days_and_not_on_holidays() -> None:
    found = sessions(STATED, 3, 0)
    listed = [found.session(window, number) for number, window in enumerate(found.lessons, 1)]
    assert [(each.day, each.clock, each.minutes) for each in listed] == [
        (date(2027, 2, 2), "10:25", 40),
        (date(2027, 2, 9), "10:25", 40),
        (date(2027, 2, 11), "13:40", 40),
    ]


def test_staff_have_their_own_time_between_the_lessons_and_enough_before_the_first() -> None:
    found = sessions(STATED, 3, 100)
    days = [(found.day(start), stop - start) for start, stop in found.staff]
    assert days[:3] == [(date(2027, 1, 25), 60), (date(2027, 1, 27), 30), (date(2027, 2, 1), 60)]
    assert (date(2027, 2, 3), 30) in days
    assert all(found.day(start) < date(2027, 2, 11) for start, _ in found.staff)


def test_without_a_timetable_lessons_are_spread_over_the_week() -> None:
    assert [each.day for each in Timetable(60, 10, 10, 2, date(2027, 2, 2)).weekly] == [1, 3]
    assert [each.day for each in Timetable(60, 10, 10, 5).weekly] == [0, 1, 2, 3, 4]
    unstated = sessions(Timetable(60, 10, 10, 2), 4, 0)
    assert unstated.monday is None
    assert not unstated.stated
    assert len(unstated.staff) == 4
    assert all(stop <= start for (_, stop), (start, _) in zip(unstated.staff, unstated.lessons, strict=True))
    assert unstated.lessons[2][0] - unstated.lessons[0][0] == 7 * DAY


@pytest.mark.parametrize("lesson", [60, 150])
@pytest.mark.parametrize("lessons", [1, 2, 3, 5, 7, 11, 20])
@pytest.mark.parametrize("weekday", range(7))
def test_no_two_lessons_of_a_week_that_nobody_stated_are_at_one_time(weekday: int, lessons: int, lesson: float) -> None:
    found = Timetable(lesson, 10, 10, lessons, date(2027, 2, 1 + weekday)).weekly
    starts = [each.day * DAY + each.at for each in found]
    assert len(starts) == lessons
    assert all(start + lesson <= following for start, following in pairwise(starts))
    assert weekday in {each.day for each in found}
    assert weekday > 4 or all(each.day < 5 for each in found)
