"""The best course of lessons that so much effort finds, with the least that any course takes.

Schedules are made by rules (`scheduling/rules.py`). A station is shown to each group at the start of the lesson in which one of
the group first uses it: when that is comes from a course without demonstrations. The best of them is then bettered
(`scheduling/bettering.py`), and what is shown in which lesson with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from sequencer.classroom.duties import LESSONS, ClassWork, Course, class_work
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop
from sequencer.scheduling import solver
from sequencer.scheduling.bettering import bettered, worth
from sequencer.scheduling.bound import Bound, all_bounds
from sequencer.scheduling.greedy import Order
from sequencer.scheduling.problem import Problem, Schedule, ends
from sequencer.scheduling.rules import best_by_rules

Say = Callable[[str], None]
Showing = dict[tuple[str, int], int]

SCHEDULES = 200
"""Schedules that a course is bettered by with an effort of 1."""
TRIALS = 8
"""Schedules tried to see when stations are first used, and the fewest of all."""
SHORTLY = 0.4
"""All courses together are tried by so many schedules, as a share of those that the best of them is bettered by."""
SOLVING = 5.0
"""Deterministic seconds of the solver with an effort of 1, where it is installed and the plan is above its bound."""
MOST_LESSONS = 160
TURNS = ((0, False), (0, True), (1, False), (2, False))
"""How many lessons before its first use a station is shown, and whether students are signed off no earlier than a lesson before
their own first use or as soon as somebody has time: all are tried."""


@dataclass(frozen=True)
class Found:
    """A course: its work, where everything lies, and the bounds of everything that could hold it up.

    least
        The lessons that no course can go below.
    schedules, solved
        What it was looked for with.
    """

    work: ClassWork
    schedule: Schedule
    bounds: tuple[Bound, ...]
    least: int
    schedules: int
    solved: float

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
    for all_machines in _ways(class_.workshop):
        work = class_.work(Course(MOST_LESSONS, all_machines))
        bounds = all_bounds(work.problem)
        found.append((max(bound.minute for bound in bounds), bounds, work))
    minute, bounds, work = min(found, key=lambda each: each[0])
    return bounds, lessons_of(work.problem, minute), work


def _ways(workshop: Workshop) -> tuple[bool, ...]:
    """Whether all alike machines are set for a step, or one of them: both where there are any."""
    return (True, False) if any(station.count > 1 for station in workshop.stations.values()) else (True,)


def best_course(class_: Class, *, effort: float = 1.0, solve: bool = True, seed: int = 1, say: Say | None = None) -> Found | None:
    """The best course that is found; None if not even MOST_LESSONS are enough."""
    bounds, least, _ = bounds_of(class_)
    if say is not None:
        say(f"no plan that sets each machine once for a step takes fewer than {lessons_text(least)}")
    schedules = max(TRIALS, round(SCHEDULES * effort))
    lessons = min(MOST_LESSONS, 2 * least + 12)
    found = None
    while found is None:
        found = _best_of_all(class_, lessons, least, schedules, seed, say)
        if lessons == MOST_LESSONS:
            break
        lessons = min(MOST_LESSONS, lessons * 2)
    if found is None:
        return None
    work, schedule = found.work, found.schedule
    solved = 0.0
    if solve and solver.is_there() and lessons_of(work.problem, ends(work.problem, schedule)) > least:
        solved = SOLVING * effort
        better = _fewer_lessons(work, schedule, solved, say)
        schedule = better or schedule
    return Found(work, schedule, bounds, least, schedules, solved)


def lessons_text(count: int) -> str:
    """`1 lesson`, `12 lessons`."""
    return f"{count} lesson" + ("" if count == 1 else "s")


@dataclass(frozen=True)
class _Tried:
    """A schedule, the work it is of, and the order that gives it."""

    work: ClassWork
    order: Order
    schedule: Schedule

    @property
    def worth(self) -> tuple[int, float]:
        return worth(self.work.problem, self.schedule)

    @property
    def lessons(self) -> int:
        return lessons_of(self.work.problem, ends(self.work.problem, self.schedule))


def _best_of_all(class_: Class, lessons: int, least: int, schedules: int, seed: int, say: Say | None) -> _Tried | None:
    """The best schedule of all courses: each is tried shortly, and the most promising is bettered."""
    works = [work for all_machines in _ways(class_.workshop) for work in _courses(class_, Course(lessons, all_machines), seed)]
    tried: list[_Tried] = []
    for work in works:
        found = best_by_rules(work.problem, schedules=max(3, round(SHORTLY * schedules / len(works))), seed=seed)
        if found is not None:
            tried.append(_Tried(work, *found))
    if not tried:
        return None
    best = min(tried, key=lambda each: each.worth)
    if say is not None:
        say(f"found {lessons_text(best.lessons)}")
    return _bettered(best, least, schedules, seed, say)


def _bettered(best: _Tried, least: int, schedules: int, seed: int, say: Say | None) -> _Tried:
    """A course with the order of its work and the lessons of its demonstrations bettered."""
    problem, calendar = best.work.problem, best.work.problem.calendars[LESSONS]
    windows = {
        number: calendar.window(calendar.at(problem.activities[number].soonest))
        for number, duty in enumerate(best.work.duties)
        if duty.kind == "demonstration"
    }

    def enough(found: Schedule) -> bool:
        return lessons_of(problem, ends(problem, found)) <= least

    def said(windows: int) -> None:
        if say is not None:
            say(f"found {lessons_text(windows)}")

    order, schedule = bettered(
        problem,
        replace(best.order, windows=windows),
        best.schedule,
        [(duty.kind, duty.step.id, duty.piece) for duty in best.work.duties],
        schedules=schedules,
        seed=seed,
        enough=enough,
        say=said,
    )
    return _Tried(replace(best.work, problem=order.asked(problem)), order, schedule)


def _courses(class_: Class, course: Course, seed: int) -> Iterator[ClassWork]:
    """The work of a course with stations shown when they are first used, and a lesson or two sooner."""
    bare = class_.work(replace(course, showing=False))
    found = best_by_rules(bare.problem, schedules=TRIALS, seed=seed)
    if found is None:
        return
    whole = class_.work(course)
    showing, signing = _first_uses(bare, found[1], whole)
    lessons = whole.problem.calendars[LESSONS].windows
    for sooner, late_signing in TURNS:
        signed_from = _sooner(signing, 1, lessons) if late_signing else {}
        yield class_.work(replace(course, shown_from=_sooner(showing, sooner, lessons), signed_from=signed_from))


def _sooner(showing: Showing, lessons: int, windows: Sequence[tuple[int, int]]) -> Showing:
    """The same so many lessons sooner."""
    starts = [start for start, _ in windows]
    return {key: starts[max(0, starts.index(start) - lessons)] for key, start in showing.items()}


def _first_uses(bare: ClassWork, schedule: Schedule, work: ClassWork) -> tuple[Showing, Showing]:
    """When, in real time, the lesson starts in which a kind of station is first used by one of a group that it is shown to, and
    by each seat that is signed off for it, as a schedule without either has it."""
    calendar = bare.problem.calendars[LESSONS]
    first: dict[tuple[str, int], int] = {}
    for duty, place in zip(bare.duties, schedule.placed, strict=True):
        if duty.kind == "step":
            key = duty.step.station_kind, duty.seats[0]
            first[key] = min(first.get(key, place.start), place.start)
    showing: Showing = {}
    signing: Showing = {}
    for duty in work.duties:
        if duty.kind in ("demonstration", "sign-off"):
            kind = duty.step.station_kind
            lesson = calendar.window(min((first[kind, seat] for seat in duty.seats if (kind, seat) in first), default=0))
            into, number = (showing, duty.group) if duty.kind == "demonstration" else (signing, duty.seats[0])
            into[kind, number] = calendar.windows[lesson][0]
    return showing, signing


def _fewer_lessons(work: ClassWork, schedule: Schedule, effort: float, say: Say | None) -> Schedule | None:
    """A schedule of fewer lessons that the solver finds, if it does."""
    calendar = work.problem.calendars[LESSONS]
    if say is not None:
        say("looking for a shorter course with the solver")
    latest = calendar.firsts[calendar.window_of_end(ends(work.problem, schedule))]
    return solver.solve(work.problem, schedule, latest, effort=effort).schedule
