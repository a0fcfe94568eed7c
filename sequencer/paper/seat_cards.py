"""Seat cards: a card to cut out for each seat, with what it does in each lesson and where, in large letters and few words.

No times: the order is the seat's own, the times are the teacher's (`lesson_plan.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sequencer.model.class_plan import Stint
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import height
from sequencer.paper.pages import Page, PageSize, room_on

ACROSS = 2
"""Cards beside each other."""
SIZES = (14.0, 13.5, 13.0, 12.5, 12.0, 11.5, 11.0, 10.5)
"""Sizes of letters, pt."""
_MORE = 1.1
"""Pages a seat: so many are let pass for larger letters."""
_EDGE, _TICK = 5.0, 7.0
"""Room at the edge of a card, and that a box to tick takes, mm."""
_KINDS = {"demonstration": "Watch", "sign-off": "Show"}
WATCH = "Watch: an adult shows you how."
SHOW = "Show: let an adult see that you can."
GO_ON = "Go on: you have begun it before."
CHANGE = "Your teacher can change this. Tick what is done."
WHEN_DONE = "Waiting work, and when you are done:"
WAITING = "Waiting work"


@dataclass(frozen=True)
class SeatRow:
    """One thing a seat does in a lesson: the step by number and short name or what else it is, where, how high it prints, mm.
    Of waiting work `place` is the task."""

    what: str
    place: str
    tick: bool
    tall: float


@dataclass(frozen=True)
class SeatLesson:
    """A lesson on a card: its number, its day, its rows, how high it prints, mm."""

    title: str
    when: str
    rows: tuple[SeatRow, ...]
    tall: float


@dataclass(frozen=True)
class SeatCard:
    """A card, or one of several of a seat where one is not enough. `means`: what its short words mean."""

    seat: str
    number: int
    count: int
    lessons: tuple[SeatLesson, ...]
    waiting: str
    means: tuple[str, ...]


@dataclass(frozen=True)
class SeatPage:
    """Cards of one height, mm, in rows, in letters of one size, pt."""

    rows: tuple[tuple[SeatCard, ...], ...]
    tall: float
    points: float


def seat_cards(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """As many cards of one height to a page as the longest lets; a seat whose card fills more than a page gets several. In the
    largest letters with which a page holds the cards of nearly every seat; the least where none does."""
    room = room_on(size, spare=spare)
    enough = _MORE * len(course.classes.seats)
    for points in SIZES:
        pages = _laid(course, room.width / ACROSS - 2 * _EDGE, room.height - 4.0, points)
        if len(pages) <= enough:
            break
    return course.numbered(pages)


def _laid(course: Lessons, width: float, high: float, points: float) -> list[SeatPage]:
    waiting = course.plan.extension if course.classes.idle else ""
    head = _EDGE + 8.0 + height(CHANGE, width, points)
    means = sum(height(text, width, points) for text in (WATCH, SHOW, GO_ON))
    last = height(f"{WHEN_DONE} {waiting}", width, points) + 2.0 if waiting else 0.0
    lessons = {seat: _lessons(course, seat, width, points) for seat in course.classes.seats}
    longest = max(sum(lesson.tall for lesson in each) for each in lessons.values()) + head + means + last
    down = max(1, int(high // longest))
    tall = high / down
    cards = [card for seat, each in lessons.items() for card in _cards(seat, each, tall - head, means, last, waiting)]
    rows = [tuple(cards[at : at + ACROSS]) for at in range(0, len(cards), ACROSS)]
    return [SeatPage(tuple(rows[at : at + down]), tall, points) for at in range(0, len(rows), down)]


def _cards(seat: str, lessons: Sequence[SeatLesson], room: float, means: float, last: float, waiting: str) -> list[SeatCard]:
    """The lessons of a seat on as few cards as hold them; a lesson is never parted. The first has room for what short words
    mean, the last for the waiting work."""
    groups: list[list[SeatLesson]] = [[]]
    left = room - means
    for at, lesson in enumerate(lessons):
        need = lesson.tall + (last if at == len(lessons) - 1 else 0.0)
        if groups[-1] and need > left:
            groups.append([])
            left = room
        groups[-1].append(lesson)
        left -= lesson.tall
    return [
        SeatCard(
            seat,
            number,
            len(groups),
            tuple(group),
            waiting if number == len(groups) else "",
            _means(lessons) if number == 1 else (),
        )
        for number, group in enumerate(groups, 1)
    ]


def _means(lessons: Sequence[SeatLesson]) -> tuple[str, ...]:
    """What the short words of a card mean, each once; none that it does not use."""
    used = {row.what.partition(":")[0] for lesson in lessons for row in lesson.rows}
    return tuple(text for text in (WATCH, SHOW, GO_ON) if text.partition(":")[0] in used)


def _lessons(course: Lessons, seat: str, width: float, points: float) -> list[SeatLesson]:
    """The lessons of a seat up to the one in which it finishes."""
    found = []
    last = max((span.session for stint in course.classes.stints if seat in stint.seats for span in stint.spans), default=0)
    line = height("A", width, points)
    for lesson in course.classes.lessons:
        rows = []
        for stint, span in course.stints(lesson.number):
            if seat in stint.seats:
                what, place = _what(course, stint), wording.within_sentence(course.place(stint.step, stint.place))
                tall = height(f"{what}, {place}", width - _TICK, points) + 0.5
                rows.append((span.start, SeatRow(what, place, True, tall)))
        if lesson.number <= last:
            rows += [
                (idle.span.start, _waits(idle.does, course.plan.extension, width, points))
                for idle in course.classes.idle
                if idle.seat == seat and idle.span.session == lesson.number
            ]
        if not rows:
            continue
        rows.sort(key=lambda row: row[0])
        title, day = f"Lesson {lesson.number}", course.short_day(lesson)
        if all(row.what == WAITING and not row.place for _, row in rows):
            found.append(SeatLesson(title, f"{day}: {WAITING.lower()} all lesson".removeprefix(": "), (), line + 1.0))
        else:
            shown = _once(row for _, row in rows)
            found.append(SeatLesson(title, day, shown, line + 1.0 + sum(row.tall for row in shown)))
    return found


def _waits(does: str, extension: str, width: float, points: float) -> SeatRow:
    """What a seat does while it waits; nothing more where that is the task at the foot of the card."""
    more = "" if does == extension else does
    return SeatRow(WAITING, more, False, height(f"{WAITING}: {more}", width - _TICK, points) + 0.5)


def _once(rows: Iterable[SeatRow]) -> tuple[SeatRow, ...]:
    """Rows in order; what goes on without anything else between is told once."""
    found: list[SeatRow] = []
    for row in rows:
        said = row.what.removeprefix("Go on: ")
        if not found or (found[-1].what.removeprefix("Go on: "), found[-1].place) != (said, row.place):
            found.append(row)
    return tuple(found)


def _what(course: Lessons, stint: Stint) -> str:
    """The step by its number and short name, told as gone on with where it was begun before; or that it is shown, by whom to
    whom."""
    if stint.kind != "step":
        return _KINDS[stint.kind]
    return f"{'Go on: ' if stint.piece > 1 else ''}{stint.number} {course.short_name(stint.step)}"
