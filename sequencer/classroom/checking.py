"""Goes over a class plan as it is written down and says every fault in a sentence. It knows nothing of how the plan was found:
it takes the job, the plan of making, the workshop and the knowledge, and looks at each demand with its own few lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import floor

from sequencer.classroom.as_written import DAY, Written
from sequencer.classroom.checking_first_use import shown_and_signed
from sequencer.classroom.checking_said import figures_right, head_right, no_overlap, parts_numbered, steps_named, times_named
from sequencer.classroom.checking_staff import adults_right, machines_set, room_watched, staff_work_done
from sequencer.classroom.checking_things import cramps_and_drying, in_use, stations_right
from sequencer.classroom.checking_waiting import waiting_can_be_done, waiting_filled
from sequencer.classroom.checking_wet import wet_wood_left_alone
from sequencer.classroom.checking_work import in_slots, no_crumbs, rags_at_once, seats_right, steps_whole
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.class_plan import ClassPlan, Session, Span
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop


def class_plan_faults(class_plan: ClassPlan, plan: Plan, job: Job, workshop: Workshop, knowledge: Knowledge) -> list[str]:
    """Every fault of a class plan, a sentence each; none if it keeps what it must."""
    written = Written(class_plan, plan, job, workshop, knowledge)
    return list(dict.fromkeys(fault for _, look in LOOKS for fault in look(written)))


def looked_at() -> tuple[str, ...]:
    """What the checker looks at, one line each."""
    return tuple(what for what, _ in LOOKS)


def _calendar(written: Written) -> Iterator[str]:
    """Lessons on their days, staff's own time where it is stated, one after the other."""
    time, class_plan = written.workshop.time, written.class_plan
    work, slot = floor(time.lesson - time.settling_in - time.clearing_up), int(written.knowledge.working.slot)
    for name, sessions in (("Lesson", class_plan.lessons), ("Staff time", class_plan.staff_sessions)):
        for before, after in pairwise(sessions):
            if after.number != before.number + 1 or after.starts < before.starts + before.minutes:
                yield f"{name} {after.number} does not come after the one before it."
        yield from (fault for each in sessions for fault in _day(written, name, each))
    for each in class_plan.lessons:
        if each.minutes > work or each.minutes <= work - slot:
            yield f"Lesson {each.number} has {each.minutes} minutes to work in, and there are {work}."
        at = each.starts // DAY % 7, each.starts % DAY - floor(time.settling_in)
        if time.week and at not in {(day.day, day.at) for day in time.week}:
            yield f"Lesson {each.number} is at a time at which the week has none."
    for own in class_plan.staff_sessions if time.staff_time else ():
        at = own.starts // DAY % 7, own.starts % DAY
        if not any(at == (each.day, each.at) and own.minutes <= each.minutes for each in time.staff_time):
            yield f"Staff time {own.number} is at a time at which staff have none."


def _day(written: Written, name: str, each: Session) -> Iterator[str]:
    time = written.workshop.time
    if each.clock != f"{each.starts % DAY // 60}:{each.starts % 60:02}":
        yield f"{name} {each.number} is said to start at {each.clock} and does not."
    if written.monday is None:
        return
    if each.day is None or (each.day - written.monday).days != each.starts // DAY:
        yield f"{name} {each.number} is said to be on {each.day} and is not."
    elif each.day in time.holidays and (name == "Lesson" or time.staff_time):
        yield f"{name} {each.number} is on {each.day}, a holiday."
    elif name == "Lesson" and time.first_date and each.day < time.first_date:
        yield f"{name} {each.number} is before the first date."


def _inside(written: Written) -> Iterator[str]:
    """Nothing before the start of a session or over the end of one."""

    def out(who: str, spans: tuple[Span, ...], sessions: dict[int, Session]) -> Iterator[str]:
        if not spans:
            yield f"{who} takes no time."
        for span in spans:
            session = sessions.get(span.session)
            if session is None or not 0 <= span.start < span.stop <= session.minutes:
                yield f"{who} goes over the end of session {span.session}."

    for stint in written.class_plan.stints:
        yield from out(f"Step {stint.number} of seat {', '.join(stint.seats)}", stint.spans, written.lessons)
    for job in written.class_plan.staff_jobs:
        yield from out(f"Staff's step {job.number}", job.spans, written.lessons if job.in_lesson else written.own_time)


def _order(written: Written) -> Iterator[str]:
    """The reasons of the plan, with its waits in real time."""
    staff = {
        job.step: [minute for span in written.job_real(job) for minute in span]
        for job in written.class_plan.staff_jobs
        if job.kind == "work"
    }
    for name, befores in written.waits.items():
        own = written.steps[name]
        for first, wait in befores.items():
            before = written.steps[first]
            for seat in written.class_plan.seats:
                starts = [written.start(stint) for stint in written.parts.get((seat, name), [])] + staff.get(name, [])
                stops = [written.stop(stint) for stint in written.parts.get((seat, first), [])] + staff.get(first, [])
                if starts and stops and min(starts) < max(stops) + wait:
                    after = f" and {wait} minutes have gone by" if wait else ""
                    yield (
                        f"Seat {seat}: step {own.number}, {own.title}, starts before step {before.number}, {before.title}, "
                        f"is done{after}."
                    )


def _all_ready(written: Written) -> Iterator[str]:
    """Nobody starts at a station that the class comes to together before everyone is ready for the first step there."""
    for kind in written.workshop.all_ready:
        there = [step for step in written.students if step.station_kind == kind]
        starts = [
            written.start(stint)
            for step in there
            for seat in written.class_plan.seats
            for stint in written.parts.get((seat, step.id), [])
        ]
        for first in written.waits.get(there[0].id, {}) if there else ():
            stops = [
                (written.stop(stint), seat) for seat in written.class_plan.seats for stint in written.parts.get((seat, first), [])
            ]
            if starts and stops and max(stops)[0] > min(starts):
                yield (
                    f"Someone starts at the {there[0].station_title} before seat {max(stops)[1]} has done step "
                    f"{written.steps[first].number}, and the class comes to it together."
                )


def _one_place(written: Written) -> Iterator[str]:
    """No seat in two places."""
    for seat, stints in written.by_seat.items():
        taken = sorted((start, stop, stint.number) for stint in stints for start, stop in written.real(stint.spans))
        for (_, stop, number), (start, _, following) in pairwise(taken):
            if start < stop:
                yield f"Seat {seat} is in two places {written.at(start)}: at step {number} and at step {following}."


LOOKS: tuple[tuple[str, Callable[[Written], Iterator[str]]], ...] = (
    ("lessons and staff's own time against the timetable, holidays left out", _calendar),
    ("staff's own time never while the class is there", no_overlap),
    ("every stretch of work inside its lesson or staff's own time", _inside),
    ("as many seats as the class has, each alone at its work", seats_right),
    ("every seat does every student's step whole; glue, finish, trials and machine work not left half done", steps_whole),
    ("hand work that goes on later in parts worth taking up", no_crumbs),
    ("work begun at whole slots of a lesson", in_slots),
    ("oily rags put away as soon as the coat is on", rags_at_once),
    ("the reasons of the order and the waits for glue and finish, in real time", _order),
    ("no piece taken up, nor what is joined to it, while its glue sets or its finish dries", wet_wood_left_alone),
    ("stations that the class comes to together: nobody before everyone is ready", _all_ready),
    ("nobody in two places", _one_place),
    ("stations and machines: never more than there are, never on days they are away", stations_right),
    ("counted things in use", in_use),
    ("cramps by reach and drying places, for the whole of their time", cramps_and_drying),
    ("adults: authorised, in lessons, never more than one whole attention; nobody at a machine alone", adults_right),
    ("an adult in the room who is not wholly held, whenever a student works whom nobody is beside", room_watched),
    ("machines set by staff before students, and not set anew before all are done", machines_set),
    ("stations shown in groups no larger than stated before first use; sign-offs right before the first piece", shown_and_signed),
    ("staff's steps done for the whole class", staff_work_done),
    ("no lesson in which a seat is longer without a task than a student may wait", waiting_filled),
    (
        "waiting work that can be done then: shown, made and dry, with a place and an adult in the room",
        waiting_can_be_done,
    ),
    ("what the sheets say of the class, as the job and the workshop file have it", head_right),
    ("steps by their own numbers and titles", steps_named),
    ("parts of a step counted as they are", parts_numbered),
    ("the lessons that staff prepare for, in which things are free again and seats get done", times_named),
    ("the figures of the whole", figures_right),
)
