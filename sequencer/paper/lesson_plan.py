"""The lesson plan: the course on a page, then a page a lesson: its one aim, who is where when, what each adult does, what is
checked, dry and put away, the cautions of this lesson, its end.

Times are told in slots of five minutes. What a page cannot hold is told shorter first, then goes on on the next.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sequencer.model.class_plan import Session, Span, Stint
from sequencer.paper import wording
from sequencer.paper.course_page import course_pages
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import filled, height
from sequencer.paper.laying_out import laid_out, tools_in_all
from sequencer.paper.lesson_aim import Aim, aim_words, aims, new_to
from sequencer.paper.lesson_cautions import MOST, Caution, cautions, for_adults, worn
from sequencer.paper.lesson_staff import staff_lines
from sequencer.paper.lesson_things import (
    dry_by_now,
    has_machines,
    machines_used,
    put_away,
    rags_today,
    settings_to_check,
)
from sequencer.paper.pages import Page, PageSize, room_on
from sequencer.paper.seat_lines import all_tasks

_POINTS = 10.0
_HEAD, _AGAIN, _END, _BOX = 17.5, 14.0, 18.0, 6.4
"""Heights of the page's head, of that of a page that goes on, of what stands at the end, of a list's title, mm."""
_LEAST_CAUTIONS = 3
_WAITING, _ROWS, _ALL_SHORT = 1, 2, 3
"""What is told shorter, one after another, where a lesson fills more than its page: waiting work by its marks, alike steps in one
row, tools by the technician's list."""
_WHERE = (0.31, 0.215, 0.115, 0.36)
"""Columns of who is where when, as shares of the width."""
HURRY = "Times are about: nobody is hurried at a machine or an edge tool."


@dataclass(frozen=True)
class Stretch:
    """From about when which seats."""

    time: str
    seats: str


@dataclass(frozen=True)
class WhereRow:
    """One step at one place: who comes there when, and whether an adult is beside, watches or is in the room."""

    what: str
    place: str
    adult: str
    stretches: tuple[Stretch, ...]

    @property
    def said(self) -> str:
        """The stretches in one line."""
        return "; ".join(f"{each.time}: {each.seats}" for each in self.stretches)


@dataclass(frozen=True)
class LessonLine:
    """A line of a list: a lead in bold, and what is said behind it."""

    text: str
    lead: str = ""


@dataclass(frozen=True)
class LessonBox:
    """A titled list; `ticks`: each line is done and ticked."""

    title: str
    lines: tuple[LessonLine, ...]
    kind: Literal["lines", "ticks"] = "lines"
    place: Literal["first", "left", "right", "below"] = "below"
    """Before who is where when, under it over the whole width, or under these beside another."""


@dataclass(frozen=True)
class Abreast:
    """Lists beside each other."""

    left: tuple[LessonBox, ...]
    right: tuple[LessonBox, ...]


@dataclass(frozen=True)
class LessonHead:
    """What stands over a lesson."""

    number: int
    count: int
    day: str
    time: str
    aim: str
    good: str


@dataclass(frozen=True)
class LessonPage:
    """What a page shows: all of a lesson, or what is left of it (`goes_on`)."""

    head: LessonHead
    goes_on: bool
    first: tuple[LessonBox, ...]
    where: tuple[WhereRow, ...]
    below: tuple[LessonBox, ...]
    abreast: tuple[Abreast, ...]
    says: str
    """What each student says or writes at the end; empty on a page that another follows."""


def lesson_plan(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """The course, then a page a lesson."""
    room = room_on(size, spare=spare)
    found = aims(course)
    lessons = [
        page
        for lesson in course.classes.lessons
        for page in _pages(course, lesson, found.get(lesson.number), room.width, room.height)
    ]
    return course.numbered([*course_pages(course, found, room.width, room.height), *lessons])


def _pages(course: Lessons, lesson: Session, aim: Aim | None, width: float, high: float) -> list[LessonPage]:
    head = _head(course, lesson, aim)
    says = _says(aim)

    def boxed(box: LessonBox, wide: float) -> float:
        room = wide - (8.0 if box.kind == "ticks" else 3.0)
        return _BOX + sum(0.96 * height(f"{line.lead} {line.text}", room, _POINTS) + 0.1 for line in box.lines)

    def tall(entry: WhereRow | LessonBox | Abreast) -> float:
        if isinstance(entry, Abreast):
            return max(sum(boxed(box, width / 2 - 2.0) for box in side) for side in (entry.left, entry.right))
        if isinstance(entry, LessonBox):
            return boxed(entry, width)
        texts = (entry.what, entry.place, entry.adult, entry.said)
        return 1.1 + max(0.96 * height(text, width * share - 2.6, _POINTS) for text, share in zip(texts, _WHERE, strict=True))

    over = _HEAD + height(f"Aim: {head.aim}", width, 11.0) + height(f"Good: {head.good}", width, _POINTS)
    room, again = high - over - _END - height(says, width, _POINTS), high - _AGAIN - _END
    entries: list[WhereRow | LessonBox | Abreast] = []
    shorter = [(MOST, brief) for brief in range(_ALL_SHORT + 1)]
    for most, brief in (*shorter, *((count, _ALL_SHORT) for count in range(MOST - 1, _LEAST_CAUTIONS - 1, -1))):
        boxes = _boxes(course, lesson, most, brief)
        placed = {place: tuple(box for box in boxes if box.place == place) for place in ("first", "left", "right", "below")}
        rows = where_rows(course, lesson, alike=brief >= _ROWS)
        entries = [*placed["first"], *rows, *placed["below"], *_abreast(placed["left"], placed["right"])]
        if sum(tall(entry) for entry in entries) <= room:
            break
    groups = filled(entries, tall, room, again)
    return [
        LessonPage(
            head,
            number > 0,
            tuple(each for each in group if isinstance(each, LessonBox) and each.place == "first"),
            tuple(each for each in group if isinstance(each, WhereRow)),
            tuple(each for each in group if isinstance(each, LessonBox) and each.place == "below"),
            tuple(each for each in group if isinstance(each, Abreast)),
            says if number == len(groups) - 1 else "",
        )
        for number, group in enumerate(groups)
    ]


def _abreast(left: tuple[LessonBox, ...], right: tuple[LessonBox, ...]) -> tuple[LessonBox | Abreast, ...]:
    """Lists beside each other; one that stands alone takes the whole width."""
    if not left:
        left, right = right[:-1], right[-1:]
    return (Abreast(left, right),) if left else tuple(replace(box, place="below") for box in right)


def _head(course: Lessons, lesson: Session, aim: Aim | None) -> LessonHead:
    made = course.classes
    end = lesson.minutes + made.clearing_up
    time = (
        f"{course.at(lesson, -made.settling_in)} to {course.at(lesson, end)}" if course.by_the_clock else f"{made.lesson:g} min"
    )
    skill = f"{aim_words(aim)}{new_to(course, aim)}." if aim else ""
    good = "; ".join(aim.good) + "." if aim else ""
    return LessonHead(lesson.number, len(made.lessons), course.day(lesson), time, wording.heading(skill), wording.heading(good))


def _says(aim: Aim | None) -> str:
    skill = f"{aim.skill}: by myself / with help / not yet (ring one). " if aim else ""
    return f"{skill}Next time I will ____________________."


def where_rows(course: Lessons, lesson: Session, *, alike: bool = False) -> tuple[WhereRow, ...]:
    """Who is where when: a row a step and place, in it the seats by when they come. Demonstrations stand with the adults.

    `alike`: steps of one operation at one place share a row; which of them a seat does stands on its card.
    """
    stints: dict[tuple[str, str, str], list[tuple[Stint, Span]]] = defaultdict(list)
    for stint, span in course.stints(lesson.number):
        if stint.kind != "demonstration":
            about = course.steps[stint.step].operation if alike else stint.step
            stints[stint.kind, course.place(stint.step, stint.place), about if stint.kind == "step" else ""].append((stint, span))
    rows = []
    for (kind, place, _), some in sorted(stints.items(), key=lambda each: (each[0][0] == "step", _numbers(each[1]), each[0][1])):
        found: dict[str, list[str]] = defaultdict(list)
        for stint, span in sorted(some, key=lambda each: each[1].start):
            found[course.slot(lesson, span.start)] += stint.seats
        what = _what(course, some) if kind == "step" else "Sign-off, then the first piece"
        stretches = tuple(Stretch(time, course.seats(seats)) for time, seats in found.items())
        rows.append(WhereRow(what, wording.within_sentence(place), _adult(course, [stint for stint, _ in some]), stretches))
    return tuple(rows)


def _numbers(some: list[tuple[Stint, Span]]) -> list[int]:
    return sorted({stint.number for stint, _ in some})


def _what(course: Lessons, some: list[tuple[Stint, Span]]) -> str:
    """The number and name of a step, or of steps that are alike but for what they are done to: `10, 11 Cut to length`."""
    names = list(dict.fromkeys(course.short_name(stint.step) for stint, _ in some))
    name = names[0] if len(names) == 1 else names[0].partition(",")[0]
    return f"{wording.numbers_words(_numbers(some))} {name}"


def _adult(course: Lessons, stints: Sequence[Stint]) -> str:
    """How an adult is taken up; who stays beside a first piece is said with the sign-off."""
    told = "in the room" if course.steps[stints[0].step].who.supervision == "room" else "watching"
    return "beside" if all(stint.attention >= 1 for stint in stints) else told


def _boxes(course: Lessons, lesson: Session, most: int, brief: int) -> tuple[LessonBox, ...]:
    """The lists of a lesson. `brief`: how much is told shorter."""
    made = course.classes
    waiting = _waiting(course, lesson, brief=brief >= _WAITING)
    boxes = (
        LessonBox(f"Start, until {course.slot(lesson, 0)}", _start(course, lesson, brief=brief >= _ALL_SHORT), "ticks", "first"),
        LessonBox(f"Adults. {HURRY}", _adults(course, lesson), "lines", "first"),
        LessonBox("Must be set or dry by now", _lines(dry_by_now(course, lesson)), "ticks", "left"),
        LessonBox("Put away to set or dry", _lines(put_away(course, lesson)), "lines", "left"),
        LessonBox("Look out for", (*_cautions(cautions(course, lesson), most), *_worn(course, lesson))),
        LessonBox("Waiting work", waiting, "lines", "right" if len(waiting) < 2 else "below"),
        LessonBox(
            f"End, from {course.slot(lesson, lesson.minutes)}, {made.clearing_up:g} minutes",
            _end(course, lesson),
            "ticks",
            "right",
        ),
    )
    return tuple(box for box in boxes if box.lines)


def _lines(texts: Iterable[str]) -> tuple[LessonLine, ...]:
    return tuple(LessonLine(text) for text in texts)


def _adults(course: Lessons, lesson: Session) -> tuple[LessonLine, ...]:
    """What each does, and what all of them are asked to."""
    does = (LessonLine(line.does, f"{line.adult}:") for line in staff_lines(course, lesson))
    return (*does, *(LessonLine(each.text, f"{each.lead}:") for each in for_adults(course, lesson)))


def _start(course: Lessons, lesson: Session, *, brief: bool) -> tuple[LessonLine, ...]:
    jobs = sorted(
        {job.number for job in course.classes.staff_jobs if not job.in_lesson and _before(course, job.spans) == lesson.number}
    )
    found = []
    if jobs:
        found.append(LessonLine(f"{wording.steps_words(jobs)} done, as the technician's list says.", "Staff, before:"))
    if has_machines(course):
        found.append(LessonLine("isolated, keys out, checked by: ________", "Machines not used today:"))
    found += [LessonLine(f"{what}.", f"{wording.heading(place)}:") for place, what in settings_to_check(course, lesson)]
    tools = laid_out(course, lesson)
    names = [each.name for each in tools if each.given_back] + ["waste to try on"] * any(not each.given_back for each in tools)
    what = "as the technician's list says" if brief else ", ".join(names)
    total = tools_in_all(course, lesson)
    found.append(LessonLine(f"{what}. To count, in all: {total}. Out: ______ by ________", "Lay out:"))
    return (*_all_ready(course, lesson), *found)


def _before(course: Lessons, spans: tuple[Span, ...]) -> int:
    """The lesson that a job in staff's own time is done before."""
    sessions = {each.number: each.before for each in course.classes.staff_sessions}
    return sessions[spans[-1].session]


def _all_ready(course: Lessons, lesson: Session) -> tuple[LessonLine, ...]:
    """The stations that the class comes to together in this lesson."""
    found = []
    for kind in course.classes.all_ready:
        there = [
            (span.session, stint.number)
            for stint in course.classes.stints
            for span in stint.spans
            if stint.kind == "step" and course.steps[stint.step].station_kind == kind
        ]
        if there and min(there)[0] == lesson.number:
            first = min(number for _, number in there)
            step = next(step for step in course.plan.steps if step.number == first)
            text = f"nobody starts at the {step.station_title} before everyone is ready for step {first}, {step.title}."
            found.append(LessonLine(text, "The whole class first:"))
    return tuple(found)


def _cautions(found: tuple[Caution, ...], most: int) -> tuple[LessonLine, ...]:
    """As many as there is room for: the last, the gravest, stays."""
    kept = found if len(found) <= most else (*found[: most - 1], found[-1])
    return tuple(LessonLine(each.text, f"{each.lead}:") for each in kept)


def _worn(course: Lessons, lesson: Session) -> tuple[LessonLine, ...]:
    said = worn(course, lesson)
    return (LessonLine(said, "Worn:"),) if said else ()


def _waiting(course: Lessons, lesson: Session, *, brief: bool) -> tuple[LessonLine, ...]:
    """What those do who have nothing of their own to do for a while, and who they are. `brief`: several tasks are told by the
    marks that the cards name them by."""
    found: dict[str, list[str]] = defaultdict(list)
    for each in course.classes.idle:
        if each.span.session == lesson.number:
            found[each.does].append(each.seat)
    if brief and len(found) > 1:
        seats = [seat for some in found.values() for seat in some]
        marks = {task.does: task.mark for task in all_tasks(course)}
        given = sorted(found, key=lambda does: list(marks).index(does) if does else len(marks))
        told = "; ".join(f"{marks.get(does, 'none named')}: {course.seats(found[does])}" for does in given)
        return (LessonLine(f"the task on their cards. {told}.", f"{wording.heading(course.seat_words(seats))}:"),)
    return tuple(
        LessonLine(does or "The job names none: have some ready.", f"{wording.heading(course.seat_words(seats))}:")
        for does, seats in found.items()
    )


def _end(course: Lessons, lesson: Session) -> tuple[LessonLine, ...]:
    used = list(machines_used(course, lesson))
    rags = rags_today(course, lesson)
    found = []
    if used:
        found.append(LessonLine(f"{', '.join(used)}.", "Isolate:"))
    if rags:
        found.append(LessonLine(f"{rags} Count them against the list: ______", "Rags:"))
    found.append(LessonLine("benches and floor, without dry sweeping.", "Clear up:"))
    found.append(LessonLine(f"{tools_in_all(course, lesson)} were counted out. In: ______ by ________", "Count in:"))
    return tuple(found)
