"""The register of demonstrations and sign-offs: seats down, what is shown across, with who shows which group when, and empty
boxes.

What is written into it is the school's record; the tool keeps none of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from sequencer.classroom.shown import kind_of
from sequencer.model.class_plan import Span, Stint
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import height
from sequencer.paper.pages import Page, PageSize, room_on

NOTES = (
    "This is the school's record. The school keeps it and deletes it as its policy says. It holds seat codes; whose seat is "
    "whose is on the school's own list.",
    "Only an adult whom the school has authorised for the station fills in a box, after having seen it: date, initials, until "
    "when it counts by school policy.",
    "The numbered lines are what the student does, unasked, while the adult looks on; one that is missing means: not yet.",
    "Whoever was away has been shown nothing: an empty box means that this student does not use the station. A sign-off "
    "replaces no supervision, and can be taken back.",
)
"""Under every page's head (common practice)."""
_HEAD, _TITLE, _SMALL = 42.5, 8.5, 7.5
"""Height of what stands over the rows but for who shows which group, mm; sizes of a column's title and of that text, pt."""
_ROW, _HIGHEST = 4.7, 7.5
"""Height of a row, mm: at the least, and where there is room."""
_SEAT, _SHOWN, _SIGNED = 12.0, 43.0, 82.0
"""Widths of the columns, mm: seats, a station that is shown, one that is signed off too."""


@dataclass(frozen=True)
class RegisterStation:
    """A column: a station or a way of work there, who shows it to whom when, in which lesson each seat's sign-off is planned."""

    title: str
    shown: tuple[str, ...]
    signed_off: bool
    planned: dict[str, str]
    """Lesson by seat; empty where there is none."""
    seen: tuple[str, ...] = ()
    """What a student does, unasked, before staff sign; empty where nobody is signed off."""

    @property
    def width(self) -> float:
        """How wide it is, mm."""
        return _SIGNED if self.signed_off else _SHOWN


@dataclass(frozen=True)
class RegisterPage:
    """What a page shows: some seats, some stations; how high a row is and what is left of the width, mm."""

    seats: tuple[str, ...]
    stations: tuple[RegisterStation, ...]
    row: float
    filler: float
    notes: tuple[str, ...] = NOTES


def sign_off_register(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """As many stations on a page as its width holds, and as many seats as its height does."""
    room = room_on(size, landscape=True, spare=spare)
    pages: list[RegisterPage] = []
    for stations in _abreast(register_stations(course), room.width - _SEAT):
        high = room.height - _HEAD - max(map(_over_the_boxes, stations), default=0.0)
        seats = course.classes.seats
        count = ceil(len(seats) / ceil(len(seats) / max(1, high // _ROW)))
        row = min(_HIGHEST, high / count)
        filler = room.width - _SEAT - sum(station.width for station in stations)
        pages += [
            RegisterPage(seats[first : first + count], tuple(stations), row, filler) for first in range(0, len(seats), count)
        ]
    return course.numbered(pages)


def _over_the_boxes(station: RegisterStation) -> float:
    """Height of what stands over the boxes of a column, but for the first line of its title, mm."""
    wide = station.width - 2.5
    title = height(station.title, wide, _TITLE) - height("A", wide, _TITLE)
    return title + sum(height(text, wide, _SMALL) for text in (*station.shown, *station.seen))


def _abreast(stations: list[RegisterStation], width: float) -> list[list[RegisterStation]]:
    """Stations in order, in groups that are no wider than the page; one empty group where there are none."""
    groups: list[list[RegisterStation]] = [[]]
    for station in stations:
        if groups[-1] and sum(each.width for each in groups[-1]) + station.width > width:
            groups.append([])
        groups[-1].append(station)
    return groups


def register_stations(course: Lessons) -> list[RegisterStation]:
    """What is shown in one go, or signed off, in the lessons: stations in the order in which they are first shown, each with the
    ways of work there that are shown by themselves."""
    shown: dict[str, dict[tuple[str, ...], list[tuple[Stint, Span]]]] = defaultdict(lambda: defaultdict(list))
    signed: dict[str, list[tuple[Stint, Span]]] = defaultdict(list)
    for lesson in course.classes.lessons:
        for stint, span in course.stints(lesson.number):
            if stint.kind == "demonstration":
                shown[kind_of(stint.shows[0])][stint.shows].append((stint, span))
            elif stint.kind == "sign-off":
                signed[course.steps[stint.step].station_kind].append((stint, span))
    seen = {card.kind: card.seen_at_sign_off for card in course.plan.stations}
    found = []
    for kind in dict.fromkeys((*shown, *signed)):
        for shows, stints in (shown[kind] or {(kind,): []}).items():
            signs = signed[kind] if kind in shows else []
            found.append(
                RegisterStation(
                    course.subject((stints or signs)[0][0]),
                    (*(_group(course, stint, span) for stint, span in stints), *dict.fromkeys(_long_ago(course, shows))),
                    bool(signs),
                    {seat: str(span.session) for stint, span in signs for seat in stint.seats},
                    tuple(f"{number} {text}" for number, text in enumerate(seen.get(kind, ()), 1)) if signs else (),
                )
            )
    return found


def _long_ago(course: Lessons, shows: tuple[str, ...]) -> Iterator[str]:
    """Who comes to what is shown long after it was: `3, 7: shown again, lesson 15`."""
    for lesson in course.classes.lessons:
        for care in lesson.cautions:
            if care.kind == "show-again" and care.shown in shows:
                yield f"{course.seats(care.seats)}: shown again, lesson {lesson.number}"


def _group(course: Lessons, stint: Stint, span: Span) -> str:
    """`1 to 12: lesson 1, Technician`."""
    return f"{course.seats(stint.seats)}: lesson {span.session}, {stint.adult}"
