"""Why no course of lessons is found: what has no time in however many lessons, each piece of work looked at by itself, and what
else narrows the time there is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sequencer.classroom.course import MOST_LESSONS, Class, bounds_of, lessons_text
from sequencer.classroom.duties import LESSONS, STAFF, ClassWork, Course, Duty
from sequencer.classroom.sessions import MOST_WEEKS, sessions
from sequencer.classroom.shown import title
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.scheduling.greedy import Order, schedule_by
from sequencer.scheduling.problem import Activity, Problem

YEARS = MOST_WEEKS // 52


def no_time(class_: Class) -> list[Finding]:
    """What has no time, in however many lessons; empty where each piece of work by itself has."""
    if not sessions(class_.workshop.time, 1, 0).lessons:
        return [_no_lessons(class_)]
    work = class_.work(Course(MOST_LESSONS, all_machines=True))
    alike = {
        (duty.kind, duty.step.id, activity.minutes): (duty, activity)
        for duty, activity in zip(work.duties, work.problem.activities, strict=True)
    }
    found = dict[str, Finding]()
    for duty, activity in alike.values():
        if _has_time(activity, work.problem):
            continue
        if _has_time(activity, replace(work.problem, away=())):
            found.setdefault(duty.step.station, _away(duty, class_.knowledge))
        else:
            found.setdefault(duty.step.id, _too_long(duty, activity, work, class_.knowledge))
    return list(found.values())


def no_course(class_: Class) -> Finding:
    """That no course was found, with what narrows the time: too few lessons outside the holidays, stations that are away."""
    time, (_, least, work) = class_.workshop.time, bounds_of(class_)
    there = len(work.problem.calendars[LESSONS].windows)
    looked_at = f"{lessons_text(there)} that {_years(class_)} have outside the holidays"
    if there == MOST_LESSONS:
        looked_at = f"{lessons_text(there)} that are looked at"
    if least > there:
        remedy = "Correct `holidays` or `week` under `time`, take fewer students at a time, or shorten the job."
        return _none(f"It takes more than the {looked_at}.", remedy)
    why = f"Everyone's work has no room together in the {looked_at}"
    narrow = [f"{name} is away in {count} of them" for name, count in _aways(work).items()]
    if time.staff_time:
        narrow.append(f"staff's own time is {sum(each.minutes for each in time.staff_time):g} minutes a week")
    why += f": {'; '.join(narrow)}." if narrow else "."
    return _none(why, "Ease one of these: `away` of the station, `staff_time`, `holidays`; or shorten the job.")


def _none(why: str, remedy: str) -> Finding:
    what = "No course of lessons was found in which everyone gets done."
    return Finding("error", "no-course", "the class", what, why, remedy)


def _years(class_: Class) -> str:
    first = class_.workshop.time.first_date
    return f"the {YEARS} years from {first.isoformat()}" if first else f"{YEARS} years"


def _no_lessons(class_: Class) -> Finding:
    return Finding(
        "error", "no-lessons", "time", f"The holidays leave no lesson in {_years(class_)}.", "There is no time to work in.",
        "Correct `holidays`, `first_date` or `week` under `time`.",
    )  # fmt: skip


def _has_time(activity: Activity, problem: Problem) -> bool:
    """Whether an activity finds a place where there is nothing else to do."""
    return schedule_by(replace(problem, activities=(replace(activity, after=()),)), Order(np.zeros(1))) is not None


def _named(duty: Duty, knowledge: Knowledge) -> str:
    if duty.kind == "demonstration":
        return f"Showing the {title(duty.shows, duty.step, knowledge)}"
    return f"{duty.step.title}, with the sign-off before it," if duty.sign_off else duty.step.title


def _too_long(duty: Duty, activity: Activity, work: ClassWork, knowledge: Knowledge) -> Finding:
    minutes = f"{activity.minutes} minutes" if activity.minutes > 1 else "1 minute"
    goes = f"takes {minutes}" if activity.splits else f"takes {minutes} in one go"
    longest = " and ".join(_longest(calendar, work) for calendar in sorted(activity.calendars, reverse=True))
    return Finding(
        "error", "no-time-for-it", f"step {duty.step.number}", f"{_named(duty, knowledge)} {goes}, and {longest}.",
        "Set-ups and what is at a machine cannot be left half done."
        if not activity.splits
        else f"It can be left and gone on with, but no part of it is shorter than {activity.splits} minutes.",
        "Write longer stretches under `staff_time`." if STAFF in activity.calendars else "Plan a longer lesson for it.",
    )  # fmt: skip


def _longest(calendar: int, work: ClassWork) -> str:
    """`the longest stretch of staff's own time has 5`."""
    most = max((stop - start for start, stop in work.problem.calendars[calendar].windows), default=0)
    if calendar == LESSONS:
        return f"a lesson has {most} to work in"
    return (
        f"the longest stretch of staff's own time has {most}" if most else "staff have no time of their own outside the holidays"
    )


def _away(duty: Duty, knowledge: Knowledge) -> Finding:
    station, title = duty.step.station, duty.step.station_title
    return Finding(
        "error", "away-throughout", f"step {duty.step.number}",
        f"{_named(duty, knowledge)} has no time: the {title} ({station}) is away whenever it could be used.",
        "Nothing can be done at a station that is not there.",
        f"Correct `away` of {station}, or take the station out of the file to see what else can be used.",
    )  # fmt: skip


def _aways(work: ClassWork) -> dict[str, int]:
    """The stations that are away in some lessons, with how many, the longest away first."""
    windows, found = work.problem.calendars[LESSONS].windows, dict[str, int]()
    for name in sorted({name for name, _, _ in _stretches(work)}):
        gone = [(low, high) for own, low, high in _stretches(work) if own == name]
        found[name] = sum(any(low < stop and start < high for low, high in gone) for start, stop in windows)
    return {name: count for name, count in sorted(found.items(), key=lambda each: -each[1]) if count}


def _stretches(work: ClassWork) -> Iterator[tuple[str, int, int]]:
    for thing, _, start, stop in work.problem.away:
        yield work.things[thing].name, start, stop
