"""What the class has to do, put together in the order of the plan, with its calendar: the problem of scheduling that a course is
found for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.classroom.duties import STAFF, ClassWork, Course
from sequencer.classroom.first_use import FirstUse
from sequencer.classroom.gathered import Gathered
from sequencer.classroom.precedence import befores
from sequencer.classroom.sessions import DAY, Sessions, sessions
from sequencer.classroom.staff_work import StaffWork
from sequencer.classroom.student_steps import StudentSteps
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop
from sequencer.scheduling.problem import Activity, Problem

SPARE_MINUTES = 60
"""Of staff's own time before the first lesson there is so much more than the work there asks for."""


def class_work(plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge, course: Course) -> ClassWork:
    """What the class has to do, for a class that `hopeless` finds nothing against."""
    gathered = Gathered(plan, job, workshop, knowledge, course)
    students, staff = StudentSteps(gathered, FirstUse(gathered)), StaffWork(gathered)
    before = befores(plan)
    for step in plan.steps:
        if step in students.then.values():
            continue
        if step.kind == "work" and step.who.operator == "student":
            students.add(step, before[step.id])
        elif step.kind == "work":
            staff.work(step, before[step.id])
        elif step.kind == "set-up":
            staff.set_up(step)
        elif step.kind == "guards-back":
            staff.guards_back(step)
    calendar = sessions(workshop.time, course.lessons, _preparing(gathered.activities) + SPARE_MINUTES, gathered.slot)
    things = gathered.things
    problem = Problem(
        tuple(gathered.activities),
        tuple(thing.count for thing in things.all),
        calendar.calendars,
        tuple(_away(gathered, calendar)),
        tuple(thing.says for thing in things.all),
    )
    return ClassWork(problem, tuple(gathered.duties), tuple(things.all), calendar, gathered.whole, things.bench_watchers)


def _preparing(activities: Sequence[Activity]) -> int:
    """Minutes of staff's work that comes after no work of students."""
    first: set[int] = set()
    for number, activity in enumerate(activities):
        if STAFF in activity.calendars and first.issuperset(each.activity for each in activity.after):
            first.add(number)
    return sum(activities[number].minutes for number in first)


def _away(gathered: Gathered, calendar: Sessions) -> Iterator[tuple[int, int, int, int]]:
    """Stations on the days on which they are not there."""
    if calendar.monday is None:
        return
    for name, units in gathered.things.stations.items():
        for day in sorted(set(gathered.workshop.stations[name].away)):
            start = (day - calendar.monday).days * DAY
            for unit in units:
                yield unit, gathered.things.all[unit].count, start, start + DAY
