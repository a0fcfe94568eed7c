"""The best course of lessons that so much effort finds, with the least that any course takes.

Orders are crossed with one another (`scheduling/breeding.py`), and the solver looks for fewer lessons where it is installed. What
is shown is then shown as few lessons before its use as costs none; what staff do, show and sign off is moved as late as it can be
while students' steps stay in their places.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sequencer.classroom.class_work import class_work
from sequencer.classroom.duties import LESSONS, ClassWork, Course
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop
from sequencer.reading.words import so_many
from sequencer.scheduling import solver
from sequencer.scheduling.bound import Bound, all_bounds
from sequencer.scheduling.breeding import Search, best_order
from sequencer.scheduling.checked import faults
from sequencer.scheduling.flow_bound import fewest
from sequencer.scheduling.greedy import Order, Placer
from sequencer.scheduling.justifying import Justifier, ranked
from sequencer.scheduling.problem import Problem, Schedule, ends

Say = Callable[[str], None]

SCHEDULES = 4000
"""Schedules that are looked at with an effort of 1."""
TRIALS = 8
"""Schedules by which courses are compared, and the fewest of all."""
SPARE = 2
"""So many lessons more than are needed are looked at: schedules are moved back and forth among them."""
SOLVING = 5.0
"""Deterministic seconds of the solver with an effort of 1, where it is installed and the plan is above its bound."""
LEADS = (2, 4, 7, 11, 16)
"""So many lessons before it must be shown a station may be shown, tried one after the other."""
MOST_LESSONS = 160


@dataclass(frozen=True)
class Found:
    """A course: its work, where everything lies, and the bounds of everything that could hold it up.

    least
        The lessons that no course can go below.
    schedules, solved
        What it was looked for with.
    stopped
        Whether somebody ended the search before that.
    """

    work: ClassWork
    schedule: Schedule
    bounds: tuple[Bound, ...]
    least: int
    schedules: int
    solved: float
    stopped: bool = False

    @property
    def lessons(self) -> int:
        """Lessons until everyone is done."""
        return lessons_of(self.work.problem, ends(self.work.problem, self.schedule))


def lessons_of(problem: Problem, minute: int) -> int:
    """How many lessons have begun by a minute at work."""
    return problem.calendars[LESSONS].window_of_end(minute) + 1


@dataclass(frozen=True)
class Class:
    """What a course is made from."""

    plan: Plan
    job: Job
    workshop: Workshop
    knowledge: Knowledge

    def work(self, course: Course) -> ClassWork:
        """What the class has to do in a course."""
        return class_work(self.plan, self.job, self.workshop, self.knowledge, course)


def bounds_of(class_: Class) -> tuple[tuple[Bound, ...], int, ClassWork]:
    """The bounds of the course that takes least at the least, the lessons they ask for, and the work they are of."""
    found = []
    for all_machines in _ways(class_):
        work = class_.work(Course(MOST_LESSONS, all_machines, for_bounds=True))
        bounds = all_bounds(work.problem)
        found.append((max(bound.minute for bound in bounds), bounds, work))
    found.sort(key=lambda each: each[0])
    at, least, together = fewest(tuple((work.problem, lessons_of(work.problem, minute)) for minute, _, work in found))
    _, bounds, work = found[at]
    return (*bounds, *([together] if together is not None else [])), least, work


def _ways(class_: Class) -> tuple[bool, ...]:
    """Whether all alike machines are set for a step, or one of them: both where there are any that staff set for students."""
    steps = class_.plan.steps
    own = {step.id: step for step in steps if step.kind == "work" and step.who.operator == "student"}
    set_for = [own[name] for step in steps if step.kind == "set-up" and (name := step.id.removesuffix("/set-up")) in own]
    return (True, False) if any(class_.workshop.stations[step.station].count > 1 for step in set_for) else (True,)


def best_course(class_: Class, *, effort: float = 1.0, solve: bool = True, seed: int = 1, say: Say | None = None) -> Found | None:
    """The best course that is found; None if not even MOST_LESSONS are enough. An interrupt ends the search with the course that
    is found by then, if one is."""
    told = say or (lambda _: None)
    bounds, least, _ = bounds_of(class_)
    told(f"no plan in whole slots that sets each machine once for a step takes fewer than {lessons_text(least)}")
    first = _first(class_, least, seed)
    if first is None:
        return None
    course, known, lessons, stopped = first
    told(f"found {lessons_text(lessons)}")
    schedules = TRIALS if stopped else max(TRIALS, round(SCHEDULES * effort))
    work, search = _search(class_, replace(course, lessons=lessons + SPARE), known, least, schedules, seed, told)
    schedule, solved, stopped = search.schedule, 0.0, stopped or search.stopped
    if stopped:
        told("stopped: the best course found by then is kept")
    if solve and not stopped and solver.is_there() and lessons_of(work.problem, ends(work.problem, schedule)) > least:
        solved = SOLVING * effort
        told("looking for a shorter course with the solver")
        schedule = _shorter(work.problem, schedule, solved) or schedule
    work, schedule = _shown_late(work, search.order, schedule)
    schedule = Placer(work.problem).moved_late(schedule, _staffs(work))
    return Found(work, schedule, bounds, least, search.schedules, solved, stopped)


def lessons_text(count: int) -> str:
    """`1 lesson`, `12 lessons`."""
    return so_many(count, "lesson")


def _first(class_: Class, least: int, seed: int) -> tuple[Course, Order, int, bool] | None:
    """The course that promises most, the order in which it is first found, the lessons that it takes so, and whether somebody
    ended the looking."""
    lessons = min(MOST_LESSONS, 2 * least + 12)
    while True:
        tried, stopped = [], False
        for all_machines in _ways(class_):
            course = Course(lessons, all_machines)
            problem = class_.work(course).problem
            if (found := best_order(problem, schedules=TRIALS, seed=seed)) is not None:
                tried.append((found.worth, course, found.order))
                stopped = stopped or found.stopped
            if stopped:
                break
        if tried:
            best, course, order = min(tried, key=lambda each: each[0])
            return course, order, best[0] + 1, stopped
        if lessons == MOST_LESSONS:
            return None
        lessons = min(MOST_LESSONS, lessons * 2)


def _search(
    class_: Class, course: Course, known: Order, least: int, schedules: int, seed: int, told: Say
) -> tuple[ClassWork, Search]:
    """The work of a course, and the best order that so many schedules find, where one is known."""
    while True:
        work = class_.work(course)

        def enough(found: Schedule, problem: Problem = work.problem) -> bool:
            return lessons_of(problem, ends(problem, found)) <= least

        def found(windows: int) -> None:
            told(f"found {lessons_text(windows)}")

        search = best_order(work.problem, schedules=schedules, seed=seed, enough=enough, say=found, known=known)
        if search is not None:
            return work, search
        course = replace(course, lessons=course.lessons + SPARE)


def _shown_late(work: ClassWork, order: Order, schedule: Schedule) -> tuple[ClassWork, Schedule]:
    """A course of no more lessons in which no station is shown more than so many lessons before it must be, and its schedule; as
    they are where that is not found. What is shown in the first week is forgotten by the tenth."""
    problem, calendar = work.problem, work.problem.calendars[LESSONS]
    justifier = Justifier(problem)
    latest = justifier.latest(justifier.places_of(schedule))
    if latest is None:
        return work, schedule
    before = [calendar.window(calendar.at(moment)) for moment in latest]
    unused = min((window for window, each in zip(before, problem.activities, strict=True) if each.calendars == (0,)), default=0)
    for lead in LEADS:
        activities = list(problem.activities)
        for number, duty in enumerate(work.duties):
            if duty.kind == "demonstration":
                window = max(0, before[number] - unused - lead)
                activities[number] = replace(activities[number], soonest=calendar.windows[window][0])
        asked = replace(problem, activities=tuple(activities))
        made = Justifier(asked).justified(replace(order, rank=ranked(latest)), 3)
        if made is not None and made.worth[0] < lessons_of(problem, ends(problem, schedule)):
            return replace(work, problem=asked), made.schedule
    return work, schedule


def _staffs(work: ClassWork) -> list[int]:
    """What staff do, show and sign off."""
    return [number for number, duty in enumerate(work.duties) if duty.kind != "step"]


def _shorter(problem: Problem, schedule: Schedule, effort: float) -> Schedule | None:
    """A schedule of fewer lessons that the solver finds, if it does, and that is without fault."""
    calendar = problem.calendars[LESSONS]
    latest = calendar.firsts[calendar.window_of_end(ends(problem, schedule))]
    found = solver.solve(problem, schedule, latest, effort=effort).schedule
    return found if found is not None and not faults(problem, found) else None
