"""Wood beside slots that are sawn across glued corners: their cheeks towards the faces, and between two of them. mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from sequencer.features.base import NEAR, mm
from sequencer.features.spline_slot import SplineSlot
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import Hand, opposite
from sequencer.model.job import Job, Part

SOURCE = "from memory"


def wood_beside_slots(job: Job, working: Working) -> Iterator[Finding]:
    """An error for each slot with less than `least-wall` on either side of it, towards a face or another slot of its corner; a
    warning for less than `slot-cheek`. A slot at the very face is a step, and holds its spline from one side only."""
    for part in job.parts.values():
        said: set[tuple[str, str]] = set()
        for hand in dict.fromkeys(piece.hand for piece in part.pieces):
            for slot, towards, wall in _walls(part, hand):
                if wall < working.slot_cheek - NEAR and (slot.name, towards) not in said:
                    said.add((slot.name, towards))
                    yield _thin(part, slot, towards, wall, working)


def least_cheek(part: Part, slot: SplineSlot) -> float:
    """The thinnest wood beside a slot of a part, towards a face or another slot of its corner."""
    hands = dict.fromkeys(piece.hand for piece in part.pieces)
    return min(wall for hand in hands for each, to, wall in _walls(part, hand) if slot.name in (each.name, to))


def _walls(part: Part, hand: Hand | None) -> Iterator[tuple[SplineSlot, str, float]]:
    """The wood on each side of each slot of a piece: towards which face or which later slot it stands, and how thick it is. Below
    nothing two slots share wood; what is outside the part is said of the slot itself."""
    slots = [each for each in part.features_of(hand) if isinstance(each, SplineSlot)]
    for slot in slots:
        near, far = slot.beside(part.block)
        for face, wall in ((slot.from_, near), (opposite(slot.from_), far)):
            if wall > -NEAR:
                yield slot, f"{face} face", wall
    for one, two in combinations(slots, 2):
        if (one.end, one.long) == (two.end, two.long):
            (low, high), (first, last) = (each.band(part.block) for each in (one, two))
            yield one, two.name, max(first - high, low - last)


def _thin(part: Part, slot: SplineSlot, towards: str, wall: float, working: Working) -> Finding:
    """What is said of one wall beside a slot."""
    between = f"Between the {slot.name} and the {towards}"
    refused = wall < working.least_wall - NEAR
    if wall < -NEAR:
        what = f"The {slot.name} and the {towards} run into each other."
    elif wall < NEAR:
        what = f"{between} no wood is left."
    else:
        what = f"{between} only {mm(wall)} mm of wood stands."
    if wall < NEAR:
        why = "A spline is held by glue on both of its broad faces: with wood on one side only it is torn off."
    else:
        why = "So thin a cheek breaks off when it is sawn or when the spline goes in."
    return Finding(
        "error" if refused else "warning",
        "no-wood-beside-slot" if refused else "thin-beside-slot",
        f"{part.name}/{slot.name}",
        what,
        why,
        f"Leave {mm(working.slot_cheek)} mm or more, {mm(working.least_wall)} mm at the least, or make it narrower.",
        part.place_of(slot.name),
        SOURCE,
    )
