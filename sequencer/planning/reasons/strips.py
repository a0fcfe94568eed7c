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
        together = listed(sorted({words(work.part) for work in own}))
        parts = list(dict.fromkeys(work.part for work in own))
        for first in whole:
            for last in apart:
                if first.part == last.part:
                    continue
                if first.drawn is not None and not first.lengthwise:
                    yield _at_its_place(first, last, behind=parts.index(last.part) > parts.index(first.part))
                    continue
                sentence = f"The {together} are one stick until they are cut apart: first all that is done on the whole of it."
                yield Reason(first.id, last.id, "support", sentence, TRADE)


def _at_its_place(first: Work, last: Work, *, behind: bool) -> Reason:
    """Why a cut into one part of a stick comes before another part is sawn off: what lies `behind` it, towards the end that is
    held, takes it along; what lies before it may leave enough to hold."""
    if behind:
        sentence = (
            f"The {words(last.part)} lies between the {words(first.part)} and the end that is held: sawn off first, it takes the "
            f"{words(first.part)} with it."
        )
        return Reason(first.id, last.id, "support", sentence, "plain geometry")
    sentence = (
        f"The stick is marked out as one. With the {words(last.part)} sawn off, the {words(first.part)} would start from a new "
        f"end, on a shorter stick. It might still be held for the {words(first.feature)}, but no such order is planned."
    )
    return Reason(first.id, last.id, "sequence", sentence, TRADE)


def _whole(work: Work, ways: Mapping[str, Way]) -> bool:
    piece = ways[work.id].piece
    return piece is not None and piece.whole
