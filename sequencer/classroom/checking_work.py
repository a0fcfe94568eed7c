"""The checker's look at every seat's own work: each step whole, nothing left half done that must not be, nothing in crumbs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor

from sequencer.classroom.as_written import Written
from sequencer.model.class_plan import Span, Stint
from sequencer.model.plan import Step

SLACK = 1e-6


def seats_right(written: Written) -> Iterator[str]:
    """As many seats as the class has, each at what a student does: alone, but where all are shown something."""
    count = ceil(written.workshop.students / 2) if written.workshop.pairs else written.workshop.students
    if list(written.class_plan.seats) != [str(number + 1) for number in range(count)]:
        yield f"The class has {count} seats, and the plan is for {len(written.class_plan.seats)}."
    known = {step.id for step in written.students}
    for stint in written.class_plan.stints:
        who = written.who(stint)
        if stint.step not in known:
            yield f"{who} does step {stint.number}, which is not one for a student."
        if not stint.seats or (stint.kind != "demonstration" and len(stint.seats) > 1):
            yield f"{who} does step {stint.number}, {stint.title}, which each does alone."
        for seat in sorted(set(stint.seats) - set(written.class_plan.seats)):
            yield f"There is no seat {seat}, and it does step {stint.number}."


def steps_whole(written: Written) -> Iterator[str]:
    """Every seat does every step of a student whole."""
    for step in written.students:
        for seat in written.class_plan.seats:
            parts = written.parts.get((seat, step.id), [])
            settings = len(parts) if step.one_go and parts else 1
            needed = ceil(step.minutes + settings * step.set_up_minutes - SLACK)
            has = sum(_minutes(span) for stint in parts for span in stint.spans)
            if has < needed:
                yield f"Seat {seat} has {has} minutes for step {step.number}, {step.title}, and needs {needed}."
            if step.one_go and not _by_pieces(parts, written.pieces(step), step.set_up_minutes):
                yield f"Seat {seat} leaves step {step.number}, {step.title}, half done."


def in_slots(written: Written) -> Iterator[str]:
    """Work of students begins at whole slots of the lesson."""
    slot = int(written.knowledge.working.slot)
    for stint in written.class_plan.stints:
        if any(span.start % slot for span in stint.spans):
            yield f"{written.who(stint)} begins step {stint.number} between two slots of {slot} minutes."


def _minutes(span: Span) -> int:
    return span.stop - span.start


def _by_pieces(parts: Sequence[Stint], pieces: Sequence[float], set_up: float) -> bool:
    """Whether each part is one stretch in which some whole pieces are done, one after the other, and all of them in the end."""
    left = list(pieces)
    if len(parts) > len(pieces):
        return False
    for stint in parts:
        room = sum(_minutes(span) for span in stint.spans) - set_up + SLACK
        if len(stint.spans) != 1 or room < min(pieces):
            return False
        while left and left[0] <= room:
            room -= left.pop(0)
    return not left


def rags_at_once(written: Written) -> Iterator[str]:
    """Oily rags are put away right behind the coat, in the same lesson, by the same seat: left lying they can take fire."""
    for step in written.students:
        if "rags" not in written.kinds(step):
            continue
        for seat in written.class_plan.seats:
            starts = {(span.session, span.start) for stint in written.parts.get((seat, step.id), []) for span in stint.spans}
            coats = [
                stint
                for each in written.students
                if "coat" in written.kinds(each) and written.waits.get(step.id, {}).get(each.id) == 0
                for stint in written.parts.get((seat, each.id), [])
            ]
            if starts and any((stint.spans[-1].session, stint.spans[-1].stop) not in starts for stint in coats):
                yield f"Seat {seat} leaves oily rags lying before step {step.number}, {step.title}."


def no_crumbs(written: Written) -> Iterator[str]:
    """Hand work that may be left is not cut into less than is worth taking up."""
    for step in written.students:
        if step.one_go:
            continue
        least = _least(written, step)
        for seat in written.class_plan.seats:
            spans = [span for stint in written.parts.get((seat, step.id), []) for span in stint.spans]
            short = [span for span in spans if _minutes(span) < min(least, _lesson(written, span))]
            if short and len(spans) > 1:
                yield (
                    f"Seat {seat} has {_minutes(short[0])} minutes in one go for step {step.number}, {step.title}, and "
                    f"{least} are the least that is worth taking up."
                )


def _lesson(written: Written, span: Span) -> int:
    """Minutes of the lesson of a stretch."""
    return written.lessons[span.session].minutes if span.session in written.lessons else 0


def _least(written: Written, step: Step) -> int:
    """The shortest part of a step of hand work, min: of equal stretches as long as stated at most, or cut off one of them."""
    working = written.knowledge.working
    return min(int(working.least_part), int(working.slot), floor(step.minutes + step.set_up_minutes))
