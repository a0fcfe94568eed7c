"""Wood beside slots that are sawn across glued corners: their cheeks towards the faces, between two of them, and
what is drawn open where a spline fills it. mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from sequencer.features.base import NEAR, Feature, mm
from sequencer.features.spline_slot import SplineSlot
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import FaceName, Hand, axis_of, opposite
from sequencer.model.job import Job, Part
from sequencer.model.shapes import Bounds, bounds

SOURCE = "from memory"
COMMON = "common practice"


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


def closed_by_splines(job: Job) -> Iterator[Finding]:
    """An error for each hole or cut of a loose part that runs into a slot for a spline, which fills it when it is glued in."""
    for part in job.parts.values():
        for slot in part.features.values():
            for other in part.features.values():
                if isinstance(slot, SplineSlot) and _is_closed(part, slot, other):
                    yield Finding(
                        "error",
                        "closed-by-spline",
                        f"{part.name}/{other.name}",
                        f"The {other.name} runs into the {slot.name}.",
                        "The spline that is glued into the slot later fills what is drawn open there.",
                        f"Move the {other.name} or the {slot.name}, or make the slot shorter.",
                        part.place_of(other.name),
                        COMMON,
                    )


def _is_closed(part: Part, slot: SplineSlot, other: Feature) -> bool:
    """Whether a spline stands in what another feature of the same pieces takes away before the corner is glued."""
    if other.kind == slot.kind or other.nature not in ("bored", "cut") or other.when != "loose" or other.ends_part():
        return False
    if slot.only is not None and other.only not in (None, slot.only):
        return False
    low, high = slot.band(part.block)
    for box in map(bounds, other.removes(part.block)):
        first, last = box.span(slot.across())
        along, over = (_inwards(part, face, box) for face in (slot.end, slot.long))
        # Nearer to the end than to the outer face the mitre has taken the wood.
        if min(high, last) - max(low, first) > NEAR and over + max(along, over) < slot.length - NEAR:
            return True
    return False


def _inwards(part: Part, face: FaceName, box: Bounds) -> float:
    """How far inwards of a face a box begins."""
    level = part.block.level(face)
    return max(min(abs(level - end) for end in box.span(axis_of(face))), 0.0)
