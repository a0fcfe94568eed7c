"""The technician's list: lesson by lesson, what staff set and prepare before it, what comes out of cramps or off the drying
places, what is laid out and counted, and what each machine that students use must stand at.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from sequencer.model.class_plan import Session, Span, StaffJob, Taken
from sequencer.model.plan import Step
from sequencer.paper import wording
from sequencer.paper.course_words import SLOT, Lessons
from sequencer.paper.fitting import filled, height
from sequencer.paper.laying_out import is_of, laid_out, tools_in_all
from sequencer.paper.lesson_things import settings_to_check
from sequencer.paper.pages import Page, PageSize, room_on

NEVER_ALONE = (
    "Nobody works at a machine alone, before and after school too: a second adult is there. Isolate a machine before you set it. "
    "Try the setting on waste. Put guards back and check them before students come."
)
"""Over every page (design of the project; common practice)."""
_HEAD, _LESSON, _TITLE = 27.0, 9.5, 6.4
"""Heights of the page's head, of a lesson's heading and of a list's, mm."""
_POINTS = 9.5
_TICK, _BOLD = 6.0, 5.0
"""Room that a box to tick takes of a line, and that its bold words take more than others, mm."""
_TICK_ROOM = " mmmmm "
"""About as wide as a box to tick and the room before the next."""


@dataclass(frozen=True)
class TechnicianLine:
    """A line of a list: a lead in bold, and what is said behind it."""

    lead: str
    text: str = ""
    given_back: bool = False
    """Whether it is counted in again: a second box."""


@dataclass(frozen=True)
class TechnicianBlock:
    """A list under a lesson, or a part of one. `flow`: things to tick one after the other; `plain`: nothing to tick."""

    title: str
    lines: tuple[TechnicianLine, ...]
    kind: Literal["ticks", "flow", "plain"] = "ticks"


@dataclass(frozen=True)
class TechnicianLesson:
    """What stands on a page under one lesson. `goes_on`: whether it began on the page before."""

    title: str
    when: str
    blocks: tuple[TechnicianBlock, ...]
    goes_on: bool = False


@dataclass(frozen=True)
class TechnicianPage:
    """What a page shows."""

    lessons: tuple[TechnicianLesson, ...]


def technician_list(course: Lessons, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """The lessons one under the other; one stands whole on a page where a page holds it."""
    room = room_on(size, spare=spare)
    high = room.height - _HEAD

    def tall(parts: Sequence[_Part]) -> float:
        return sum(_high(part, room.width) for part in parts)

    units: list[tuple[_Part, ...]] = []
    for lesson in _lessons(course):
        parts = tuple(_parts(lesson))
        units += [parts] if tall(parts) <= high else [(part,) for part in parts]
    groups = filled(units, tall, high, high)
    return course.numbered([TechnicianPage(_together([part for unit in group for part in unit])) for group in groups])


@dataclass(frozen=True)
class _Part:
    """What stays together on a page: a line of a list, or a list that flows; with what stands over it where it opens."""

    lesson: TechnicianLesson
    block: TechnicianBlock
    opens_lesson: bool
    opens_list: bool


def _parts(lesson: TechnicianLesson) -> Iterator[_Part]:
    for block in lesson.blocks:
        lines = [block.lines] if block.kind == "flow" else [(line,) for line in block.lines]
        for number, some in enumerate(lines):
            first = number == 0
            yield _Part(lesson, TechnicianBlock(block.title, some, block.kind), first and block is lesson.blocks[0], first)


def _together(parts: list[_Part]) -> tuple[TechnicianLesson, ...]:
    """The parts of a page under their lessons and lists again."""
    found: dict[str, list[_Part]] = defaultdict(list)
    for part in parts:
        found[part.lesson.title].append(part)
    lessons = []
    for mine in found.values():
        lists: dict[str, TechnicianBlock] = {}
        for block in (part.block for part in mine):
            before = lists[block.title].lines if block.title in lists else ()
            lists[block.title] = TechnicianBlock(block.title, (*before, *block.lines), block.kind)
        lesson = mine[0].lesson
        lessons.append(TechnicianLesson(lesson.title, lesson.when, tuple(lists.values()), not mine[0].opens_lesson))
    return tuple(lessons)


def _high(part: _Part, width: float) -> float:
    over = (_LESSON if part.opens_lesson else 0.0) + (_TITLE if part.opens_list else 0.0)
    lines = part.block.lines
    if part.block.kind == "flow":
        return over + 1.0 + height(_TICK_ROOM.join(("", *(line.lead for line in lines))), width * 0.94, _POINTS)
    return over + sum(height(f"{line.lead} {line.text}", width - _TICK - _BOLD, _POINTS) + 0.3 for line in lines)


def _lessons(course: Lessons) -> list[TechnicianLesson]:
    made = course.classes
    found = []
    for lesson in made.lessons:
        when = ", ".join(text for text in (course.day(lesson), _bell(course, lesson)) if text)
        blocks = tuple(block for block in _blocks(course, lesson) if block.lines)
        found.append(TechnicianLesson(f"Before lesson {lesson.number}", when, blocks))
    after = (
        TechnicianBlock("Set and prepare, in this order", tuple(_jobs(course, 0))),
        TechnicianBlock("Take out of cramps and off the drying places, and count in", tuple(_given_back(course, 0))),
    )
    if any(block.lines for block in after):
        found.append(TechnicianLesson("After the last lesson", "", tuple(block for block in after if block.lines)))
    return found


def _bell(course: Lessons, lesson: Session) -> str:
    """When a lesson starts: `10:15`; nothing where the timetable is not stated."""
    return course.at(lesson, -course.classes.settling_in) if course.by_the_clock else ""


def _blocks(course: Lessons, lesson: Session) -> tuple[TechnicianBlock, ...]:
    found = laid_out(course, lesson)
    tools = tuple(TechnicianLine(each.said, given_back=each.given_back) for each in found)
    total = tools_in_all(course, lesson)
    return (
        TechnicianBlock("Set and prepare, in this order", tuple(_jobs(course, lesson.number))),
        TechnicianBlock("Take out of cramps and off the drying places, and count in", tuple(_given_back(course, lesson.number))),
        TechnicianBlock(
            "Check before the class comes, each machine isolated: other classes use it too", tuple(_checks(course, lesson))
        ),
        TechnicianBlock(f"Lay out, {total} to count. First box: out. Second box: in.", tools, "flow"),
        TechnicianBlock("Have ready: it stays taken after the work", tuple(_stays_on(course, lesson)), "flow"),
        TechnicianBlock("While the class is there, students away from the machine", tuple(_in_lesson(course, lesson))),
    )


# Jobs


def _jobs(course: Lessons, before: int) -> Iterator[TechnicianLine]:
    """The jobs in staff's own time that come next before a lesson (0: after the last), in order of time."""
    sessions = {session.number: session for session in course.classes.staff_sessions}
    spans = [
        (span, job)
        for job in course.classes.staff_jobs
        if not job.in_lesson
        for span in job.spans
        if sessions[span.session].before == before
    ]
    for span, job in sorted(spans, key=lambda each: (each[0].session, each[0].start, each[1].number)):
        yield _line(course, job, sessions[span.session], span, stated=course.classes.staff_time_stated)


def _in_lesson(course: Lessons, lesson: Session) -> Iterator[TechnicianLine]:
    for job in course.classes.staff_jobs:
        for span in job.spans:
            if job.in_lesson and span.session == lesson.number:
                yield _line(course, job, lesson, span, stated=course.by_the_clock)


def _line(course: Lessons, job: StaffJob, session: Session, span: Span, *, stated: bool) -> TechnicianLine:
    step = course.steps[job.step]
    minutes = f"{span.stop - span.start} min"
    when = f"{course.short_day(session)} {course.during(session, span)}, {minutes}".strip() if stated else minutes
    first = span == job.spans[0]
    place = wording.within_sentence(course.place(job.step, job.place))
    more = f"{_pieces(job, step)}{_settings(course, step)}" if first else " Go on with what was begun before."
    lead = f"{job.number} {job.title}."
    there = f" With {_second(course, job.adult)}." if not job.in_lesson and step.station in _motors(course) else ""
    text = f"{job.adult}, {when}, at the {place}.{there}{more}"
    return TechnicianLine(lead, text)


def _motors(course: Lessons) -> set[str]:
    return {card.station for card in course.plan.stations if card.machine}


def _second(course: Lessons, adult: str) -> str:
    """Who else is there while an adult is at a machine: the other one, or one of the others, to be put down."""
    others = [each for each in course.classes.adults if each != adult]
    if not others:
        return "a second adult: ________"
    return f"{others[0]} there: ____" if len(others) == 1 else f"{' or '.join(others)} there: ____"


def _pieces(job: StaffJob, step: Step) -> str:
    """The pieces of a job for the class: ` Pieces: A × 48.`"""
    if job.kind != "work" or not step.parts:
        return ""
    listed = ", ".join(f"{work.letter}\u00a0×\u00a0{work.quantity * job.pieces}" for work in step.parts)
    return f" For the class: {listed}, and spares as on the staff preparation sheet."


def _settings(course: Lessons, step: Step) -> str:
    """What a step is set to; of a step that sets a machine what the step behind it asks for."""
    own = step.settings
    if step.kind == "set-up" and not own:
        work = course.steps.get(step.id.removesuffix("/set-up"))
        own = work.settings if work else ()
    if step.kind == "guards-back" or not own:
        return ""
    return " Set: " + "; ".join(f"{setting.label} {setting.text}" for setting in own) + "."


# Things


def _given_back(course: Lessons, lesson: int) -> Iterator[TechnicianLine]:
    """What was taken in earlier lessons and is free by this one (0: after the last)."""
    found: dict[tuple[int, str, int, str], list[Taken]] = defaultdict(list)
    for each in course.classes.taken:
        step = course.steps[each.step]
        if each.seat and each.until_lesson == lesson and each.span.session != lesson:
            found[step.number, step.title, each.span.session, each.thing].append(each)
    for (number, title, since, thing), taken in sorted(found.items(), key=lambda each: each[0]):
        free = f" Not before {_latest(course, taken)}." if course.by_the_clock else ""
        seats = course.seat_words(each.seat for each in taken)
        yield TechnicianLine(
            f"{sum(each.count for each in taken)} × {_called(thing)}.",
            f"Step {number}, {wording.within_sentence(title)}, {seats}, from lesson {since}.{free}",
        )


def _latest(course: Lessons, taken: list[Taken]) -> str:
    """When the last of them is free, up to the next five minutes: `12 March 2027, 9:05`."""
    moments = [each.until.split(" ") for each in taken]
    day, clock = max(moments, key=lambda each: (each[0], len(each[1]), each[1]))
    hours, minutes = clock.split(":")
    real = -(-(int(hours) * 60 + int(minutes)) // SLOT) * SLOT
    return f"{wording.day_words(date.fromisoformat(day))}, {real // 60}:{real % 60:02}"


def _stays_on(course: Lessons, lesson: Session) -> Iterator[TechnicianLine]:
    """What is taken in a lesson and stays taken when it is over, but for cramps, which are laid out with their reach."""
    laid = [each.name for each in laid_out(course, lesson)]
    found: dict[tuple[int, str], int] = defaultdict(int)
    for each in course.classes.taken:
        if each.span.session == lesson.number and each.seat and not any(is_of(each.thing, tool) for tool in laid):
            found[course.steps[each.step].number, each.thing] += each.count
    for (number, thing), count in sorted(found.items()):
        yield TechnicianLine(f"{_called(thing)} × {count} (step {number})")


def _called(thing: str) -> str:
    return thing.replace("-", " ")


# Machines


def _checks(course: Lessons, lesson: Session) -> Iterator[TechnicianLine]:
    """What each machine that students use in a lesson must stand at."""
    for place, what in settings_to_check(course, lesson):
        yield TechnicianLine(f"{wording.heading(place)}:", f"{what}.")
