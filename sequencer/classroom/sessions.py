"""The real calendar: when lessons are, when staff have time of their own. Real time in minutes from midnight of a first
Monday."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from itertools import pairwise
from math import floor

from sequencer.model.class_plan import Session
from sequencer.model.workshop import Timetable
from sequencer.scheduling.calendar import Calendar

DAY, WEEK = 1440, 7 * 1440
MOST_WEEKS = 104
"""A unit of work that does not fit in two years is not looked at."""
UNSTATED = 600
"""Time of staff's own before a lesson, min, where none is stated: so much that it never decides."""
BEFORE_ALL = 6000
"""The same before the first lesson."""


@dataclass(frozen=True)
class Sessions:
    """Lessons and staff's own time as windows of real time, with the day that the count starts from."""

    lessons: tuple[tuple[int, int], ...]
    staff: tuple[tuple[int, int], ...]
    monday: date | None
    slot: int
    """Lessons are planned in whole slots of so many minutes."""
    stated: bool
    """Whether staff's own time is as the workshop file states it."""

    @cached_property
    def calendars(self) -> tuple[Calendar, Calendar]:
        """Of lessons and of staff."""
        return Calendar(self.lessons, self.slot), Calendar(self.staff)

    def day(self, real: int) -> date | None:
        """The day of a moment."""
        return None if self.monday is None else self.monday + timedelta(days=real // DAY)

    def session(self, window: tuple[int, int], number: int) -> Session:
        """A window as the class plan lists it."""
        return Session(number, clock(window[0]), window[1] - window[0], self.day(window[0]), window[0])


def clock(real: int) -> str:
    """The time of the day, `9:05`."""
    return f"{real % DAY // 60}:{real % 60:02}"


def sessions(time: Timetable, lessons: int, preparing: int, slot: int = 1) -> Sessions:
    """So many lessons, and staff's own time between them and before the first, there with so many minutes at least.

    The work of a lesson is cut to whole slots of so many minutes. A lesson that would fall on a holiday, or before the first
    date, is left out; so is staff's own time on a holiday.
    """
    monday = time.first_date - timedelta(days=time.first_date.weekday()) if time.first_date else None
    free = {each.toordinal() for each in time.holidays}
    first = time.first_date.weekday() * DAY if time.first_date else 0

    def there(real: int) -> bool:
        return monday is None or monday.toordinal() + real // DAY not in free

    work = floor(time.lesson - time.settling_in - time.clearing_up)
    work = work - work % slot or work
    found: list[tuple[int, int]] = []
    for week in range(MOST_WEEKS):
        for each in time.weekly:
            start = week * WEEK + each.day * DAY + each.at
            if start >= first and there(start) and len(found) < lessons:
                found.append((start + floor(time.settling_in), start + floor(time.settling_in) + work))
    if time.staff_time:
        staff = _stated(time, found, preparing, there)
    else:
        whole = floor(time.lesson)
        bells = [start - floor(time.settling_in) for start, _ in found]
        staff = [(bells[0] - BEFORE_ALL, bells[0])] if bells else []
        for before, bell in pairwise(bells):
            if before + whole < bell:
                staff.append((max(before + whole, bell - UNSTATED), bell))
    return Sessions(tuple(found), tuple(staff), monday, slot, bool(time.staff_time))


def _stated(time: Timetable, lessons: list[tuple[int, int]], preparing: int, there: object) -> list[tuple[int, int]]:
    """Staff's own time as stated, from so early that what is prepared before the first lesson has room."""
    assert callable(there)
    last = lessons[-1][1] if lessons else 0
    first = lessons[0][0] if lessons else 0
    found: list[tuple[int, int]] = []
    room = 0
    for week in range(-MOST_WEEKS, last // WEEK + 1):
        for each in time.staff_time:
            start = week * WEEK + each.day * DAY + each.at
            if start < last and there(start):
                found.append((start, start + floor(each.minutes)))
    before = [each for each in found if each[1] <= first]
    for at in range(len(before) - 1, -1, -1):
        room += before[at][1] - before[at][0]
        if room >= preparing:
            return found[at:]
    return found
