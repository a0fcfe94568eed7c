"""The aim of a lesson: one skill, and how a student and a teacher see that it is there.

A skill is an operation of the plan; what good looks like are the checks of the step it is done in.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sequencer.model.class_plan import Session
from sequencer.model.plan import Step
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons
from sequencer.reading.words import listed

_TESTS = 2
"""So many checks of a step, or looks at a station before work, are the test of a skill."""
_NO_AIM = ("rags",)
"""Kinds of work that clear up after another and are no skill."""


@dataclass(frozen=True)
class Aim:
    """What a lesson is for.

    skill
        The operation by its name, an imperative: `Saw to length on the bench hook`; where stations are only shown: `Say how to
        use the hand saws`.
    again
        Whether it was the aim of an earlier lesson, or nobody does it for the first time.
    numbers
        The steps of the lesson it is done in; none where stations are only shown.
    good
        What is looked at and how close, a check a line.
    new
        The seats that it is new to, in the order of the class.
    """

    skill: str
    again: bool
    numbers: tuple[int, ...]
    good: tuple[str, ...]
    new: tuple[str, ...]


@dataclass
class _Done:
    """What is done of a skill in a lesson: for how many minutes of all students together, in which steps by their numbers, and
    the seats that do it for the first time."""

    minutes: float
    steps: dict[int, Step]
    new: set[str]


def aims(course: Lessons) -> dict[int, Aim]:
    """The aim of each lesson by its number: what students do in it for the first time, rather what was no aim yet, and of that
    what is new to most. Where nobody does anything new, to say how to use what is shown; where nothing is shown, what takes most
    minutes of all students together. Ties to the earlier step; a lesson in which nobody does anything has none."""
    found: dict[int, Aim] = {}
    before: set[tuple[str, str]] = set()
    had: set[str] = set()

    def first(skill: str, each: _Done) -> tuple[bool, int, float, int]:
        return bool(each.new) and skill not in had, len(each.new), each.minutes, -min(each.steps)

    for lesson in course.classes.lessons:
        done, shown = _done(course, lesson, before), _shown(course, lesson)
        skill = max(done, key=lambda name: first(name, done[name]), default="")
        if shown and not (skill and done[skill].new):
            found[lesson.number] = _say_how(course, shown)
        elif skill:
            each = done[skill]
            again = skill in had or not each.new
            found[lesson.number] = Aim(skill, again, tuple(sorted(each.steps)), _good(each.steps), _in_order(course, each.new))
            had.add(skill)
        before |= {(name, seat) for name, each in done.items() for seat in each.new}
    return found


def _done(course: Lessons, lesson: Session, before: set[tuple[str, str]]) -> dict[str, _Done]:
    """The skills of a lesson. `before`: who has done which in an earlier one."""
    found: dict[str, _Done] = {}
    for stint, span in course.stints(lesson.number):
        step = course.steps[stint.step]
        if stint.kind == "step" and step.checks and not _clears_up(course, step):
            each = found.setdefault(step.operation, _Done(0.0, {}, set()))
            each.steps[step.number] = step
            each.minutes += len(stint.seats) * (span.stop - span.start)
            each.new |= {seat for seat in stint.seats if (step.operation, seat) not in before}
    return found


def _in_order(course: Lessons, seats: set[str]) -> tuple[str, ...]:
    """Seats in the order of the class."""
    return tuple(seat for seat in course.classes.seats if seat in seats)


def _clears_up(course: Lessons, step: Step) -> bool:
    return bool(step.tasks) and all(course.tasks[task].kind in _NO_AIM for task in step.tasks)


def _shown(course: Lessons, lesson: Session) -> dict[str, tuple[Step, set[str]]]:
    """The stations that are shown in a lesson by their titles, in order of time, each with a step where it is shown and who sees
    it; tools of another bench by themselves."""
    found: dict[str, tuple[Step, set[str]]] = {}
    for stint, _ in sorted(course.stints(lesson.number), key=lambda each: each[1].start):
        if stint.kind == "demonstration":
            step = course.steps[stint.step]
            title = course.subject(stint) if course.of_another_bench(stint) else step.station_title
            found.setdefault(title, (step, set()))[1].update(stint.seats)
    return found


def _say_how(course: Lessons, shown: dict[str, tuple[Step, set[str]]]) -> Aim:
    """The aim of a lesson in which what is new is only shown; its test is what is looked at before work at the first of it."""
    station = next(step.station for step, _ in shown.values())
    before = {card.station: card.before_starting for card in course.plan.stations}[station]
    names = [f"the {wording.within_sentence(title)}" for title in shown]
    good = tuple(f"says unasked: {wording.within_sentence(line).rstrip('.')}" for line in before[:_TESTS])
    seats = set().union(*(some for _, some in shown.values()))
    return Aim(f"Say how to use {listed(names)}", False, (), good, _in_order(course, seats))


def _good(steps: dict[int, Step]) -> tuple[str, ...]:
    """What good looks like: the first checks of the first of its steps."""
    first = steps[min(steps)]
    return tuple(f"{check.what}: {check.limit}" for check in first.checks[:_TESTS])


def aim_words(aim: Aim) -> str:
    """The aim in a line: `saw to length on the bench hook (steps 10, 11)`."""
    steps = f" ({wording.steps_words(aim.numbers)})" if aim.numbers else ""
    return f"{wording.within_sentence(aim.skill)}{steps}"


def new_to(course: Lessons, aim: Aim) -> str:
    """Who it is new to, where that is not the whole class: `, new to seats 1 to 4`; `, again` where it is new to nobody."""
    if not aim.new:
        return ", again" if aim.again else ""
    return f", new to {course.seat_words(aim.new)}" if len(aim.new) < len(course.classes.seats) else ""


def finished_by(course: Lessons, lesson: Session) -> int:
    """How many seats have nothing left to do after a lesson."""
    last: dict[str, int] = defaultdict(int)
    for stint in course.classes.stints:
        for seat in stint.seats:
            last[seat] = max(last[seat], *(span.session for span in stint.spans))
    return sum(0 < number <= lesson.number for number in last.values())
