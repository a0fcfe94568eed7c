"""Seat cards: a card to cut out for each seat, with what it does in each lesson, where and from when until when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from sequencer.model.class_plan import Stint
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import height
from sequencer.paper.pages import Page, PageSize, room_on

ACROSS = 2
"""Cards beside each other."""
_ROW, _LESSON, _HEAD, _EDGE = 4.42, 4.95, 12.0, 5.0
_POINTS = 9.0
_PLACE = 36.0
"""Room for the name of a place, mm."""
_KINDS = {"demonstration": "watch", "sign-off": "show"}
WAITING = "waiting work"


@dataclass(frozen=True)
class SeatRow:
    """One stretch of a seat in a lesson: when, the step by its number or what else it is, where, and how high it prints, mm."""

    time: str
    what: str
    place: str
    tick: bool
    tall: float


@dataclass(frozen=True)
class SeatLesson:
    """A lesson on a card: its number, its day and time, and its rows."""

    title: str
    when: str
    rows: tuple[SeatRow, ...]

    @property
    def tall(self) -> float:
        """How high it prints, mm."""
        return _LESSON + sum(row.tall for row in self.rows)


@dataclass(frozen=True)
class SeatCard:
    """A card, or one of several of a seat where one is not enough."""

    seat: str
    number: int
    count: int
    lessons: tuple[SeatLesson, ...]
    waiting: str


@dataclass(frozen=True)
class SeatPage:
    """Cards of one height, mm, in rows."""

    rows: tuple[tuple[SeatCard, ...], ...]
    tall: float


def seat_cards(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """As many cards of one height to a page as the longest lets; a seat whose card fills more than a page gets several."""
    room = room_on(size, spare=spare)
    high = room.height - 4.0
    width = room.width / ACROSS - 2 * _EDGE
    waiting = course.plan.extension if course.classes.idle else ""
    fixed = _HEAD + (height(f"Waiting work: {waiting}", width, _POINTS) + 1.5 if waiting else 0.0) + _EDGE
    lessons = {seat: _lessons(course, seat) for seat in course.classes.seats}
    longest = max(sum(lesson.tall for lesson in each) for each in lessons.values()) + fixed
    down = max(1, int(high // longest))
    tall = high / down
    cards = [card for seat, each in lessons.items() for card in _cards(seat, each, tall - fixed, waiting)]
    rows = [tuple(cards[at : at + ACROSS]) for at in range(0, len(cards), ACROSS)]
    return course.numbered([SeatPage(tuple(rows[at : at + down]), tall) for at in range(0, len(rows), down)])


def _cards(seat: str, lessons: Sequence[SeatLesson], room: float, waiting: str) -> list[SeatCard]:
    """The lessons of a seat on as few cards as hold them, about equally full; a lesson is never parted."""
    share = sum(lesson.tall for lesson in lessons) / max(1, ceil(sum(lesson.tall for lesson in lessons) / room))
    groups: list[list[SeatLesson]] = [[]]
    for lesson in lessons:
        filled = sum(each.tall for each in groups[-1])
        if groups[-1] and (filled >= share or filled + lesson.tall > room):
            groups.append([])
        groups[-1].append(lesson)
    return [SeatCard(seat, number, len(groups), tuple(group), waiting) for number, group in enumerate(groups, 1)]


def _lessons(course: Lessons, seat: str) -> list[SeatLesson]:
    """The lessons of a seat up to the one in which it finishes."""
    found = []
    last = max((span.session for stint in course.classes.stints if seat in stint.seats for span in stint.spans), default=0)
    for lesson in course.classes.lessons:
        rows = [
            (span.start, SeatRow(course.during(lesson, span), _what(stint), place, True, _tall(place)))
            for stint, span in course.stints(lesson.number)
            if seat in stint.seats
            for place in (course.place(stint.step, stint.place),)
        ]
        if lesson.number <= last:
            rows += [
                (idle.span.start, SeatRow(course.during(lesson, idle.span), WAITING, "", False, _ROW))
                for idle in course.classes.idle
                if idle.seat == seat and idle.span.session == lesson.number
            ]
        if rows:
            rows.sort(key=lambda row: row[0])
            title = f"Lesson {lesson.number}"
            if all(row.what == WAITING for _, row in rows):
                when = f"{course.short_day(lesson)}: {WAITING} all lesson".removeprefix(": ")
                found.append(SeatLesson(title, when, ()))
            else:
                found.append(SeatLesson(title, course.short_day(lesson), tuple(row for _, row in rows)))
    return found


def _tall(place: str) -> float:
    return max(_ROW, height(place, _PLACE, _POINTS) + 0.8)


def _what(stint: Stint) -> str:
    """The step by its number, what part of it where it is done in several; or that it is shown, by whom to whom."""
    if stint.kind != "step":
        return _KINDS[stint.kind]
    return f"step {stint.number}" + (f" ({stint.piece} of {stint.of})" if stint.of > 1 else "")
