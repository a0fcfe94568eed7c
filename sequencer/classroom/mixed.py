"""What a lesson asks to be careful of, not because of one step but because of who works at the same time, whom the only adult who
teaches is held by, and what was shown long ago.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from sequencer.knowledge.working import Working
from sequencer.model.class_plan import Care, CareKind, Meanwhile, Span, Stint, StintKind, seat_runs
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Adult
from sequencer.reading.words import listed

APART = (
    "Both go on at one time: put finish on at a place of its own, far from the dust and with its own air. Leave the extraction "
    "on. Who has both to do, sands first."
)
SAND_FIRST = "Sand first. Clear the dust away before a tin is opened, and put finish on away from where the dust lies."
WET_AWAY = "Put wet work away and close the tins before anybody sands. Put finish on away from where the dust lies."
"""Dust settles in wet finish, and dust and vapour are breathed together (common practice)."""


_BEFORE_USE: tuple[tuple[StintKind, CareKind, tuple[StintKind, ...]], ...] = (
    ("demonstration", "show-again", ("sign-off", "step")),
    ("sign-off", "watch-closely", ("step",)),
)
"""What comes before the use of a station, what is asked for where it was long before, and what counts as use."""


def cautions(
    stints: Sequence[Stint], plan: Plan, adults: Sequence[Adult], seats: Sequence[str], working: Working
) -> dict[int, tuple[Care, ...]]:
    """Of each lesson what to be careful of. `seats`: all of the class, in their order."""
    found: dict[int, list[Care]] = defaultdict(list)
    steps = {step.id: step for step in plan.steps}
    for lesson, care in (
        *_dust_and_finish(stints, plan),
        *_teacher_held(stints, adults, int(working.held_long)),
        *_long_ago(stints, steps, seats, int(working.seen_long_ago)),
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


def _long_ago(stints: Iterable[Stint], steps: dict[str, Step], seats: Sequence[str], long: int) -> Iterator[tuple[int, Care]]:
    """What is first used more than so many lessons after it was shown, and by whom, and who was signed off as long before."""
    there: dict[tuple[str, str], list[tuple[Span, Stint]]] = defaultdict(list)
    for stint in stints:
        for seat in stint.seats:
            there[steps[stint.step].station_kind, seat] += [(span, stint) for span in stint.spans]
    found: dict[tuple[int, CareKind, str, int], list[str]] = defaultdict(list)
    first: dict[str, str] = {}
    for (kind, seat), some in there.items():
        some.sort(key=lambda each: (each[0].session, each[0].start))
        for what, care, used in _BEFORE_USE:
            seen = next((span.session for span, stint in some if stint.kind == what), 0)
            use = next(((span.session, stint.step) for span, stint in some if stint.kind in used), None)
            if seen and use and use[0] - seen > long:
                first.setdefault(kind, use[1])
                found[use[0], care, kind, seen].append(seat)
    for (lesson, care, kind, seen), some_seats in sorted(found.items()):
        step = steps[first[kind]]
        who = seat_runs(some_seats, seats)
        says = (
            f"Show the {step.station_title} again to {who}, in a few words: seen in lesson {seen}."
            if care == "show-again"
            else f"Watch {who} closely at the {step.station_title} to begin with: signed off in lesson {seen}."
        )
        ordered = tuple(seat for seat in seats if seat in some_seats)
        yield lesson, Care(care, says, step.id, ordered, seen)


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
