"""The lessons of a class as a calendar file (iCalendar, RFC 5545): an event for each lesson, and for each stretch of staff's own
time that is used.

Times are local and float (RFC 5545, 3.3.5, form 1): nobody has stated the school's time zone. An event keeps its identifier when
lessons are planned anew, so that a calendar that reads the file again changes it and adds no second one. Two groups at one job
have identifiers of their own: their first lessons are at other times.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from math import floor
from pathlib import Path
from unicodedata import category
from uuid import UUID, uuid5

from sequencer.findings import Finding, Unusable
from sequencer.model.class_plan import NO_TIMETABLE, ClassPlan, Session, Span, StaffJob, Stint
from sequencer.model.workshop import Timetable
from sequencer.plan_file import write_whole
from sequencer.reading.words import so_many

ENDING = ".ics"
LINE = 75
"""Octets of a line at most, without its end (RFC 5545, 3.1)."""
PRODUCT = "-//timber-sequencer//Plan of lessons//EN"
EPOCH = date(2020, 1, 1)
"""Events are numbered by the days since, so that what is made later counts (RFC 5545, 3.8.7.4)."""
OURS = UUID("6f0c6a2e-3f0b-5d0e-9a57-2d1c40b7a9e3")
"""What identifiers of events are made under."""
CAUTION = "Local law, school policy, the maker's instructions and qualified staff come first."

Line = tuple[str, str]
"""A property and its value, written out."""


def refuse_without_days(timetable: Timetable) -> None:
    """Unusable if a workshop file does not say on which days and at what time its lessons are."""
    if not timetable.week or timetable.first_date is None:
        raise Unusable([_no_days()])


def calendar_bytes(plan: ClassPlan, day: date) -> bytes:
    """The calendar file, made on a day; equal plans and days give equal bytes. Unusable if a lesson has no stated day."""
    assumed = any(finding.code == NO_TIMETABLE for finding in plan.findings)
    if assumed or any(lesson.day is None for lesson in plan.lessons):
        raise Unusable([_no_days()])
    lines: list[Line] = [("BEGIN", "VCALENDAR"), ("VERSION", "2.0"), ("PRODID", PRODUCT)]
    for lesson in plan.lessons:
        lines += _event(plan, day, *_lesson(plan, lesson))
    if plan.staff_time_stated:
        for session in plan.staff_sessions:
            if jobs := _jobs_in(plan, session):
                lines += _event(plan, day, *_staff(plan, session, jobs))
    lines.append(("END", "VCALENDAR"))
    return b"".join(folded(f"{name}:{value}") for name, value in lines)


def write_calendar(plan: ClassPlan, day: date, file: Path) -> None:
    """Write the calendar file. OSError if the folder cannot be written; then nothing is left behind."""
    write_whole(file, calendar_bytes(plan, day))


def _no_days() -> Finding:
    return Finding(
        "error",
        "no-days-for-a-calendar",
        "time",
        "The workshop file does not say on which days and at what time the lessons are, and a calendar file needs both.",
        "A lesson on a day that nobody stated would stand in calendars as if it were agreed.",
        "Write `week` and `first_date` under `time`, or leave `--calendar` out.",
    )


def escaped(text: str) -> str:
    """A text as a value: backslash, semicolon, comma and ends of lines written as RFC 5545, 3.3.11 asks; other controls go, and
    so do signs that only say how a text is set, such as a soft hyphen."""
    text = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")
    return "".join(letter if letter.isprintable() else " " for letter in text if category(letter) != "Cf")


def folded(line: str) -> bytes:
    """A line with its end, folded so that no line is longer than LINE octets and no letter is torn apart (RFC 5545, 3.1)."""
    found, room = [b""], LINE
    for letter in line:
        octets = letter.encode()
        if len(found[-1]) + len(octets) > room:
            found.append(b"")
            room = LINE - 1  # the space in front of what goes on counts too
        found[-1] += octets
    return b"\r\n ".join(found) + b"\r\n"


def _event(plan: ClassPlan, day: date, key: str, span: tuple[datetime, datetime], title: str, text: list[str]) -> list[Line]:
    """An event. `key`: what it is called besides the job, the workshop file and when the first lesson is."""
    first = plan.lessons[0]
    identifier = uuid5(OURS, f"{plan.job}\n{plan.workshop_file}\n{first.day} {first.clock}\n{key}")
    return [
        ("BEGIN", "VEVENT"),
        ("UID", str(identifier)),
        ("DTSTAMP", f"{day:%Y%m%d}T000000Z"),
        ("SEQUENCE", str(max(0, (day - EPOCH).days))),
        ("DTSTART", f"{span[0]:%Y%m%dT%H%M%S}"),
        ("DTEND", f"{span[1]:%Y%m%dT%H%M%S}"),
        ("SUMMARY", escaped(title)),
        ("DESCRIPTION", escaped("\n".join((*text, CAUTION)))),
        ("END", "VEVENT"),
    ]


def _moment(session: Session, minute: int) -> datetime:
    """The day and time at a minute of a session, which has a day."""
    assert session.day is not None
    hours, minutes = session.clock.split(":")
    return datetime.combine(session.day, time(int(hours), int(minutes))) + timedelta(minutes=minute)


# Lessons


def _lesson(plan: ClassPlan, lesson: Session) -> tuple[str, tuple[datetime, datetime], str, list[str]]:
    """A lesson from its bell to the next, with what is done in it."""
    start = _moment(lesson, -floor(plan.settling_in))
    title = f"{plan.job}: lesson {lesson.number} of {len(plan.lessons)}"
    who = so_many(len(plan.seats), "pair" if plan.pairs else "student")
    text = [f"At work from {lesson.clock} to {lesson.at(lesson.minutes)}, {who}."]
    text += _shown(plan, lesson)
    if stations := _stations(plan, lesson):
        text.append(f"{'Pairs' if plan.pairs else 'Students'} at each station: {stations}.")
    text += [f"Staff, while the class is there: {each}." for each in _in_lesson(plan, lesson)]
    if not plan.staff_time_stated:
        before = [job for job in plan.staff_jobs if not job.in_lesson and _next_lesson(plan, job) == lesson.number]
        text += [f"To be done by staff before: step {job.number}, {job.title}." for job in before]
    return f"lesson {lesson.number}", (start, start + timedelta(minutes=floor(plan.lesson))), title, text


def _spans(each: Stint | StaffJob, session: Session) -> Iterator[Span]:
    return (span for span in each.spans if span.session == session.number)


def _shown(plan: ClassPlan, lesson: Session) -> list[str]:
    """The demonstrations of a lesson, in order."""
    whom = "pairs" if plan.pairs else "students"
    return [
        f"At {lesson.at(span.start)} {stint.adult} shows {len(stint.seats)} {whom}: {stint.title}."
        for stint in plan.stints
        if stint.kind == "demonstration"
        for span in _spans(stint, lesson)
    ]


def _stations(plan: ClassPlan, lesson: Session) -> str:
    """The stations of a lesson with how many use each: `hand-sawing (18), ploughing (12)`."""
    used: dict[str, set[str]] = {}
    for stint in plan.stints:
        if stint.kind != "demonstration" and any(_spans(stint, lesson)):
            used.setdefault(stint.place, set()).update(stint.seats)
    counted = Counter({place: len(seats) for place, seats in used.items()})
    return ", ".join(f"{place} ({count})" for place, count in counted.most_common())


def _in_lesson(plan: ClassPlan, lesson: Session) -> list[str]:
    return [
        f"at {lesson.at(span.start)} step {job.number}, {job.title} ({job.place}, {job.adult})"
        for job in plan.staff_jobs
        if job.in_lesson
        for span in _spans(job, lesson)
    ]


# Staff


def _next_lesson(plan: ClassPlan, job: StaffJob) -> int:
    """The lesson that comes after the last stretch of a job in staff's own time."""
    return plan.staff_sessions[job.spans[-1].session - 1].before


def _jobs_in(plan: ClassPlan, session: Session) -> list[tuple[StaffJob, Span]]:
    """The jobs in a stretch of staff's own time, in order."""
    found = [(job, span) for job in plan.staff_jobs if not job.in_lesson for span in _spans(job, session)]
    return sorted(found, key=lambda each: (each[1].start, each[0].number))


def _staff(
    plan: ClassPlan, session: Session, jobs: list[tuple[StaffJob, Span]]
) -> tuple[str, tuple[datetime, datetime], str, list[str]]:
    """What staff use of a stretch of their own time. It is called by its day, since earlier stretches may be added before it."""
    start, stop = min(span.start for _, span in jobs), max(span.stop for _, span in jobs)
    before = f"lesson {session.before}" if session.before else "the next unit of work"
    text = [
        f"{session.at(span.start)} to {session.at(span.stop)}, {job.adult}: step {job.number}, {job.title} ({job.place})."
        for job, span in jobs
    ]
    text.append("Nobody works at a machine alone: a second adult is there.")
    key = f"staff {session.day} {session.clock}"
    return key, (_moment(session, start), _moment(session, stop)), f"{plan.job}: staff prepare for {before}", text
