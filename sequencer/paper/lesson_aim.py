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

_TESTS = 2
"""So many checks of a step are the test of its skill."""
_SHARE = 0.25
"""A skill that is new to fewer of the class than this share is no aim of a whole lesson while there is another."""


@dataclass(frozen=True)
class Aim:
    """What a lesson is for.

    skill
        The operation by its name, an imperative: `Saw to length on the bench hook`.
    again
        Whether it was the aim of an earlier lesson, or nobody does it for the first time.
    numbers
        The steps of the lesson it is done in.
    good
        What is looked at and how close, a check a line.
    """

    skill: str
    again: bool
    numbers: tuple[int, ...]
    good: tuple[str, ...]


def aims(course: Lessons) -> dict[int, Aim]:
    """The aim of each lesson by its number; a lesson in which nobody works at a step has none.

    In turn the skill that is new to most of the class, counted in their minutes, and was no aim before; where there is none such,
    what is new to most; else what takes most of the lesson. Ties go to the earlier step.
    """
    found: dict[int, Aim] = {}
    done: set[tuple[str, str]] = set()
    had: set[str] = set()
    for lesson in course.classes.lessons:
        new: dict[str, float] = defaultdict(float)
        seats: dict[str, set[str]] = defaultdict(set)
        minutes: dict[str, float] = defaultdict(float)
        steps: dict[str, dict[int, Step]] = defaultdict(dict)
        for stint, span in course.stints(lesson.number):
            step = course.steps[stint.step]
            if stint.kind != "step" or not step.checks:
                continue
            steps[step.operation][step.number] = step
            for seat in stint.seats:
                minutes[step.operation] += span.stop - span.start
                if (step.operation, seat) not in done:
                    new[step.operation] += span.stop - span.start
                    seats[step.operation].add(seat)
        done |= {(skill, seat) for skill, some in seats.items() for seat in some}
        if not minutes:
            continue
        fresh = {skill: new[skill] for skill in new if skill not in had and len(seats[skill]) >= _share(course)}
        weigh = fresh or new or minutes
        skill = max(weigh, key=lambda name: (weigh[name], -min(steps[name])))
        found[lesson.number] = Aim(skill, skill in had or skill not in new, tuple(sorted(steps[skill])), _good(steps[skill]))
        had.add(skill)
    return found


def _share(course: Lessons) -> float:
    return _SHARE * len(course.classes.seats)


def _good(steps: dict[int, Step]) -> tuple[str, ...]:
    """What good looks like: the first checks of the first of its steps."""
    first = steps[min(steps)]
    return tuple(f"{check.what}: {check.limit}" for check in first.checks[:_TESTS])


def aim_words(aim: Aim) -> str:
    """The aim in a line: `saw to length on the bench hook (steps 10, 11)`."""
    return f"{wording.within_sentence(aim.skill)} ({wording.steps_words(aim.numbers)})"


def finished_by(course: Lessons, lesson: Session) -> int:
    """How many seats have nothing left to do after a lesson."""
    last: dict[str, int] = defaultdict(int)
    for stint in course.classes.stints:
        for seat in stint.seats:
            last[seat] = max(last[seat], *(span.session for span in stint.spans))
    return sum(0 < number <= lesson.number for number in last.values())
