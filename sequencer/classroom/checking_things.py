"""The checker's look at stations, machines and counted things of a class plan as it is written down."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import timedelta

from sequencer.classroom.as_written import DAY, FOREVER, Written, fullest
from sequencer.model.class_plan import Span, StaffJob, Stint, Taken
from sequencer.model.plan import Step
from sequencer.model.workshop import Counted


def stations_right(written: Written) -> Iterator[str]:
    """Every stint at the station of its step; never more at one than there is room for, and never when it is away."""
    taken: dict[str, list[tuple[int, int, float]]] = defaultdict(list)
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        if step is None:
            continue
        if written.place(stint.place) != step.station or step.station not in written.workshop.stations:
            yield f"{written.who(stint)} does step {stint.number} at {stint.place}, and it is done at {step.station}."
            continue
        yield from _away(written, stint.place, written.real(stint.spans))
        taken[stint.place] += [(start, stop, 1.0) for start, stop in written.real(stint.spans)]
    for job in written.known_jobs:
        if written.place(job.place) != written.steps[job.step].station:
            yield f"Staff's step {job.number} is at {job.place}, and it is done at {written.steps[job.step].station}."
            continue
        yield from _away(written, job.place, written.job_real(job))
        taken[job.place] += [(start, stop, 1.0) for start, stop in written.job_real(job)]
    for place, spans in taken.items():
        name = written.place(place)
        count = written.workshop.stations[name].count
        if place != name and not 1 <= int(place.rpartition(" ")[2]) <= count:
            yield f"There is no {place}."
        room = 1 if place != name else count
        if over := fullest(spans, room):
            yield f"{over[1]:g} are at {place} {written.at(over[0])}, and there is room for {room}."
    for name, station in written.workshop.stations.items():
        every = [span for place, spans in taken.items() if written.place(place) == name for span in spans]
        if over := fullest(every, station.count):
            yield f"{over[1]:g} are at {name} {written.at(over[0])}, and there are {station.count}."


def _away(written: Written, place: str, spans: list[tuple[int, int]]) -> Iterator[str]:
    station = written.workshop.stations[written.place(place)]
    if station.out_of_service:
        yield f"The {place} is used, and it is out of service."
    for start, _ in spans:
        if written.monday is not None and (day := written.monday + timedelta(days=start // DAY)) in station.away:
            yield f"The {place} is used on {day}, when it is away."


def in_use(written: Written) -> Iterator[str]:
    """Counted things: those in use for a step, and those that stay taken, never more than there are."""
    of_kind: dict[str, list[Counted]] = defaultdict(list)
    for counted in written.workshop.counted.values():
        if counted.count:
            of_kind[counted.kind or counted.name].append(counted)
    kind_of = {counted.name: kind for kind, each in of_kind.items() for counted in each}
    taken: dict[str, list[tuple[int, int, float]]] = defaultdict(list)
    one: dict[str, list[tuple[int, int, float]]] = defaultdict(list)
    kept: dict[str, set[str]] = defaultdict(set)
    for each in written.class_plan.taken:
        if each.thing not in kind_of:
            yield f"There is no {each.thing}."
            continue
        if each.count < 1:
            yield f"{each.count} of {each.thing} are said to be taken at {each.step}."
        span = (*_whole_time(written, each), float(each.count))
        one[each.thing].append(span)
        taken[kind_of[each.thing]].append(span)
        kept[each.step].add(kind_of[each.thing])
    for stint in written.class_plan.stints:
        step = written.steps.get(stint.step)
        for held in step.holding if step and stint.kind == "step" else ():
            if held.name in of_kind and held.name not in kept[stint.step] and not written.knowledge.holding[held.name].shared:
                taken[held.name] += [(start, stop, 1.0) for start, stop in written.real(stint.spans)]
    for thing, spans in one.items():
        count = written.workshop.counted[thing].count
        if over := fullest(spans, count):
            yield f"{over[1]:g} of {thing} are taken {written.at(over[0])}, and there are {count}."
    for kind, spans in taken.items():
        have = sum(counted.count for counted in of_kind[kind])
        if over := fullest(spans, have):
            yield f"{over[1]:g} of {kind} are in use {written.at(over[0])}, and there are {have}."


def _whole_time(written: Written, each: Taken) -> tuple[int, int]:
    """From when until when a thing stays taken: until somebody is there to give it back."""
    starts = written.real((each.span,), in_lesson=bool(each.seat))
    until = written.moment(each.until)
    return (min(starts, default=((0, 0)))[0], written.given_back(until)) if until is not None else (0, 0)


def cramps_and_drying(written: Written) -> Iterator[str]:
    """Cramps enough, wide enough and for as long as glue needs them; a drying place for as long as glue or finish takes."""
    by_seat: dict[tuple[str, str], list[Taken]] = defaultdict(list)
    for each in written.class_plan.taken:
        by_seat[each.seat, each.step].append(each)
    for step in written.students:
        for seat in written.class_plan.seats:
            if parts := written.parts.get((seat, step.id), []):
                who = f"Seat {seat} at step {step.number}, {step.title},"
                yield from _cramped(written, who, step, parts, by_seat[seat, step.id])
                yield from _dried(written, who, step, parts, by_seat[seat, step.id])
    for job in written.class_plan.staff_jobs:
        if job.kind == "work" and job.step in written.steps:
            yield from _staffs(written, job, by_seat["", job.step])


def _staffs(written: Written, job: StaffJob, taken: Sequence[Taken]) -> Iterator[str]:
    """What staff take for the things of all, or all there are where that is fewer: cramps until the glue has set, drying places
    until glue or finish is dry."""
    step, seats, spans = written.steps[job.step], len(written.class_plan.seats), written.job_real(job)
    values = {setting.name: setting.value for setting in step.settings}
    drying = {name: each for name, each in written.workshop.counted.items() if "drying-place" in (name, each.kind)}
    wanted, open_, long = (values.get(name) or 0.0 for name in ("cramps", "open", "cramp-time"))
    for what, things, each_one, minutes, reach in (
        ("cramps", _cramps(written, step) if long else {}, wanted, long, open_),
        ("drying places", drying, 1.0 if written.rests.get(job.step) else 0.0, written.rests.get(job.step, 0), 0.0),
    ):
        if not (things and each_one and spans):
            continue
        who = f"Staff at step {job.number}, {job.title}, for {seats} seats"
        own = [each for each in taken if each.thing in things and (things[each.thing].reach or 0.0) >= reach]
        kept = [
            each
            for each in own
            if min(start for start, _ in written.real((each.span,), in_lesson=job.in_lesson) or [(FOREVER, 0)]) <= spans[0][0]
            and (written.moment(each.until) or 0) >= spans[-1][1] + minutes
        ]
        has, most = sum(each.count for each in kept), max(each.count for each in things.values())
        most = max((things[each.thing].count for each in kept), default=most)
        if has < min(each_one * seats, most):
            yield f"{who}, have {has} {what} for the whole of the time and need {min(each_one * seats, most):g}."


def _cramped(written: Written, who: str, step: Step, parts: Sequence[Stint], taken: Sequence[Taken]) -> Iterator[str]:
    """From the first minute of gluing until the glue has set."""
    values = {setting.name: setting.value for setting in step.settings}
    wanted, long = values.get("cramps") or 0.0, values.get("cramp-time") or 0.0
    cramps = _cramps(written, step)
    if not (wanted and long and cramps):
        return
    own = [each for each in taken if each.thing in cramps]
    if sum(each.count for each in own) < wanted:
        yield f"{who} has {sum(each.count for each in own)} cramps and needs {wanted:g}."
    for each in own:
        if (cramps[each.thing].reach or 0.0) < (values.get("open") or 0.0):
            yield f"{who} has cramps that open too little: {each.thing}."
        if (written.moment(each.until) or 0) < max((stop for _, stop in written.real((each.span,))), default=0) + long:
            yield f"{who} has its cramps off too soon."
    for part in parts:
        if not _all_through(written, part, long, own):
            yield f"{who} has no cramps for the whole of its time from {written.at(written.start(part))} on."


def _dried(written: Written, who: str, step: Step, parts: Sequence[Stint], taken: Sequence[Taken]) -> Iterator[str]:
    drying = {name for name, counted in written.workshop.counted.items() if "drying-place" in (name, counted.kind)}
    wait = written.rests.get(step.id)
    own = [each for each in taken if each.thing in drying]
    if drying and wait and not all(_all_through(written, part, wait, own) for part in parts):
        yield f"{who} has no drying place for the whole of its time."


def _all_through(written: Written, part: Stint, wait: float, taken: Sequence[Taken]) -> bool:
    """Whether what is taken at a stint is there from its first minute until so many minutes after its last."""
    reached, until = float(written.start(part)), written.stop(part) + wait
    for each in sorted(taken, key=lambda one: (one.span.session, one.span.start)):
        (start, _), *_ = written.real((each.span,)) or [(FOREVER, 0)]
        if any(_inside(each.span, span) for span in part.spans) and start <= reached:
            reached = max(reached, written.moment(each.until) or 0)
    return reached >= until


def _inside(span: Span, whole: Span) -> bool:
    return span.session == whole.session and whole.start <= span.start and span.stop <= whole.stop


def _cramps(written: Written, step: Step) -> dict[str, Counted]:
    """The cramps that a step may be held with: the counted ones of the first of its ways of holding that is counted by reach."""
    for held in step.holding:
        found = {name: each for name, each in written.workshop.counted.items() if held.name == (each.kind or name) and each.reach}
        if found:
            return found
    return {}
