"""The stretches of lessons in which a seat has nothing of its own to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sequencer.model.class_plan import Session, Span, Stint


def gaps(seat: str, stints: Sequence[Stint], lesson: Session) -> Iterator[Span]:
    """The stretches of a lesson without a stint of a seat, in order of time."""
    own = sorted(
        (span.start, span.stop)
        for stint in stints
        if seat in stint.seats
        for span in stint.spans
        if span.session == lesson.number
    )
    for (_, over), (start, _) in pairwise([(0, 0), *own, (lesson.minutes, lesson.minutes)]):
        if over < start:
            yield Span(lesson.number, over, start)


def to_fill(found: Sequence[Span], longest: float) -> tuple[Span, ...]:
    """Of the gaps of a lesson those that a task is named for, the longest first: so many that no more than the stated minutes of
    all the lesson are left without one. In order of time."""
    left = sum(gap.stop - gap.start for gap in found)
    filled: list[Span] = []
    for gap in sorted(found, key=lambda each: (each.start - each.stop, each.start)):
        if left <= longest:
            break
        filled.append(gap)
        left -= gap.stop - gap.start
    return tuple(sorted(filled, key=lambda each: each.start))
