"""The checker's look at adults, and at staff's work and settings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations
from math import ceil

from sequencer.classroom.as_written import Written, fullest
from sequencer.model.class_plan import StaffJob, Stint
from sequencer.model.plan import Step

ROUNDING = 0.0005
"""Shares of an adult are written with three decimals."""


def share(written: Written, step: Step) -> float:
    """How much of an adult a student's step takes: all beside, of a watching one a share by what is watched; in the room the
    share of one of so many at benches."""
    if step.who.supervision == "beside":
        return 1.0
    working = written.knowledge.working
    if step.who.supervision == "room":
        return 1.0 / working.watched_benches
    power = written.power(step)
    if power in ("machine", "powered-hand"):
        return 1.0 / (working.watched_machines if power == "machine" else working.watched_powered)
    figures = {
        "edge-tools": working.watched_edge_tools,
        "hand-saws": working.watched_hand_saws,
        "gluing": working.watched_gluing,
        "benches": working.watched_benches,
    }
    benches = (written.knowledge.stations[kind].watched for kind in written.benches(step))
    return 1.0 / min(figures.get(watched, min(figures.values())) for watched in benches)


def adults_right(written: Written) -> Iterator[str]:
    """Every adult authorised, there, and with one whole attention at most; no machine of students without one, nobody at a
    machine alone. Benches without an adult of their own are watched by all who may and are not held elsewhere."""
    benches: dict[frozenset[str], list[tuple[int, int, float]]] = defaultdict(list)
    taken: dict[str, list[tuple[int, int, float]]] = defaultdict(list)
    setting: list[tuple[int, int, float]] = []
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        if step is None:
            continue
        needs = 1.0 if stint.kind != "step" else share(written, step)
        who = f"{written.who(stint)} at step {stint.number}"
        if needs and stint.attention < needs - ROUNDING:
            yield f"{who} has {stint.attention:g} of an adult and needs {needs:.3f}."
        if needs and not stint.adult:
            room = step.who.supervision == "room" and stint.kind == "step"
            in_room = [(role, adult) for role, adult in written.adults.items() if adult.in_lessons]
            may = frozenset(role for role, adult in in_room if room or written.may(adult, step))
            if needs >= 1.0 or not (room or written.by_hand(step)) or not may:
                yield f"{who} has no adult to watch."
            benches[may] += [(*span, max(needs, stint.attention) - ROUNDING) for span in written.real(stint.spans)]
            continue
        room = step.who.supervision == "room" and stint.kind == "step"
        yield from _fit(written, who, stint.adult, step, in_lesson=True, may_do_it=not room)
        if stint.kind != "step" and (adult := written.adults.get(stint.adult)) and not adult.teaches:
            yield f"{who}: the {adult.role.lower()} shows the {step.station_title} or signs off at it, and does not teach."
        taken[stint.adult] += [(*span, max(needs, stint.attention) - ROUNDING) for span in written.real(stint.spans)]
    for job in written.known_jobs:
        step = written.steps[job.step]
        yield from _fit(written, f"Staff's step {job.number}", job.adult, step, in_lesson=job.in_lesson)
        taken[job.adult] += [(*span, 1.0) for span in written.job_real(job)]
        setting += [(*span, 1.0) for span in written.job_real(job) if job.in_lesson]
        if not written.by_hand(step) and len(written.adults) < 2:
            yield f"Staff's step {job.number}, {job.title}, is at a machine, and there is nobody else."
    for role, spans in taken.items():
        if role and (over := fullest(spans, 1.0)):
            yield f"The {role.lower()} is wanted in several places {written.at(over[0])}: {over[1]:.2f} of one."
    yield from _benches_watched(written, benches, taken)
    there = sum(adult.in_lessons for adult in written.adults.values())
    if over := fullest(setting, max(0, there - 1)):
        yield f"No adult is left to watch the class {written.at(over[0])}."
    yield from _unwatched(written, taken)


def _benches_watched(
    written: Written,
    benches: dict[frozenset[str], list[tuple[int, int, float]]],
    taken: dict[str, list[tuple[int, int, float]]],
) -> Iterator[str]:
    """Whether those who may watch some benches have so much left of them; so for every choice of kinds of bench together, which
    is enough for all to be watched at once (P. Hall, Journal of the London Mathematical Society 10, 1935)."""
    for count in range(1, len(benches) + 1):
        for chosen in combinations(benches, count):
            adults = frozenset[str]().union(*chosen)
            spans = [span for each, own in benches.items() if each <= adults for span in own]
            elsewhere = [span for role in adults for span in taken[role]]
            over = fullest([*spans, *elsewhere], float(len(adults)))
            if over and any(start <= over[0] < stop for start, stop, _ in spans):
                yield f"The benches want {over[1]:.2f} adults {written.at(over[0])}, with all else that these do: {len(adults)}."
                return


def room_watched(written: Written) -> Iterator[str]:
    """An adult in the room who is not wholly held, whenever a student works at whose side nobody is."""
    there = {role for role, adult in written.adults.items() if adult.in_lessons}
    gone: list[tuple[int, int, str]] = []
    at_work: list[tuple[int, int, Stint]] = []
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        held = stint.kind != "step" or max(stint.attention, share(written, step) if step else 0.0) >= 1.0 - ROUNDING
        for start, stop in written.real(stint.spans):
            if held:
                gone.append((start, stop, stint.adult))
            else:
                at_work.append((start, stop, stint))
    for job in written.class_plan.staff_jobs:
        if job.in_lesson:
            gone += [(*span, job.adult) for span in written.job_real(job)]
    for start, stop, stint in at_work:
        for moment in {start, *(low for low, _, _ in gone if start < low < stop)}:
            if there <= {role for low, high, role in gone if low <= moment < high}:
                yield (
                    f"Nobody watches the room {written.at(moment)}: every adult is held, and seat {stint.seats[0]} is at step "
                    f"{stint.number}."
                )


def _fit(written: Written, who: str, role: str, step: Step, *, in_lesson: bool, may_do_it: bool = True) -> Iterator[str]:
    adult = written.adults.get(role)
    if adult is None:
        yield f"{who}: there is no adult called {role or 'nothing'}."
        return
    if may_do_it and not written.may(adult, step):
        yield f"{who}: the {role.lower()} is not authorised for the {step.station_title}."
    if in_lesson and not adult.in_lessons:
        yield f"{who}: the {role.lower()} is not there in lessons."


def _unwatched(written: Written, taken: dict[str, list[tuple[int, int, float]]]) -> Iterator[str]:
    """Students' machines and powered tools that name no adult, while every adult who could be there for them is wholly taken."""
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        if step is None or stint.adult or written.by_hand(step):
            continue
        may = [adult.role for adult in written.workshop.adults if adult.in_lessons and written.may(adult, step)]
        for start, stop in written.real(stint.spans):
            gone = [
                role
                for role in may
                if any(amount >= 1.0 - ROUNDING and low < stop and high > start for low, high, amount in taken[role])
            ]
            if len(gone) == len(may):
                yield f"{written.who(stint)} at step {stint.number}: no authorised adult is there {written.at(start)}."


def machines_set(written: Written) -> Iterator[str]:
    """Each machine set for a step before students use it, and neither set for another nor left without its guards."""
    jobs: dict[str, list[tuple[int, int, StaffJob]]] = defaultdict(list)
    for job in written.class_plan.staff_jobs:
        spans = written.job_real(job)
        if spans:
            jobs[job.place].append((spans[-1][1], spans[0][0], job))
    for each in jobs.values():
        each.sort(key=lambda one: one[:2])
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        if step is None or stint.kind == "demonstration" or written.by_hand(step):
            continue
        who = f"{written.who(stint)} at step {stint.number}"
        start, stop = written.start(stint), written.stop(stint)
        before = [job for over, _, job in jobs[stint.place] if over <= start]
        wanted = f"{step.id}/set-up"
        if wanted in written.steps and (not before or before[-1].step != wanted):
            yield f"{who}: the {stint.place} is not set for it."
        if wanted in written.steps and any(start < begins < stop for _, begins, _ in jobs[stint.place]):
            yield f"{who}: the {stint.place} is set anew before it is done with."
        if before and before[-1].kind == "work" and f"{before[-1].step}/guards-back" in written.steps:
            yield f"{who}: the guards of the {stint.place} are not put back."
    for place, each in jobs.items():
        for number, (_, start, job) in enumerate(each):
            wanted = f"{job.step}/set-up"
            if job.kind == "work" and wanted in written.steps and (not number or each[number - 1][2].step != wanted):
                yield f"Staff's step {job.number}: the {place} is not set for it."
            if job.kind == "guards-back" and not any(
                other.step == job.step.removesuffix("/guards-back") and over <= start for over, _, other in each
            ):
                yield f"Staff's step {job.number}: the guards go back on the {place} before its work is done."


def staff_work_done(written: Written) -> Iterator[str]:
    """Every step of staff's is done, for all seats, as long as it takes; work in staff's own time."""
    jobs: dict[str, list[StaffJob]] = defaultdict(list)
    for job in written.class_plan.staff_jobs:
        jobs[job.step].append(job)
    for step in written.plan.steps:
        if step.kind == "wait" or (step.kind == "work" and step.who.operator == "student"):
            continue
        own = jobs.pop(step.id, [])
        if not own:
            yield f"Nobody does step {step.number}, {step.title}."
        count = len(written.class_plan.seats) if step.kind == "work" else 1
        needed = ceil(step.minutes * count + (step.set_up_minutes if step.kind == "work" else 0.0) - 1e-6)
        for job in own:
            has = sum(span.stop - span.start for span in job.spans)
            if job.kind != step.kind or has < needed:
                yield f"Staff have {has} minutes for step {step.number}, {step.title}, and need {needed}."
            if job.in_lesson and job.kind != "set-up":
                lessons = ", ".join(str(span.session) for span in job.spans)
                yield f"Staff do step {step.number}, {step.title}, in lesson {lessons}, with the class there."
            if len(job.spans) > 1 and job.kind != "work":
                yield f"Staff leave step {step.number}, {step.title}, half done."
    for name in jobs:
        yield f"Staff do {name}, which is no step of the plan."
