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
    """

    skill: str
    again: bool
    numbers: tuple[int, ...]
    good: tuple[str, ...]


def aims(course: Lessons) -> dict[int, Aim]:
    """The aim of each lesson by its number: what takes most minutes of all students together, ties to the earlier step; where
    nobody works at a step, to say how to use what is shown. A lesson in which nobody does anything has none."""
    found: dict[int, Aim] = {}
    done: set[tuple[str, str]] = set()
    had: set[str] = set()
    for lesson in course.classes.lessons:
        minutes: dict[str, float] = defaultdict(float)
        steps: dict[str, dict[int, Step]] = defaultdict(dict)
        seats: set[tuple[str, str]] = set()
        for stint, span in course.stints(lesson.number):
            step = course.steps[stint.step]
            if stint.kind == "step" and step.checks and not _clears_up(course, step):
                steps[step.operation][step.number] = step
                minutes[step.operation] += len(stint.seats) * (span.stop - span.start)
                seats |= {(step.operation, seat) for seat in stint.seats}
        new = {skill for skill, _ in seats - done}
        done |= seats
        if not minutes:
            if shown := _shown(course, lesson):
                found[lesson.number] = _say_how(course, shown)
            continue
        skill = max(minutes, key=lambda name: (minutes[name], -min(steps[name])))
        found[lesson.number] = Aim(skill, skill in had or skill not in new, tuple(sorted(steps[skill])), _good(steps[skill]))
        had.add(skill)
    return found


def _clears_up(course: Lessons, step: Step) -> bool:
    return bool(step.tasks) and all(course.tasks[task].kind in _NO_AIM for task in step.tasks)


def _shown(course: Lessons, lesson: Session) -> dict[str, Step]:
    """The stations that are shown in a lesson by their titles, in order of time, each with a step where it is shown; tools of
    another bench by themselves."""
    found: dict[str, Step] = {}
    for stint, _ in sorted(course.stints(lesson.number), key=lambda each: each[1].start):
        if stint.kind == "demonstration":
            step = course.steps[stint.step]
            title = course.subject(stint) if course.of_another_bench(stint) else step.station_title
            found.setdefault(title, step)
    return found


def _say_how(course: Lessons, shown: dict[str, Step]) -> Aim:
    """The aim of a lesson in which stations are only shown; its test is what is looked at before work at the first of them."""
    before = {card.station: card.before_starting for card in course.plan.stations}[next(iter(shown.values())).station]
    names = [f"the {wording.within_sentence(title)}" for title in shown]
    good = tuple(f"says unasked: {wording.within_sentence(line).rstrip('.')}" for line in before[:_TESTS])
    return Aim(f"Say how to use {listed(names)}", False, (), good)


def _good(steps: dict[int, Step]) -> tuple[str, ...]:
    """What good looks like: the first checks of the first of its steps."""
    first = steps[min(steps)]
    return tuple(f"{check.what}: {check.limit}" for check in first.checks[:_TESTS])


def aim_words(aim: Aim) -> str:
    """The aim in a line: `saw to length on the bench hook (steps 10, 11)`."""
    steps = f" ({wording.steps_words(aim.numbers)})" if aim.numbers else ""
    return f"{wording.within_sentence(aim.skill)}{steps}"


def finished_by(course: Lessons, lesson: Session) -> int:
    """How many seats have nothing left to do after a lesson."""
    last: dict[str, int] = defaultdict(int)
    for stint in course.classes.stints:
        for seat in stint.seats:
            last[seat] = max(last[seat], *(span.session for span in stint.spans))
    return sum(0 < number <= lesson.number for number in last.values())
