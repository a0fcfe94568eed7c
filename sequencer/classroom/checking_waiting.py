"""The checker's look at waiting: that whoever waits has something to do, and that it is something they can do then."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.classroom.as_written import FOREVER, Written
from sequencer.model.class_plan import Idle, Span, Stint
from sequencer.model.plan import WaitingTask

SLACK = 1e-6


def waiting_filled(written: Written) -> Iterator[str]:
    """The minutes of a lesson in which a seat has neither a step nor a task are within those that a student may wait, or the plan
    says that there is no task for them: with a warning, and at each stretch of them."""
    longest = written.knowledge.working.longest_idle
    warned = any(finding.code == "no-waiting-work" for finding in written.class_plan.findings)
    for lesson in written.class_plan.lessons:
        for seat, stints in written.by_seat.items():
            spans = [span for stint in stints for span in stint.spans]
            spans += [idle.span for idle in written.class_plan.idle if idle.seat == seat and (idle.does or warned)]
            taken = {minute for span in spans if span.session == lesson.number for minute in range(span.start, span.stop)}
            left = len(set(range(lesson.minutes)) - taken)
            if left > longest:
                yield f"Seat {seat} has nothing to do for {left} minutes of lesson {lesson.number}."


def waiting_can_be_done(written: Written) -> Iterator[str]:
    """What whoever waits is told to do is a task of the plan, and they can do it then: they are nowhere else, what it comes after
    is done and dry, its station is a bench with room where an adult in the room is enough, and was shown to them."""
    tasks = {task.does: task for task in written.plan.waiting}
    for idle in written.class_plan.idle:
        if not idle.does:
            continue
        [(start, stop)] = written.real((idle.span,)) or [(0, 0)]
        who = f"Seat {idle.seat}, waiting {written.at(start)}"
        own = written.by_seat.get(idle.seat, [])
        if start >= stop or idle.span.stop > written.lessons[idle.span.session].minutes:
            yield f"Seat {idle.seat} waits in no lesson."
        elif any(low < stop and start < high for stint in own for low, high in written.real(stint.spans)):
            yield f"{who}, has a step or a demonstration too."
        elif idle.does not in tasks:
            yield f"{who}, is told '{idle.does}', which is no task of the plan."
        else:
            yield from (f"{who}, {fault}" for fault in _too_soon(written, tasks[idle.does], idle.seat, start, stop))
            yield from (f"{who}, {fault}" for kind in tasks[idle.does].stations for fault in _no_place(written, idle, kind))


def _too_soon(written: Written, task: WaitingTask, seat: str, start: int, stop: int) -> Iterator[str]:
    """What a task comes after and is not done."""
    over: dict[str, int] = {}
    for step in written.students:
        over[step.id] = max((written.stop(stint) for stint in written.parts.get((seat, step.id), [])), default=FOREVER)
    for job in written.class_plan.staff_jobs:
        if job.kind == "work":
            over[job.step] = max((late for _, late in written.job_real(job)), default=FOREVER)
    own = [over[step.id] for step in written.students]
    if task.when == "begun" and min(own) > start:
        yield "has no step done yet for what it is told."
    if task.when == "unfinished" and max(own) <= start:
        yield "is done already and told what only comes before."
    if task.when == "made" and max(own) > start:
        yield "is told what only comes when all is made."
    yield from (f"has not done step {written.steps[name].number}." for name in task.after if over.get(name, FOREVER) > start)
    if task.after or task.when == "made":
        for name, wait in written.rests.items():
            if name in over and over[name] < stop and start < over[name] + wait:
                yield f"has work that is not dry of step {written.steps[name].number}."


def _no_place(written: Written, idle: Idle, kind: str) -> Iterator[str]:
    """What is against waiting work at a kind of station."""
    name = f"the {written.knowledge.stations[kind].name}"
    used = [step for step in written.students if step.station_kind == kind]
    if written.knowledge.stations[kind].power not in ("hand", "bench"):
        yield f"is sent to {name}, which is no bench."
    if not used or any(step.who.supervision != "room" or step.who.gate == "signed-off" for step in used):
        yield f"is sent to {name}, where an adult in the room is not enough."
    at = idle.span.session, idle.span.start
    known = {*written.workshop.instructed, *written.workshop.signed_off}
    if kind not in known and not any(kind in stint.shows and _last(stint) <= at for stint in written.by_seat[idle.seat]):
        yield f"is sent to {name} before it has been shown."
    room = sum(each.count for each in written.workshop.stations.values() if each.kind == kind)
    for minute in range(idle.span.start, idle.span.stop):
        there = [stint for stint in written.class_plan.stints if _is_in(stint.spans, idle.span.session, minute)]
        taken = sum(written.steps[stint.step].station_kind == kind for stint in there)
        if taken + _waiting_at(written, kind, idle.span.session, minute) > room:
            yield f"is sent to {name}, where all {room} places are taken."
            return
        if not _somebody_free(written, there, idle.span.session, minute):
            yield f"is sent to {name}, and every adult is wholly held."
            return
        if _makes_dust(written, kind) and any("coat" in written.kinds(written.steps[stint.step]) for stint in there):
            yield f"makes dust at {name} while somebody puts finish on."
            return


def _waiting_at(written: Written, kind: str, lesson: int, minute: int) -> int:
    at = {task.does for task in written.plan.waiting if kind in task.stations}
    return sum(idle.does in at and _is_in((idle.span,), lesson, minute) for idle in written.class_plan.idle)


def _somebody_free(written: Written, there: Sequence[Stint], lesson: int, minute: int) -> bool:
    held = {job.adult for job in written.class_plan.staff_jobs if job.in_lesson and _is_in(job.spans, lesson, minute)}
    return any(
        adult.in_lessons and role not in held and sum(stint.attention for stint in there if stint.adult == role) < 1 - SLACK
        for role, adult in written.adults.items()
    )


def _makes_dust(written: Written, kind: str) -> bool:
    return any(operation.cut == "sand" for operation in written.knowledge.stations[kind].operations.values())


def _is_in(spans: Sequence[Span], lesson: int, minute: int) -> bool:
    return any(span.session == lesson and span.start <= minute < span.stop for span in spans)


def _last(stint: Stint) -> tuple[int, int]:
    return stint.spans[-1].session, stint.spans[-1].stop
