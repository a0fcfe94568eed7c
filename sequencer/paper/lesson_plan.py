"""The lesson plan: a page a lesson, with its time line, who is where when, what staff prepare, lay out and look out for.

A lesson that says more than a page holds goes on on the next.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sequencer.model.class_plan import Session, StaffJob, Stint
from sequencer.model.plan import Step
from sequencer.model.protection import GRAVEST_FIRST
from sequencer.paper import wording
from sequencer.paper.course_words import Lessons
from sequencer.paper.fitting import filled, height
from sequencer.paper.laying_out import laid_out_tools
from sequencer.paper.pages import Page, PageSize, room_on

_AIMS = 3
"""So many at the most: a lesson has few new things to watch for."""
_CAUTIONS = 6
"""So many at the most: a teacher reads them at the door. The risk assessment has all."""
_POINTS = 9.5
_HEAD, _AGAIN, _NOTES, _BOX = 18.5, 14.0, 21.5, 6.7
_TICK_ROOM = " mmmm "
"""About as wide as a box to tick and the room before the next."""
_WHERE = (0.31, 0.18, 0.16, 0.35)
"""Columns of who is where when, as shares of the width."""


@dataclass(frozen=True)
class TimeRow:
    """A stretch of the lesson: from when until when, and what happens."""

    time: str
    what: str


@dataclass(frozen=True)
class Stretch:
    """From when until when which seats."""

    time: str
    seats: str


@dataclass(frozen=True)
class WhereRow:
    """One step at one place: who is there when, and the adult who is taken up by it."""

    what: str
    place: str
    adult: str
    stretches: tuple[Stretch, ...]

    @property
    def said(self) -> str:
        """The stretches in one line."""
        return "; ".join(f"{each.time}: {each.seats}" for each in self.stretches)


@dataclass(frozen=True)
class LessonBox:
    """A titled list. `kind`: `lines`, `ticks` to do one a line, or `flow`: things to tick one after the other."""

    title: str
    lines: tuple[str, ...]
    kind: Literal["lines", "ticks", "flow"] = "lines"


@dataclass(frozen=True)
class LessonHead:
    """What stands over a lesson."""

    number: int
    count: int
    day: str
    time: str
    class_: str
    work: str
    aim: str
    steps: str


@dataclass(frozen=True)
class LessonPage:
    """What a page shows: all of a lesson, or what is left of it (`goes_on`)."""

    head: LessonHead
    goes_on: bool
    time_line: tuple[TimeRow, ...]
    where: tuple[WhereRow, ...]
    boxes: tuple[LessonBox, ...]
    notes: bool


def lesson_plan(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """A page a lesson, two where one does not hold it."""
    room = room_on(size, spare=spare)
    return course.numbered(
        [page for lesson in course.classes.lessons for page in _pages(course, lesson, room.width, room.height)]
    )


def _pages(course: Lessons, lesson: Session, width: float, high: float) -> list[LessonPage]:
    head = _head(course, lesson)
    line = _time_line(course, lesson)
    where = where_rows(course, lesson)
    boxes = _boxes(course, lesson)

    def tall(entry: TimeRow | WhereRow | LessonBox) -> float:
        if isinstance(entry, WhereRow):
            texts = (entry.what, entry.place, entry.adult, entry.said)
            return 1.4 + max(0.96 * height(text, width * share - 3.0, _POINTS) for text, share in zip(texts, _WHERE, strict=True))
        if isinstance(entry, TimeRow):
            return 0.8 + 0.96 * height(entry.what, width * 0.8, _POINTS)
        if entry.kind == "flow":
            return _BOX + height(_TICK_ROOM.join(("", *entry.lines)), width * 0.94, _POINTS)
        return _BOX + sum(
            0.96 * height(text, width - (6.0 if entry.kind == "ticks" else 1.0), _POINTS) + 0.3 for text in entry.lines
        )

    entries: list[TimeRow | WhereRow | LessonBox] = [*line, *where, *boxes]
    aim = height(f"Aim of the work: {head.work} Aim of this lesson: {head.aim} {head.steps}", width, 10.0)
    groups = filled(entries, tall, high - _HEAD - aim - _NOTES, high - _AGAIN - _NOTES)
    return [
        LessonPage(
            head,
            number > 0,
            tuple(each for each in group if isinstance(each, TimeRow)),
            tuple(each for each in group if isinstance(each, WhereRow)),
            tuple(each for each in group if isinstance(each, LessonBox)),
            number == len(groups) - 1,
        )
        for number, group in enumerate(groups)
    ]


def _head(course: Lessons, lesson: Session) -> LessonHead:
    made = course.classes
    who = f"{len(made.seats)} {'pairs' if made.pairs else 'students'}, a seat code each"
    numbers = [stint.number for stint, _ in course.stints(lesson.number) if stint.kind == "step"]
    steps = f"Worked on in this lesson: {wording.steps_words(sorted(set(numbers)))}." if numbers else ""
    end = lesson.minutes + made.clearing_up
    time = (
        f"{course.at(lesson, -made.settling_in)} to {course.at(lesson, end)}" if course.by_the_clock else f"{made.lesson:g} min"
    )
    return LessonHead(
        lesson.number,
        len(made.lessons),
        course.day(lesson),
        time,
        f"{who}; {', '.join(made.adults)}",
        course.plan.learning_aim,
        _aim(course, lesson),
        steps,
    )


def _aim(course: Lessons, lesson: Session) -> str:
    """What students learn to do: of the steps that nobody has worked on before, those that most work on; where there is none,
    those that most go on with."""
    before: set[str] = set()
    for each in course.classes.lessons:
        if each.number < lesson.number:
            before.update(stint.step for stint, _ in course.stints(each.number) if stint.kind == "step")
    seats: dict[str, set[str]] = defaultdict(set)
    for stint, _ in course.stints(lesson.number):
        if stint.kind == "step":
            seats[stint.step].update(stint.seats)
    new = [step for step in seats if step not in before]
    most = sorted(new or seats, key=lambda step: (-len(seats[step]), course.steps[step].number))[:_AIMS]
    titles = [course.steps[step].title for step in sorted(most, key=lambda step: course.steps[step].number)]
    what = "; ".join(title[:1].lower() + title[1:] for title in titles)
    if not what:
        return ""
    return f"students learn to {what}." if new else f"students get surer at this: {what}."


def _time_line(course: Lessons, lesson: Session) -> tuple[TimeRow, ...]:
    made = course.classes
    shown: dict[tuple[int, int, str, str], list[str]] = defaultdict(list)
    for stint, span in course.stints(lesson.number):
        if stint.kind == "demonstration":
            shown[span.start, span.stop, course.place(stint.step, stint.place), stint.adult] += stint.seats
    work = f"{course.at(lesson, 0)} to {course.at(lesson, lesson.minutes).removeprefix('min ')}"
    before = f"{course.at(lesson, -made.settling_in)} to {course.at(lesson, 0).removeprefix('min ')}"
    end = f"{course.at(lesson, lesson.minutes)} to {course.at(lesson, lesson.minutes + made.clearing_up).removeprefix('min ')}"
    if not course.by_the_clock:
        before, end = f"{made.settling_in:g} min before", f"{made.clearing_up:g} min after"
    return (
        TimeRow(before, "Settle in. Cards out. Count the tools out: ____ Counted by: ________"),
        *(
            TimeRow(
                f"{course.at(lesson, start)} to {course.at(lesson, stop).removeprefix('min ')}",
                f"{adult} shows seats {course.seats(seats)}: {place}.",
            )
            for (start, stop, place, adult), seats in sorted(shown.items())
        ),
        TimeRow(work, "Work as below. Times are a plan: nobody is hurried at a machine or an edge tool."),
        TimeRow(end, "Stop. Isolate the machines. Clear up without dry sweeping. Count the tools in: ____ Counted by: ________"),
    )


def where_rows(course: Lessons, lesson: Session) -> tuple[WhereRow, ...]:
    """Who is where when: a row a step and place, in it the seats by their times. Demonstrations stand in the time line."""
    found: dict[tuple[str, int, str, str], list[tuple[int, int, str]]] = defaultdict(list)
    steps: dict[tuple[str, int, str, str], str] = {}
    for stint, span in course.stints(lesson.number):
        if stint.kind == "demonstration":
            continue
        key = (str(stint.kind), stint.number, course.place(stint.step, stint.place), _adult(stint))
        steps[key] = _what(course, stint)
        found[key] += [(span.start, span.stop, seat) for seat in stint.seats]
    rows = []
    for key, spans in sorted(found.items(), key=lambda each: (min(each[1])[:2], each[0])):
        at: dict[tuple[int, int], list[str]] = defaultdict(list)
        for start, stop, seat in spans:
            at[start, stop].append(seat)
        stretches = tuple(
            Stretch(
                f"{course.at(lesson, start)} to {course.at(lesson, stop).removeprefix('min ')}",
                course.seats(seats),
            )
            for (start, stop), seats in sorted(at.items())
        )
        rows.append(WhereRow(steps[key], key[2], key[3], stretches))
    return tuple(rows)


def _what(course: Lessons, stint: Stint) -> str:
    if stint.kind == "sign-off":
        return "Shows that they can, and is signed off"
    return f"{stint.number} {course.steps[stint.step].title}"


def _adult(stint: Stint) -> str:
    """The adult who is taken up, and how: beside, or watching others too."""
    if not stint.adult:
        return "in the room"
    return f"{stint.adult} {'beside' if stint.attention >= 1 else 'watching'}"


def _boxes(course: Lessons, lesson: Session) -> tuple[LessonBox, ...]:
    boxes = (
        LessonBox("The whole class first", _all_ready(course, lesson), "ticks"),
        LessonBox("Staff, before this lesson", _staff_before(course, lesson), "ticks"),
        LessonBox("Staff, in this lesson", _staff_in(course, lesson), "ticks"),
        LessonBox("Lay out, for as many as use it at one time", laid_out_tools(course, lesson), "flow"),
        LessonBox("Must be set or dry by now", _dry(course, lesson), "ticks"),
        LessonBox("Put away to set or dry in this lesson", _put_away(course, lesson)),
        LessonBox("Look out for, gravest first; the risk assessment has the rest", _cautions(course, lesson)),
        LessonBox("Waiting work", _waiting(course, lesson)),
        *(
            (LessonBox("What the files do not settle", tuple(f"{each.what} {each.remedy}" for each in course.classes.findings)),)
            if lesson.number == 1
            else ()
        ),
    )
    return tuple(box for box in boxes if box.lines)


def _all_ready(course: Lessons, lesson: Session) -> tuple[str, ...]:
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
            found.append(f"Nobody starts at the {step.station_title} before everyone is ready for step {first}, {step.title}.")
    return tuple(found)


def _staff_before(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """Jobs in staff's own time since the lesson before."""
    sessions = {each.number: each for each in course.classes.staff_sessions if each.before == lesson.number}
    found = []
    for job in course.classes.staff_jobs:
        spans = [(sessions[span.session], span) for span in job.spans if not job.in_lesson and span.session in sessions]
        if spans:
            times = "; ".join(f"{course.short_day(at)} {course.during(at, span)}".strip() for at, span in spans)
            when = f" ({times})" if course.classes.staff_time_stated and course.by_the_clock else ""
            found.append(f"{_job(course, job)}{when}.")
    return tuple(found)


def _staff_in(course: Lessons, lesson: Session) -> tuple[str, ...]:
    return tuple(
        f"{course.during(lesson, span)}: {_job(course, job)}; students keep away."
        for job in course.classes.staff_jobs
        if job.in_lesson
        for span in job.spans
        if span.session == lesson.number
    )


def _job(course: Lessons, job: StaffJob) -> str:
    many = f", for {job.pieces}" if job.pieces > 1 else ""
    return (
        f"{job.adult}, step {job.number}: {job.title}{many}, at the {wording.within_sentence(course.place(job.step, job.place))}"
    )


def _dry(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """What was put away in earlier lessons and is free by this one: the step, and whose."""
    found: dict[tuple[int, str, int], list[str]] = defaultdict(list)
    for each in course.classes.taken:
        step = course.steps[each.step]
        if each.seat and each.until_lesson == lesson.number and each.span.session < lesson.number:
            found[step.number, step.title, each.span.session].append(each.seat)
    return tuple(
        f"Step {number}, {wording.within_sentence(title)} (done in lesson {done}): seats {course.seats(seats)}"
        for (number, title, done), seats in sorted(found.items())
    )


def _put_away(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """What stays taken after a stint of this lesson, how many, whose, and until when."""
    found: dict[tuple[int, str], dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    counts: dict[tuple[int, str], int] = defaultdict(int)
    for each in course.classes.taken:
        if each.span.session == lesson.number:
            key = course.steps[each.step].number, each.thing
            counts[key] += each.count
            found[key][course.moment(each.until)].append(each.seat)
    return tuple(
        f"{counts[number, thing]} × {thing.replace('-', ' ')} (step {number}): {'; '.join(_held(course, whose))}"
        for (number, thing), whose in sorted(found.items())
    )


def _held(course: Lessons, whose: dict[str, list[str]]) -> Iterator[str]:
    for until, seats in whose.items():
        yield f"seats {course.seats(filter(None, seats))}{f' until {until}' if until else ''}"


def _cautions(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """The gravest hazards of the steps of the lesson with the sentence students know, and which steps; among equally grave
    ones first what belongs to fewest steps of the plan, which is least in everybody's mind."""
    grave = {row.hazard: (GRAVEST_FIRST.index(row.severity), len(row.steps), at) for at, row in enumerate(course.plan.risks)}
    severity = {row.hazard: row.severity for row in course.plan.risks}
    found: dict[str, set[int]] = defaultdict(set)
    said: dict[str, str] = {}
    for step in _steps(course, lesson):
        for hazard in step.hazards:
            found[hazard.name].add(step.number)
            said[hazard.name] = f"{hazard.title}. {hazard.short}"
    last = (len(GRAVEST_FIRST), 0, 0)
    names = sorted(found, key=lambda name: (grave.get(name, last), name))[:_CAUTIONS]
    return tuple(
        f"{said[name]} ({severity.get(name, 'not judged')}; {wording.steps_words(sorted(found[name]))})" for name in names
    )


def _steps(course: Lessons, lesson: Session) -> list[Step]:
    """The steps that seats do in a lesson, in order."""
    chosen = dict.fromkeys(stint.step for stint, _ in course.stints(lesson.number))
    return sorted((course.steps[each] for each in chosen), key=lambda step: step.number)


def _waiting(course: Lessons, lesson: Session) -> tuple[str, ...]:
    """What those do who have nothing of their own to do, and who that is when."""
    found: dict[str, dict[tuple[int, int], list[str]]] = defaultdict(lambda: defaultdict(list))
    for each in course.classes.idle:
        if each.span.session == lesson.number:
            found[each.does][each.span.start, each.span.stop].append(each.seat)
    return tuple(f"{does or 'The job names none: have some ready.'} {_who(course, lesson, at)}" for does, at in found.items())


def _who(course: Lessons, lesson: Session, at: dict[tuple[int, int], list[str]]) -> str:
    return "; ".join(
        f"{course.at(lesson, start)} to {course.at(lesson, stop).removeprefix('min ')}: {course.seats(seats)}"
        for (start, stop), seats in sorted(at.items())
    )
