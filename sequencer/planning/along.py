"""Cuts right along short parts that students make: in one strip for several pieces, or piece by piece. How the ways of such a
work are compared where a strip may be taken. mm, min.
"""

from __future__ import annotations

from collections.abc import Iterable

from sequencer.model.job import Job, Part
from sequencer.planning.blanks import rough
from sequencer.planning.ranking import Along
from sequencer.planning.shop import Shop
from sequencer.planning.strip_times import share_of
from sequencer.planning.ways import Way
from sequencer.planning.work import Work
from sequencer.planning.worth_a_strip import slender

LARGE_ENOUGH = "Each piece is large enough to be held by itself: it is cut to length first."
"""Why a piece that could be worked in the long is not, by students."""

COMES_FIRST = "It is decided that it comes before the part is cut to length."
"""Why a piece is worked in the long whatever that takes."""


def along_for(work: Work, ways: Iterable[Way], works: Iterable[Work], shop: Shop) -> Along:
    """How the ways of a work are compared where a strip may be taken: what is done to the whole of a strip is shared by its
    pieces; what is large enough to be held by itself is worked by itself wherever the operation allows, unless it is decided
    that the work comes first. `works`: those of the job."""
    held = not slight(shop.job.parts[work.part], shop)

    def minutes(way: Way) -> float:
        if not way.in_the_long or way.piece is None:
            return way.minutes
        return way.minutes * share_of(way, way.piece.length, way.piece.yields, shop)

    by_itself = frozenset(way.operation for way in ways if held and way.possible and not way.in_the_long)
    return Along(minutes, by_itself, comes_first(work, works, shop.job))


def comes_first(work: Work, works: Iterable[Work], job: Job) -> bool:
    """Whether it is decided that a cut right along a part comes before the part is cut to length."""
    lengths = [each for each in works if each.part == work.part and each.kind in ("length", "separate")]
    return work.lengthwise and any(
        work.is_meant_by(decision.about) and length.is_meant_by(decision.before)
        for decision in job.decisions
        if decision.before
        for length in lengths
    )


def slight(part: Part, shop: Shop) -> bool:
    """Whether a part is a stick whose blank by itself leaves no room for vice or stop and both hands. What is broad is held by
    its breadth."""
    working = shop.knowledge.working
    return slender(part, working) and rough(part, shop.job.stock[part.stock], working).length <= working.short_part
