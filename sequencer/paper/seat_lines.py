"""What a seat card says: the lessons of a seat with its rows, each step told by name once, and the tasks for when it waits.

A box to tick stands where a thing gets done. What goes on from an earlier lesson is told by its number alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from sequencer.model.class_plan import Session, Span, Stint
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons

WATCH = "Watch: an adult shows you how."
SHOW = "Show: let an adult see that you can."
GO_ON = "Go on: you have begun it before."
NUMBERS = "Numbers: the steps on your job card. Letters: the parts."
BOX = "Box: tick it when it is done. No box: you go on with it in a later lesson."
WAIT = "Wait: do this task while you wait."
ON_THE_WALL = "W1, W2 and so on: the tasks on the wall."
NOTHING = "No step today"
DONE = "When you have finished"
ASK = "ask"
"""What stands for a task that nobody has written."""
_THEN = ", then "


@dataclass(frozen=True)
class SeatRow:
    """One thing a seat does in a lesson: a step by number and short name or what else it is, and where. `tick`: whether it gets
    done in this lesson. `place` is empty where a step was begun there before, or where the row before is at the same place."""

    what: str
    place: str
    tick: bool

    @property
    def said(self) -> str:
        """The whole row."""
        return ", ".join(text for text in (self.what, self.place) if text)


@dataclass(frozen=True)
class SeatLesson:
    """A lesson on a card: its number, its day, the marks of the tasks for when the seat waits, its rows."""

    number: int
    when: str
    waits: str
    rows: tuple[SeatRow, ...]


@dataclass(frozen=True)
class SeatTask:
    """A task for when a seat waits, by the mark that its lessons name it with: `W1`."""

    mark: str
    does: str


@dataclass(frozen=True)
class SeatLines:
    """All that stands on the card of a seat."""

    seat: str
    lessons: tuple[SeatLesson, ...]
    tasks: tuple[SeatTask, ...]
    when_done: str
    means: tuple[str, ...]


def seat_lines(course: Lessons, seat: str) -> SeatLines:
    """The lines of a seat's card, up to the lesson in which it finishes."""
    last = max((span.session for stint in course.classes.stints if seat in stint.seats for span in stint.spans), default=0)
    own = {task.does for task in course.plan.waiting if task.own}
    waits = sorted(
        (each for each in course.classes.idle if each.seat == seat and each.span.session <= last),
        key=lambda each: (each.span.session, each.span.start),
    )
    marks = {task.does: task.mark for task in all_tasks(course)}
    told: dict[str, str] = {}
    lessons = []
    for lesson in course.classes.lessons[:last]:
        rows = [*_rows(course, seat, lesson, told)]
        here = dict.fromkeys(marks.get(each.does, ASK) for each in waits if each.span.session == lesson.number)
        if here and not rows:
            rows.append(SeatRow(NOTHING, "", False))
        if rows:
            day = course.short_day(lesson).partition(" ")[2]
            lessons.append(SeatLesson(lesson.number, day, ", ".join(here), tuple(rows)))
    used = own | {each.does for each in waits}
    listed = tuple(task for task in all_tasks(course) if task.does in used)
    done = " or ".join(task.mark for task in listed if task.does in own)
    return SeatLines(seat, tuple(lessons), listed, done, _means(lessons))


def all_tasks(course: Lessons) -> tuple[SeatTask, ...]:
    """The tasks for whoever waits with the marks that all cards of the class name them by: the job's own first."""
    given = [*(task.does for task in course.plan.waiting), *(each.does for each in course.classes.idle)]
    return tuple(SeatTask(f"W{number}", does) for number, does in enumerate(dict.fromkeys(filter(None, given)), 1))


def _means(lessons: Sequence[SeatLesson]) -> tuple[str, ...]:
    """What the card's short words and boxes mean; none that it does not use."""
    used = {row.what.partition(":")[0] for lesson in lessons for row in lesson.rows}
    used |= {WAIT.partition(":")[0] for lesson in lessons if lesson.waits}
    return (NUMBERS, BOX, *(text for text in (WATCH, SHOW, GO_ON, WAIT) if text.partition(":")[0] in used))


@dataclass(frozen=True)
class _Turn:
    """What a seat does without anything else between: whether it was begun before, and whether it gets done."""

    stint: Stint
    places: tuple[str, ...]
    begun: bool
    ends: bool


def _rows(course: Lessons, seat: str, lesson: Session, told: dict[str, str]) -> Iterator[SeatRow]:
    """The rows of a lesson in their order. `told`: where each step was said to be last."""

    def alone(turn: _Turn) -> bool:
        """Whether a turn goes on, is not done yet, and is where it was."""
        return turn.stint.kind == "step" and turn.begun and not turn.ends and told.get(turn.stint.step) == turn.places[0]

    here = ""
    for going_on, some in groupby(_turns(course, seat, lesson), key=alone):
        turns = list(some)
        if going_on and len(turns) > 1:
            yield SeatRow(f"Go on: {_THEN.join(str(turn.stint.number) for turn in turns)}", "", False)
        else:
            for turn in turns:
                yield _row(course, turn, told, here)
                here = turn.places[-1]
        here = turns[-1].places[-1]


def _row(course: Lessons, turn: _Turn, told: dict[str, str], here: str) -> SeatRow:
    """`here`: the place of the row before."""
    stint, place = turn.stint, _THEN.join(turn.places)
    if stint.kind != "step":
        return SeatRow("Watch" if stint.kind == "demonstration" else "Show", place, True)
    named = f"{stint.number} {course.short_name(stint.step)}"
    known = place == (told.get(stint.step) if turn.begun else here)
    told[stint.step] = place
    return SeatRow(f"Go on: {named}" if turn.begun else named, "" if known else place, turn.ends)


def _turns(course: Lessons, seat: str, lesson: Session) -> list[_Turn]:
    """A seat's stints in a lesson, in order; what follows itself is one, and so is all that is watched in a row."""
    found: list[_Turn] = []
    own = [(stint, span) for stint, span in course.stints(lesson.number) if seat in stint.seats]
    for stint, span in sorted(own, key=lambda each: each[1].start):
        last = found[-1] if found else None
        turn = _turn(course, stint, span, last)
        if last and last.stint.kind == stint.kind == "demonstration":
            found[-1] = replace(last, places=tuple(dict.fromkeys((*last.places, *turn.places))))
        elif last and (last.stint.kind, last.stint.step, last.places) == (stint.kind, stint.step, turn.places):
            found[-1] = replace(last, ends=turn.ends)
        else:
            found.append(turn)
    return found


def _turn(course: Lessons, stint: Stint, span: Span, before: _Turn | None) -> _Turn:
    """`before`: what the seat did last; where it has watched already goes without saying."""
    watched = before.stint if before and before.stint.kind == "demonstration" else None
    here = course.place(watched.step, watched.place) if watched else ""
    place = wording.within_sentence(course.shown(stint, here))
    first, last = stint.piece == 1 and span == stint.spans[0], stint.piece == stint.of and span == stint.spans[-1]
    return _Turn(stint, (place,), not first, last)
