"""The checker's look at what a class plan says beside who is where when: what its sheets print must be so."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import floor

from sequencer.classroom.as_written import Written
from sequencer.model.class_plan import Stint
from sequencer.model.plan import Step


def head_right(written: Written) -> Iterator[str]:
    """What it is made from, and what it says of the class, as the plan of making and the workshop file have it."""
    said, plan, workshop = written.class_plan, written.plan, written.workshop
    time = workshop.time
    for what, stands, wanted in (
        ("job", said.job, plan.job),
        ("job file", said.job_file, plan.job_file),
        ("workshop file", said.workshop_file, plan.workshop_file),
        ("fingerprint of the job", said.plan, plan.fingerprints.get("job", "")),
        ("adults", said.adults, tuple(adult.role for adult in workshop.adults)),
        ("pairs", said.pairs, workshop.pairs),
        ("lesson", said.lesson, time.lesson),
        ("settling in", said.settling_in, time.settling_in),
        ("clearing up", said.clearing_up, time.clearing_up),
        ("stations for all together", said.all_ready, workshop.all_ready),
        ("time of staff's own", said.staff_time_stated, bool(time.staff_time)),
        ("adults at the benches", said.at_benches, tuple(role for role in said.adults if role in written.at_benches)),
    ):
        if stands != wanted:
            yield f"The class plan says under {what}: {stands}. What it is made from says: {wanted}."


def steps_named(written: Written) -> Iterator[str]:
    """Each step by its own number and title, and staff's work for as many as there are."""
    for stint in written.class_plan.stints:
        if step := written.steps.get(stint.step):
            title = step.title if stint.kind == "step" else _shown(written, stint, step)
            if (stint.number, stint.title) != (step.number, title):
                yield f"{written.who(stint)} is at step {step.number}, {title}, and it is called {stint.number}, {stint.title}."
    for job in written.known_jobs:
        step = written.steps[job.step]
        if (job.number, job.title) != (step.number, step.title):
            yield f"Staff do step {step.number}, {step.title}, and it is called {job.number}, {job.title}."
        pieces = len(written.class_plan.seats) if job.kind == "work" else 1
        if job.pieces != pieces:
            yield f"Staff do step {step.number}, {step.title}, for {pieces}, and {job.pieces} is said."


def _shown(written: Written, stint: Stint, step: Step) -> str:
    """A station by its title, what tools of another bench a demonstration shows there, and ways of work, in words."""
    stations, words, others = written.knowledge.stations, [], []
    for name in stint.shows:
        kind, _, way = name.partition("/")
        if way:
            words.append(stations[kind].ways_shown.get(way, name) if kind in stations else name)
        elif kind != step.station_kind:
            others.append(stations[kind].name if kind in stations else name)
    said = f"{step.station_title}: {' and '.join(others)}" if others else step.station_title
    between = ", with " if others or step.station_kind in stint.shows else ": "
    return f"{said}{between}{' and '.join(words)}" if words else said


def parts_numbered(written: Written) -> Iterator[str]:
    """Where work goes on in parts, which part of how many each is."""
    found: dict[tuple[str, tuple[str, ...], str, tuple[str, ...]], list[Stint]] = defaultdict(list)
    for stint in sorted(written.class_plan.stints, key=written.start):
        found[stint.kind, stint.seats, stint.step, stint.shows].append(stint)
    for parts in found.values():
        for number, stint in enumerate(parts, 1):
            if (stint.piece, stint.of) != (number, len(parts)):
                yield (
                    f"{written.who(stint)} does part {number} of {len(parts)} of step {stint.number}, and part {stint.piece} "
                    f"of {stint.of} is said."
                )


def times_named(written: Written) -> Iterator[str]:
    """Before which lesson staff have time, from which lesson on a thing is free, in which lesson each seat gets done."""
    for lesson in written.class_plan.lessons:
        if lesson.before:
            yield f"Lesson {lesson.number} is said to be staff's own time."
    for own in written.class_plan.staff_sessions:
        after = own.starts + own.minutes
        following = next((each.number for each in written.class_plan.lessons if each.starts >= after), 0)
        if own.before != following:
            yield f"Staff time {own.number} comes before lesson {following}, and lesson {own.before} is said."
    for taken in written.class_plan.taken:
        moment = written.moment(taken.until)
        if moment is None:
            yield f"Of {taken.thing} it is not said until when: {taken.until}."
            continue
        free = next((each.number for each in written.class_plan.lessons if each.starts + each.minutes > moment), 0)
        if taken.until_lesson != free:
            yield f"What is taken of {taken.thing} is free in lesson {free}, and lesson {taken.until_lesson} is said."
    last = {
        seat: max((span.session for stint in stints for span in stint.spans), default=0)
        for seat, stints in written.by_seat.items()
    }
    if written.class_plan.done != tuple(last[seat] for seat in written.class_plan.seats):
        yield "The lessons in which the seats get done are not those that are said."


def no_overlap(written: Written) -> Iterator[str]:
    """Staff's own time is never while a class is in the room, from its first settling in to the end of its clearing up."""
    time = written.workshop.time
    for own in written.class_plan.staff_sessions:
        for lesson in written.class_plan.lessons:
            bell = lesson.starts - floor(time.settling_in)
            if own.starts < bell + floor(time.lesson) and bell < own.starts + own.minutes:
                yield f"Staff time {own.number} lies on lesson {lesson.number}."


def figures_right(written: Written) -> Iterator[str]:
    """The least lessons, what holds the class up and what would help, against the lessons that the plan takes."""
    class_plan, lessons = written.class_plan, len(written.class_plan.lessons)
    if class_plan.least > lessons:
        yield f"No plan is said to take fewer than {class_plan.least} lessons, and this one takes {lessons}."
    for each in class_plan.bottlenecks:
        if each.least > lessons:
            yield f"The {each.name} is said to ask for {each.least} lessons, and the plan takes {lessons}."
        if each.queue > written.workshop.students:
            yield f"{each.queue} are said to wait for the {each.name}, and the class has {written.workshop.students}."
    for link in class_plan.chain:
        if not 1 <= link.lesson <= lessons:
            yield f"The chain is said to pass through lesson {link.lesson}."
    for remedy in class_plan.remedies:
        if not remedy.least <= remedy.lessons < lessons or remedy.saves != lessons - remedy.lessons:
            yield f"'{remedy.change}' is said to save {remedy.saves} lessons, and the plan takes {lessons}."
