"""What a lesson asks to be careful of, not because of one step but because of who works at the same time, who watches them, and
what was shown long ago.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from sequencer.classroom.shown import asked_for, kind_of, kinds_used, way_words
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.class_plan import Care, Meanwhile, Span, StaffJob, Stint, seat_runs
from sequencer.model.plan import Plan
from sequencer.model.workshop import Adult
from sequencer.reading.words import listed

APART = (
    "Both go on at one time: put finish on at a place of its own, far from the dust and with its own air. Leave the extraction "
    "on. Who has both to do, sands first."
)
SAND_FIRST = "Sand first. Clear the dust away before a tin is opened, and put finish on away from where the dust lies."
BOTH = "Nobody else is free for the benches: stand where you see both. Stop the motor before you turn to a bench."
"""For one adult who watches work with a motor and the benches at once (common practice)."""
WET_AWAY = "Put wet work away and close the tins before anybody sands. Put finish on away from where the dust lies."
"""Dust settles in wet finish, and dust and vapour are breathed together (common practice)."""


def cautions(
    stints: Sequence[Stint],
    plan: Plan,
    adults: Sequence[Adult],
    seats: Sequence[str],
    knowledge: Knowledge,
    jobs: Sequence[StaffJob] = (),
    known: Sequence[str] = (),
) -> dict[int, tuple[Care, ...]]:
    """Of each lesson what to be careful of. `seats`: all of the class, in their order; `jobs`: what staff do; `known`: what the
    school's record says that the class has been shown or is signed off at."""
    found: dict[int, list[Care]] = defaultdict(list)
    working = knowledge.working
    for lesson, care in (
        *_dust_and_finish(stints, plan),
        *_teacher_held(stints, adults, int(working.held_long)),
        *_motor_and_benches(stints, plan, adults, knowledge, jobs),
        *_new_tools(stints, plan, seats, knowledge, known),
        *_long_ago(stints, plan, seats, knowledge),
    ):
        found[lesson].append(care)
    return {lesson: tuple(some) for lesson, some in found.items()}


def _dust_and_finish(stints: Iterable[Stint], plan: Plan) -> Iterator[tuple[int, Care]]:
    """The lessons in which students sand and put finish on, with when, and how the two are kept apart."""
    tasks = {task.id: task for task in plan.tasks}
    sand = {step.id for step in plan.steps if any(tasks[task].cut == "sand" for task in step.tasks)}
    coat = {step.id for step in plan.steps if any(tasks[task].kind == "coat" for task in step.tasks)}
    dust: dict[int, list[Span]] = defaultdict(list)
    wet: dict[int, list[Span]] = defaultdict(list)
    for stint in stints:
        for span in stint.spans if stint.kind == "step" else ():
            for spans, which in ((dust, sand), (wet, coat)):
                if stint.step in which:
                    spans[span.session].append(span)
    for lesson in sorted(dust.keys() & wet.keys()):
        sanding, finishing = _joined(dust[lesson]), _joined(wet[lesson])
        at_once = any(_meet(one, other) for one in sanding for other in finishing)
        first = sanding[-1].stop <= finishing[0].start
        says = APART if at_once else SAND_FIRST if first else WET_AWAY
        yield lesson, Care("dust-and-finish", says, when=(Meanwhile("sanding", sanding), Meanwhile("finish", finishing)))


def _teacher_held(stints: Sequence[Stint], adults: Sequence[Adult], long: int) -> Iterator[tuple[int, Care]]:
    """Where the only adult who teaches is held for so many minutes on end while others work: when, and who has the room."""
    teaching = [adult.role for adult in adults if adult.in_lessons and adult.teaches]
    if len(teaching) != 1:
        return
    held: dict[int, list[Span]] = defaultdict(list)
    for stint in stints:
        for span in stint.spans if stint.adult == teaching[0] and stint.attention >= 1 else ():
            held[span.session].append(span)
    for lesson, spans in sorted(held.items()):
        runs = tuple(
            run
            for run in _joined(spans)
            if run.stop - run.start >= long
            and any(
                stint.kind == "step" and stint.adult != teaching[0] and _meet(span, run)
                for stint in stints
                for span in stint.spans
            )
        )
        others = [adult.role for adult in adults if adult.in_lessons and adult.role != teaching[0]]
        if runs and others:
            says = (
                f"The only adult who teaches is held then. In the room with those who work: {listed(others)}. "
                "Stop showing or signing off when the class needs more."
            )
            yield lesson, Care("teacher-held", says, when=(Meanwhile(teaching[0], runs),))


def _motor_and_benches(
    stints: Sequence[Stint], plan: Plan, adults: Sequence[Adult], knowledge: Knowledge, jobs: Sequence[StaffJob]
) -> Iterator[tuple[int, Care]]:
    """Where an adult watches work with a motor while others work at benches, and no other is free for these: who and when."""
    by_hand = {step.id: knowledge.stations[step.station_kind].power in ("hand", "bench") for step in plan.steps if step.tasks}
    benches: set[tuple[int, int]] = set()
    held: dict[str, set[tuple[int, int]]] = defaultdict(set)
    watches: dict[str, set[tuple[int, int]]] = defaultdict(set)
    for stint in stints:
        if stint.attention >= 1:
            held[stint.adult] |= _minutes(stint.spans)
        elif by_hand[stint.step]:
            benches |= _minutes(stint.spans)
        else:
            watches[stint.adult] |= _minutes(stint.spans)
    for job in jobs:
        held[job.adult] |= _minutes(job.spans) if job.in_lesson else set()
    there = [adult.role for adult in adults if adult.in_lessons and not {"all", "benches"}.isdisjoint(adult.authorised)]
    alone = {at for at in benches if all(at in held[role] or at in watches[role] for role in there)}
    for lesson in sorted({lesson for lesson, _ in alone}):
        both = {
            role: [Span(lesson, minute, minute + 1) for at, minute in watches[role] & alone if at == lesson] for role in there
        }
        if when := tuple(Meanwhile(role, _joined(spans)) for role, spans in both.items() if spans):
            yield lesson, Care("motor-and-benches", BOTH, when=when)


def _minutes(spans: Iterable[Span]) -> set[tuple[int, int]]:
    return {(span.session, minute) for span in spans for minute in range(span.start, span.stop)}


def _new_tools(
    stints: Iterable[Stint], plan: Plan, seats: Sequence[str], knowledge: Knowledge, known: Sequence[str]
) -> Iterator[tuple[int, Care]]:
    """Whoever uses a kind of saws or edge tools for the first time: chisels after saws. The very first of all is left out, at
    which an adult has to be by."""
    steps = {step.id: step for step in plan.steps}
    before = {kind for kind in map(kind_of, known) if kind in knowledge.stations and knowledge.stations[kind].cuts_by_hand}
    used: dict[str, set[str]] = {seat: set(before) for seat in seats}
    first: dict[tuple[int, str], tuple[str, list[str]]] = {}
    for stint in sorted(stints, key=lambda each: (each.spans[0].session, each.spans[0].start)):
        step = steps[stint.step]
        if stint.kind != "step" or step.who.gate == "none":
            continue
        cutting = [kind for kind in kinds_used(step, knowledge) if knowledge.stations[kind].cuts_by_hand]
        for seat in stint.seats:
            for kind in cutting if used[seat] else ():
                if kind not in used[seat]:
                    first.setdefault((stint.spans[0].session, kind), (step.id, []))[1].append(seat)
            used[seat] |= set(cutting)
    for (lesson, kind), (at, some) in sorted(first.items()):
        name, ordered = knowledge.stations[kind].name, tuple(seat for seat in seats if seat in some)
        says = f"The {name} are new to {seat_runs(ordered, seats)}: watch their first cuts."
        yield lesson, Care("new-tool", says, at, ordered, shown=kind, what=f"the {name}")


def _long_ago(stints: Iterable[Stint], plan: Plan, seats: Sequence[str], knowledge: Knowledge) -> Iterator[tuple[int, Care]]:
    """What is first used more than so many lessons after it was shown, and by whom: at its station, or its tools at another."""
    steps, asked = {step.id: step for step in plan.steps}, asked_for(plan, knowledge)
    seen: dict[tuple[str, str], int] = {}
    found: dict[tuple[int, str, int], list[str]] = defaultdict(list)
    first: dict[str, str] = {}
    titles: dict[str, str] = {}
    used: set[tuple[str, str]] = set()
    for stint in sorted(stints, key=lambda each: (each.spans[0].session, each.spans[0].start)):
        lesson, shows, step = stint.spans[0].session, stint.kind == "demonstration", steps[stint.step]
        used_now = dict.fromkeys((*asked[step.id], *kinds_used(step, knowledge)))
        for name in stint.shows if shows else used_now:
            for seat in stint.seats:
                if shows:
                    seen.setdefault((name, seat), lesson)
                    titles[name] = way_words(name, knowledge) or f"the {knowledge.stations[name].name}"
                elif (name, seat) not in used:
                    used.add((name, seat))
                    first.setdefault(name, stint.step)
                    found[lesson, name, seen.get((name, seat), lesson)].append(seat)
    for (lesson, name, since), some in sorted(found.items()):
        if lesson - since > knowledge.working.seen_long_ago:
            says = f"Show {titles[name]} again to {seat_runs(some, seats)}, in a few words: seen in lesson {since}."
            ordered = tuple(seat for seat in seats if seat in some)
            yield lesson, Care("show-again", says, first[name], ordered, since, name, titles[name])


def _meet(one: Span, other: Span) -> bool:
    return one.session == other.session and one.start < other.stop and other.start < one.stop


def _joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Stretches of one lesson, those that meet or follow each other without a break as one."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda each: each.start):
        if found and span.start <= found[-1].stop:
            found[-1] = Span(span.session, found[-1].start, max(found[-1].stop, span.stop))
        else:
            found.append(span)
    return tuple(found)
