"""Seat cards: for each seat one card with what it does in each lesson and where, in large letters and few words.

No times: the order is the seat's own, the times are the teacher's (`lesson_plan.py`). `seat_lines.py` has what a card
says; here it finds its room: several cards to a page where their letters stay large, else a page a seat with lessons in columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import height
from sequencer.paper.pages import Page, PageSize, room_on
from sequencer.paper.seat_lines import DONE, ON_THE_WALL, SeatLesson, SeatLines, SeatTask, all_tasks, seat_lines

ACROSS = 2
"""Cards, or columns of one card, beside each other."""
SIZES = (14.0, 13.5, 13.0, 12.5, 12.0, 11.5, 11.0, 10.5)
"""Sizes of letters, pt."""
SHARED = 12.0
"""No smaller are letters where cards share a page, pt: what readers who find reading hard are given (common practice)."""
_EDGE, _HEAD = 5.0, 9.0
"""Room at the edge of a card, and of its first line, mm."""
_LESSON, _TICK = 17.0, 7.0
"""Columns of a card's lessons: the number of the lesson with its day, the box to tick, mm."""
_DAY = 8.0
"""Letters of the day, pt."""
_LINES = 0.95
"""Lines of cards stand closer than `fitting` takes them to."""
CHANGE = "Your teacher can change this."


@dataclass(frozen=True)
class SeatCard:
    """A card, or one of several of a seat where a page is not enough. What short words mean stands on the first, the tasks for
    when it waits on the last."""

    seat: str
    number: int
    count: int
    columns: tuple[tuple[SeatLesson, ...], ...]
    means: tuple[str, ...]
    tasks: tuple[SeatTask, ...]
    when_done: str

    @property
    def lessons(self) -> tuple[SeatLesson, ...]:
        """The lessons of all columns, in order."""
        return tuple(lesson for column in self.columns for lesson in column)


@dataclass(frozen=True)
class SeatPage:
    """Cards of one height, mm, in rows, in letters of one size, pt."""

    rows: tuple[tuple[SeatCard, ...], ...]
    tall: float
    points: float


@dataclass(frozen=True)
class TasksPage:
    """The tasks for whoever waits, to hang on the wall, where the cards have no room for them."""

    tasks: tuple[SeatTask, ...]


def seat_cards(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """On as few pages as hold every seat's card whole, in the largest letters for so many.

    Where a card with its tasks fills more than a page in the smallest letters, all tasks of the class stand on one page for the
    wall; where it fills more without them too, that seat gets another page.
    """
    room = room_on(size, spare=spare)
    lines = [seat_lines(course, seat) for seat in course.classes.seats]
    high = room.height - 4.0
    shared = [_shared(lines, room.width, high, points) for points in SIZES if points >= SHARED]
    if any(shared):
        return course.numbered(min(filter(None, shared), key=len))
    bare = [replace(each, tasks=(), means=(*each.means, ON_THE_WALL)) for each in lines]
    found = []
    for some, points in product((lines, bare), SIZES):
        wall = [TasksPage(all_tasks(course))] if some is bare else []
        found.append([*(page for each in some for page in _alone(each, room.width - 6.0, high, points)), *wall])
        if len(found[-1]) == len(lines) + len(wall):
            return course.numbered(found[-1])
    return course.numbered(min(found, key=len))


def _shared(lines: Sequence[SeatLines], wide: float, high: float, points: float) -> list[SeatPage]:
    """Cards beside and under each other, as many to a page as the longest lets; none where the longest fills more than a page."""
    width = wide / ACROSS - 2 * _EDGE
    longest = max(
        _EDGE
        + _HEAD
        + _head(each, width, points)
        + _foot(each, width, points)
        + sum(_tall(one, width, points) for one in each.lessons)
        for each in lines
    )
    if longest > high:
        return []
    down = int(high // longest)
    cards = [SeatCard(each.seat, 1, 1, (each.lessons,), each.means, each.tasks, each.when_done) for each in lines]
    rows = [tuple(cards[at : at + ACROSS]) for at in range(0, len(cards), ACROSS)]
    return [SeatPage(tuple(rows[at : at + down]), high / down, points) for at in range(0, len(rows), down)]


def _alone(lines: SeatLines, wide: float, high: float, points: float) -> list[SeatPage]:
    """A seat's card in columns on one page, or on as many as it asks for; a lesson is never parted."""
    column = wide / ACROSS - 1.5
    room = high - _EDGE - _HEAD
    head, foot = _head(lines, wide, points), _foot(lines, wide, points)
    talls = [_tall(each, column, points) for each in lines.lessons]
    groups: list[list[list[SeatLesson]]] = []
    at = 0
    while at < len(talls) or not groups:
        first = 0.0 if groups else head
        count = next((n for n in range(len(talls) - at, 0, -1) if _columned(talls[at : at + n], room - first)), 1)
        if at + count == len(talls) and not _columned(talls[at:], room - first - foot):
            count = max(1, count - 1)
        left = room - first - (foot if at + count == len(talls) else 0.0)
        cut = _columned(talls[at : at + count], left) or count
        groups.append([[*lines.lessons[at : at + cut]], [*lines.lessons[at + cut : at + count]]])
        at += count
    return [
        SeatPage(
            (
                (
                    SeatCard(
                        lines.seat,
                        number,
                        len(groups),
                        tuple(tuple(each) for each in group),
                        lines.means if number == 1 else (),
                        lines.tasks if number == len(groups) else (),
                        lines.when_done if number == len(groups) else "",
                    ),
                ),
            ),
            high,
            points,
        )
        for number, group in enumerate(groups, 1)
    ]


def _columned(talls: Sequence[float], room: float) -> int:
    """How many lessons stand in the first of two columns, which are as even as can be; 0 where they are higher than the room."""
    cut = min(range(1, len(talls) + 1), key=lambda at: max(sum(talls[:at]), sum(talls[at:])), default=0)
    return cut if cut and max(sum(talls[:cut]), sum(talls[cut:])) <= room else 0


def _tall(lesson: SeatLesson, width: float, points: float) -> float:
    rows = sum(_LINES * height(row.said, width - _LESSON - _TICK - 2.5, points) + 0.4 for row in lesson.rows)
    beside = height("A", width, points) + (height(f"Wait: {lesson.waits}", _LESSON, _DAY) if lesson.waits else 0.0)
    return 1.1 + max(rows, beside)


def _head(lines: SeatLines, width: float, points: float) -> float:
    return _LINES * height(" ".join((CHANGE, *lines.means)), width, points) + height("A", width, _DAY) + 1.0


def _foot(lines: SeatLines, width: float, points: float) -> float:
    tasks = [f"{each.mark}: {each.does}" for each in lines.tasks]
    done = [f"{DONE}: {lines.when_done}"] if lines.when_done else []
    return _LINES * sum(height(text, width, points) for text in (*tasks, *done)) + (2.0 if tasks or done else 0.0)
