"""What the work of a part takes where it is done on a long piece, for which it is done once. min."""

from __future__ import annotations

from collections.abc import Mapping

from sequencer.planning.blanks import Workpiece
from sequencer.planning.shop import Shop
from sequencer.planning.strips import cuts_apart
from sequencer.planning.ways import Way
from sequencer.planning.work import Work

ONCE = ("rough-length", "face-marks")
"""Kinds of work that are done once for a long piece though they are not work in the long."""


def minutes_of(work: Work, way: Way, blanks: Mapping[str, Workpiece], shop: Shop) -> float:
    """Minutes of a work for one piece. What is done at the bench to a long piece as a whole takes the time of one piece, or more
    where it is longer than that is meant for, shared among its pieces. At a machine the time stays by the piece, as noise and
    dust of a day are counted by it."""
    minutes = way.minutes * work.times
    blank = blanks.get(work.part)
    whole = (way.in_the_long and not cuts_apart(work)) or work.kind in ONCE
    if blank is not None and blank.whole:
        # On a stick every part is marked out, cut and given its own ends.
        own = work.kind in ("first-end", "mark-out") or cuts_apart(work) or (work.drawn is not None and not work.lengthwise)
        whole = whole and not own
    if blank is None or not blank.long or not whole:
        return minutes
    pieces = sum(each.yields for each in blanks.values() if each is blank or (blank.strip and each.strip == blank.strip))
    return minutes * share_of(way, blank.length, pieces, shop)


def share_of(way: Way, length: float, pieces: int, shop: Shop) -> float:
    """What one of so many pieces of a long piece takes of the time that a way is meant to take: at the bench they share it."""
    if shop.knowledge.stations[way.kind].power not in ("hand", "bench"):
        return 1.0
    return max(1.0, length / shop.knowledge.working.strip_at_bench) / pieces


def minutes_for(
    part: str, works: Mapping[str, Work], ways: Mapping[str, Way], blanks: Mapping[str, Workpiece], shop: Shop
) -> float:
    """Minutes that the pieces of a part take for one thing."""
    own = (name for name, work in works.items() if work.part == part)
    return sum(minutes_of(works[name], ways[name], blanks, shop) * works[name].quantity for name in own)
