"""Strips whose pieces are mitred: how their ends slope, and why one that only staff cut gives the parts of one student. mm.

Their pieces are never turned over: what runs along a strip lies at one edge of it, so between two pieces the short edge has a
triangle of waste.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.frame import is_high
from sequencer.model.job import Part
from sequencer.model.marks import Line
from sequencer.model.stock_lists import Strip
from sequencer.planning.choice import Choice
from sequencer.planning.shop import Shop
from sequencer.planning.strips import cuts_apart
from sequencer.reading.words import listed


def slopes_of(part: Part) -> tuple[float, float]:
    """How much shorter the part is at one edge because its left and its right end are cut aslant across its width: at the top
    edge above 0, at the bottom edge below. 0 for an end that is square there."""
    found = {"left": 0.0, "right": 0.0}
    for feature in part.features.values():
        marks = feature.marks(part.block) if feature.ends_part() else None
        if isinstance(marks, Line) and marks.through == "z" and len(marks.points) == 2:
            (_, tip), (_, toe) = (spot[0] for spot in marks.points)
            found[feature.ends_part()[0]] = round(abs(toe - tip), 3) * (1.0 if is_high(marks.edges[-1]) else -1.0)
    return found["left"], found["right"]


def mitred_remarks(choice: Choice, strips: Sequence[Strip], shop: Shop) -> Iterator[Finding]:
    """Strips on which staff do every cut, and each of which holds the parts of one student all the same."""
    for strip in strips:
        own = [
            (choice.works[name], way)
            for name, way in choice.ways.items()
            if choice.works[name].part in strip.parts and way.in_the_long
        ]
        sloping = any(cuts_apart(work) and work.drawn is not None for work, _ in own)
        if strip.sets > 1 or not sloping or any(way.who.operator != "staff" for _, way in own):
            continue
        letters = listed([shop.job.parts[part].letter for part in strip.parts])
        over = strip.length - sum(piece.length for piece in strip.pieces)
        yield Finding(
            "note",
            "strip-each",
            strip.parts[0],
            f"Each strip of {letters} holds the parts of one student, though staff make all its cuts: its ends are sawn to "
            f"lines, and each student marks those. Of {strip.count} strips of {mm(strip.length)} mm for the class {mm(over)} mm "
            "each stay over, besides the triangles between the mitres.",
            "A strip for several students would have to be marked out by staff, piece by piece.",
            "Keep what stays over to try the angle of the saw on.",
            shop.job.parts[strip.parts[0]].place,
        )
