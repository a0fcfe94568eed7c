"""The wall chart: stations over the lessons on one page, then stations over slots of five minutes of each, with seat codes.

Slots, not minutes: nobody across the room reads a minute from the edge of a bar, and nobody runs a class by it. They are those of
the lesson plan (`course_words.SLOT`), so that the two say the same. A column says where every seat is: all who work at a place in
a slot stand in one box, whatever their step, which their card tells; boxes with the same seats are one. So letters are large.

Black on white: white boxes are steps, hatched ones demonstrations, crossed ones sign-offs; a thick edge means an adult stays.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from markupsafe import Markup

from sequencer.model.class_plan import Session, Span, Stint, StintKind
from sequencer.paper.course_words import SLOT, Lessons
from sequencer.paper.pages import Page, PageSize, room_on
from sequencer.paper.svg import Pen, Picture, shortened, text_width
from sequencer.paper.wording import numbers_words

_LABELS, _SHORT_LABELS = 44.0, 60.0
_TITLE, _LEGEND, _AXIS = 17.0, 8.0, 8.0
_LETTERS = 16.0
"""The largest letters of seat codes, mm: read from three metres (about a two-hundredth of the distance, common practice)."""
_LEAST = 2.6
_TALLEST, _LOWEST = 46.0, 6.5
"""Heights of a lane, mm: as much as is of use, and the least that letters fit in."""
_LOW, _STACKED, _CLEAR = 10.0, 15.0, 6.0
"""In lanes lower than the second the step stands beside the seats, where letters stay as large as the third, mm; in those lower
than the first always."""
_GAP, _LEADING = 1.6, 1.15
_MOST_LESSONS = 28
"""Columns of one page of lessons."""
_GLANCE = "Each number: how many seats are there in that lesson. Hatched: they only watch, or show what they can."
_KEY = (
    f"Numbers are seats. A column: about {SLOT} minutes. White: work. Hatched: watch. Crossed: show that you can. "
    "Thick left edge: an adult stays."
)


@dataclass(frozen=True)
class Bar:
    """Seats that are at one place in the same slots: `first` and those after it, up to the one before `stop`."""

    kind: StintKind
    numbers: tuple[int, ...]
    seats: frozenset[str]
    first: int
    stop: int
    adult: bool
    ways: str = ""
    """Of what is watched, the ways of work that are shown by themselves."""


@dataclass(frozen=True)
class Row:
    """A place with its bars in lanes: no two of a lane at one time."""

    place: str
    lanes: tuple[tuple[Bar, ...], ...]


@dataclass(frozen=True)
class ChartPage:
    """A page: its title, the day and time, what the signs mean, and the picture."""

    title: str
    when: str
    key: str
    picture: Markup


def wall_chart(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """The lessons at a glance, then each lesson; a lesson with more lanes than fit goes on on another page."""
    room = room_on(size, landscape=True, spare=spare)
    width, high = room.width, room.height - _TITLE - _LEGEND
    lessons = course.classes.lessons
    share = ceil(len(lessons) / ceil(len(lessons) / _MOST_LESSONS))
    pages = [
        ChartPage("The lessons", "", _GLANCE, Markup(_overview(course, lessons[at : at + share], width, high).svg))
        for at in range(0, len(lessons), share)
    ]
    for lesson in lessons:
        groups = _on_pages(chart_rows(course, lesson), high - _AXIS)
        for number, group in enumerate(groups):
            title = f"Lesson {lesson.number} of {len(lessons)}{', goes on' if number else ''}"
            pages.append(ChartPage(title, _when(course, lesson), _KEY, Markup(_picture(course, lesson, group, width, high).svg)))
    return course.numbered(pages)


def _when(course: Lessons, lesson: Session) -> str:
    return " ".join(each for each in (course.day(lesson), course.at(lesson, 0) if course.by_the_clock else "") if each)


def slots(course: Lessons, lesson: Session) -> tuple[int, int]:
    """How many minutes before work begins the first slot does, and how many slots a lesson has."""
    early = int(lesson.clock.partition(":")[2]) % SLOT if course.by_the_clock else 0
    return early, ceil((lesson.minutes + early) / SLOT)


def chart_rows(course: Lessons, lesson: Session) -> tuple[Row, ...]:
    """Who is at which place in which slots of a lesson, in the order of the steps."""
    found: dict[str, dict[StintKind, dict[int, list[Stint]]]] = defaultdict(lambda: defaultdict(lambda: defaultdict(list)))
    for stint, span in course.stints(lesson.number):
        at = found[course.place(stint.step, stint.place)][stint.kind]
        for slot in slots_of(course, lesson, span):
            at[slot].append(stint)
    rows = []
    for place, kinds in found.items():
        lanes: list[list[Bar]] = []
        for bar in sorted(
            (bar for kind, there in kinds.items() for bar in _bars(course, kind, there)), key=lambda bar: bar.first
        ):
            lane = next((each for each in lanes if each[-1].stop <= bar.first), None)
            if lane is None:
                lanes.append([bar])
            else:
                lane.append(bar)
        rows.append(Row(place, tuple(map(tuple, lanes))))
    return tuple(sorted(rows, key=lambda row: (min(bar.numbers for lane in row.lanes for bar in lane), row.place)))


def slots_of(course: Lessons, lesson: Session, span: Span) -> range:
    """The slots of a stretch. Both its ends go back to the slot they fall into, so that what follows something does so on the
    chart; what begins and is over in one slot has that one."""
    early, _ = slots(course, lesson)
    first = (span.start + early) // SLOT
    return range(first, max(first + 1, (span.stop + early) // SLOT))


def _bars(course: Lessons, kind: StintKind, there: Mapping[int, Sequence[Stint]]) -> Iterator[Bar]:
    """Who is at a place slot by slot, with slots that follow each other and have the same seats as one."""
    last: Bar | None = None
    for slot in sorted(there):
        numbers = tuple(sorted({stint.number for stint in there[slot]}))
        bar = Bar(
            kind,
            numbers,
            frozenset(seat for stint in there[slot] for seat in stint.seats),
            slot,
            slot + 1,
            any(stint.adult for stint in there[slot]),
            "".join(dict.fromkeys(map(course.ways, there[slot]))),
        )
        if last and (last.stop, last.seats, last.adult, last.ways) == (slot, bar.seats, bar.adult, bar.ways):
            last = replace(last, numbers=tuple(sorted({*last.numbers, *numbers})), stop=slot + 1)
            continue
        if last:
            yield last
        last = bar
    if last:
        yield last


def _on_pages(rows: Sequence[Row], high: float) -> list[list[Row]]:
    """Rows on as few pages as hold them with lanes of the least height; a place with too many lanes is parted."""
    most = int((high - _GAP * len(rows)) // _LOWEST)
    pages: list[list[Row]] = [[]]
    left = most
    for row in rows:
        lanes = row.lanes
        while lanes:
            if left == 0 or (len(lanes) > left and len(lanes) <= most):
                pages.append([])
                left = most
            pages[-1].append(Row(row.place, lanes[:left]))
            lanes, left = lanes[left:], left - min(left, len(lanes))
    return pages


def _picture(course: Lessons, lesson: Session, rows: Sequence[Row], width: float, high: float) -> Picture:
    pen = Pen()
    count = sum(len(row.lanes) for row in rows)
    lane = min(_TALLEST, (high - _AXIS - _GAP * len(rows)) / max(1, count))
    early, columns = slots(course, lesson)
    scale = (width - _LABELS - 1.0) / columns
    bottom = _AXIS + count * lane + _GAP * len(rows)
    size = min(6.0, 0.8 * scale / text_width("00:00", 1.0))
    for column in range(columns + 1):
        x = _LABELS + column * scale
        pen.lines("grid", [((x, _AXIS - 1.5), (x, bottom))], 0.2)
        if column < columns:
            pen.text(course.at(lesson, column * SLOT - early), (x, _AXIS - 4.5), size=size, anchor="middle")
    y = _AXIS
    for row in rows:
        tall = lane * len(row.lanes)
        pen.lines("grid", [((0, y), (width, y))], 0.4)
        _label(pen, row.place, y + _GAP / 2 + tall / 2, tall)
        for number, bars in enumerate(row.lanes):
            for bar in bars:
                left = _LABELS + bar.first * scale
                _bar(pen, course, bar, left, y + _GAP / 2 + number * lane, (bar.stop - bar.first) * scale, lane)
        y += tall + _GAP
    pen.lines("grid", [((0, y), (width, y))], 0.4)
    return Picture(pen.finish(width, y + 0.5, f"Lesson {lesson.number}: who is at which place when"), width, y + 0.5)


def _label(pen: Pen, place: str, middle: float, tall: float) -> None:
    """The name of a place on one line or two, in letters as large as there is room for."""
    lines, size = _on_two_lines(place, _LABELS - 2.0, tall)
    for number, line in enumerate(lines):
        pen.text(line, (0.5, middle + (number - (len(lines) - 1) / 2) * _LEADING * size), size=size, anchor="start")


def _on_two_lines(text: str, room: float, tall: float) -> tuple[list[str], float]:
    """A text on one line or two, in letters as large as there is room for; their size."""
    words = text.split(" ")
    ways = [[text], *([" ".join(words[:at]), " ".join(words[at:])] for at in range(1, len(words)))]

    def fits(lines: Sequence[str]) -> float:
        widest = max(text_width(line, 1.0) for line in lines)
        return min(6.0, room / widest, tall / (_LEADING * len(lines)))

    best = max(ways, key=fits)
    return best, fits(best)


def _bar(pen: Pen, course: Lessons, bar: Bar, left: float, top: float, wide: float, tall: float) -> None:
    x1, y1, x2, y2 = left + 0.3, top + 0.4, left + wide - 0.3, top + tall - 0.4
    pen.path("bar", [(x1, y1), (x2, y1), (x2, y2), (x1, y2)], 0.5, closed=True, fill="#fff")
    if bar.kind != "step":
        pen.lines("hatch", _hatch(x1, y1, x2, y2, crossed=bar.kind == "sign-off"), 0.2)
    if bar.adult:
        pen.lines("adult", [((x1 + 0.7, y1), (x1 + 0.7, y2))], 1.6)
        x1 += 1.4
    seats = course.seats(bar.seats, "-").replace(", ", " ")
    under = {"demonstration": f"watch{bar.ways}", "sign-off": "show"}.get(
        bar.kind, f"step{'s' if len(bar.numbers) > 1 else ''} {numbers_words(bar.numbers)}"
    )
    room, middle = x2 - x1 - 1.0, (x1 + x2) / 2
    clear = bar.kind != "step"
    beside = f"{seats} · {under}"
    if tall < _STACKED:
        size = min(_LETTERS, tall * 0.68, room / text_width(beside, 1.0))
        if size >= (_LEAST if tall < _LOW else _CLEAR):
            pen.text(beside, (middle, (y1 + y2) / 2), size=size, clear=clear)
            return
    lines = _parted(seats, room, tall)
    below, small = _on_two_lines(under, room, tall * 0.5) if bar.ways else ([under], 6.0)
    small = min(small, tall * 0.26, room / max(text_width(line, 1.0) for line in below))
    size = min(_LETTERS, (tall - 1.2 - small * 1.1 * len(below)) / len(lines), *(room / text_width(line, 1.0) for line in lines))
    block = size * len(lines) + small * 1.1 * len(below)
    y = (y1 + y2) / 2 - block / 2
    for line in lines:
        pen.text(line, (middle, y + size / 2), size=size, clear=clear)
        y += size
    for line in below:
        pen.text(line, (middle, y + small * 0.6), size=small, bold=False, clear=clear)
        y += small * 1.1


def _parted(seats: str, room: float, tall: float) -> list[str]:
    """Seat codes on so many lines that their letters are largest."""
    words = seats.split(" ")
    best: tuple[float, list[str]] = (0.0, [seats])
    for count in range(1, len(words) + 1):
        share = -(-len(words) // count)
        lines = [" ".join(words[at : at + share]) for at in range(0, len(words), share)]
        size = min(_LETTERS, tall * 0.66 / len(lines), *(room / text_width(line, 1.0) for line in lines))
        if size > best[0] + 0.01:
            best = size, lines
    return best[1]


def _hatch(x1: float, y1: float, x2: float, y2: float, *, crossed: bool) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Slanting lines over a rectangle, 2 mm apart; in both directions where crossed."""
    wide, tall = x2 - x1, y2 - y1
    found = []
    at = 2.0
    while at < wide + tall:
        low, high = max(0.0, at - tall), min(at, wide)
        found.append(((x1 + low, y1 + at - low), (x1 + high, y1 + at - high)))
        if crossed:
            found.append(((x2 - low, y1 + at - low), (x2 - high, y1 + at - high)))
        at += 2.0
    return found


def _overview(course: Lessons, lessons: Sequence[Session], width: float, high: float) -> Picture:
    """How many seats are at which place in which lesson; hatched where a place is only shown."""
    counts: dict[str, dict[int, tuple[set[str], bool]]] = defaultdict(dict)
    first: dict[str, int] = {}
    for stint in course.classes.stints:
        place = course.place(stint.step, stint.place)
        for span in stint.spans:
            if not lessons[0].number <= span.session <= lessons[-1].number:
                continue
            first[place] = min(first.get(place, stint.number), stint.number)
            seats, worked = counts[place].get(span.session, (set(), False))
            counts[place][span.session] = (seats | set(stint.seats), worked or stint.kind == "step")
    places = sorted(counts, key=lambda place: (first[place], place))
    pen = Pen()
    top = 16.0
    tall = min(11.0, (high - top) / len(places))
    wide = (width - _SHORT_LABELS) / len(lessons)
    size = min(6.0, tall * 0.62, wide * 0.62)
    for number, lesson in enumerate(lessons):
        x = _SHORT_LABELS + (number + 0.5) * wide
        pen.text(str(lesson.number), (x, 4.0), size=min(6.0, wide * 0.6))
        day = course.short_day(lesson).split(" ")
        if len(day) == 3:
            pen.text(day[1], (x, 9.0), size=min(3.6, wide * 0.4), bold=False)
            pen.text(day[2], (x, 13.0), size=min(3.6, wide * 0.4), bold=False)
    pen.text("Lesson", (0.5, 4.0), size=5.0, anchor="start")
    for number, place in enumerate(places):
        y = top + number * tall
        pen.lines("grid", [((0, y), (width, y))], 0.25)
        pen.text(shortened(place, _SHORT_LABELS - 2.0, 4.6), (0.5, y + tall / 2), size=4.6, anchor="start", bold=False)
        for at, lesson in enumerate(lessons):
            seats, worked = counts[place].get(lesson.number, (set(), False))
            if not seats:
                continue
            x = _SHORT_LABELS + at * wide
            corners = (x + 0.5, y + 0.6, x + wide - 0.5, y + tall - 0.6)
            pen.path(
                "bar",
                [(corners[0], corners[1]), (corners[2], corners[1]), (corners[2], corners[3]), (corners[0], corners[3])],
                0.4,
                closed=True,
                fill="#fff",
            )
            if not worked:
                pen.lines("hatch", _hatch(*corners, crossed=False), 0.2)
            pen.text(str(len(seats)), (x + wide / 2, y + tall / 2), size=size, clear=not worked)
    bottom = top + tall * len(places)
    pen.lines("grid", [((0, bottom), (width, bottom))], 0.25)
    return Picture(pen.finish(width, bottom + 0.5, "How many seats are at which place in which lesson"), width, bottom + 0.5)
