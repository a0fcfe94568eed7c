"""Why all that is done on the whole of a strip comes before it is cut apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.model.plan import Reason
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.strips import cuts_apart
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words
from sequencer.reading.words import listed

_WHOLE = ("rough-length", "face-marks", "face-side", "face-edge", "thickness", "width", "mark-out")
"""Work that is done on a strip while it is whole, besides what runs right along it."""


def strip_reasons(works: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """What is one stick is brought to size and worked along its whole length before any part is cut off it, whichever part
    each work is drawn for."""
    strips: dict[str, list[Work]] = {}
    for work in works.values():
        piece = ways[work.id].piece
        if piece is not None and piece.strip:
            strips.setdefault(piece.strip, []).append(work)
    members = {work.part: strip for strip, own in strips.items() for work in own}
    for work in works.values():
        if work.kind in _WHOLE and work.part in members and work not in strips[members[work.part]]:
            strips[members[work.part]].append(work)
    for own in strips.values():
        apart = [work for work in own if cuts_apart(work)]
        # Pieces with square ends are marked out when they are cut apart, but on a stick that is whole.
        squared = {work.part for work in own if work.kind == "separate" and not _whole(work, ways)}
        whole = [
            work
            for work in own
            if not cuts_apart(work)
            and (work.kind in _WHOLE or ways[work.id].in_the_long)
            and not (work.kind == "mark-out" and work.part in squared)
        ]
        for first in whole:
            for last in apart:
                if first.part != last.part:
                    sentence = (
                        f"The {listed(sorted({words(work.part) for work in own}))} are one stick until they are cut apart: first "
                        "all that is done on the whole of it."
                    )
                    yield Reason(first.id, last.id, "support", sentence, TRADE)


def _whole(work: Work, ways: Mapping[str, Way]) -> bool:
    piece = ways[work.id].piece
    return piece is not None and piece.whole
