"""Splines across mitred corners: which slots of two pieces are one saw cut, and what does not meet. mm.

What is drawn is the slots; the splines follow from them, as dowels do from their holes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist, sqrt

from sequencer.design.bodies import Body
from sequencer.design.joining import seat_feature
from sequencer.design.placement import Placement
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, mm
from sequencer.features.mitre import Mitre
from sequencer.features.spline_slot import SplineSlot
from sequencer.findings import Finding
from sequencer.model.frame import Axis, FaceName, Point, axis_of
from sequencer.model.job import Job, Joint, Part, Seat

MEETS = 0.1
"""Slots of two pieces further apart than this are not one cut, mm: one saw cut has no step in it."""


@dataclass(frozen=True)
class Spline:
    """A spline across a corner, and the two slots that it goes into: one of the entering piece, one of the other.

    tip
        The two ends of its slot at the corner itself, in the frame of the group: on the near side and on the far side.
    """

    joint: str
    pieces: tuple[str, str]
    slots: tuple[SplineSlot, SplineSlot]
    tip: tuple[Point, Point]

    @property
    def slot(self) -> SplineSlot:
        """The slot by which both are set out."""
        return self.slots[0]

    def name(self, job: Job) -> str:
        """The slot it is set out by, as `part/feature`."""
        return f"{job.part_of(self.pieces[0]).name}/{self.slot.name}"

    @property
    def floor(self) -> float:
        """Length of its floor, along which the spline bears."""
        return self.slot.length * sqrt(2)


def _mitre(job: Job, seat: Seat) -> Mitre | None:
    found = seat_feature(job, seat)
    return found if isinstance(found, Mitre) else None


def true_face(part: Part, slot: SplineSlot) -> FaceName:
    """The face that a slot is gauged from at the bench, which both pieces of a corner have flush: face side or face edge."""
    return part.face_side if axis_of(part.face_side) == slot.across() else part.face_edge


def gauged(part: Part, slot: SplineSlot) -> float:
    """How far the near side of a slot is from that face."""
    if slot.from_ == true_face(part, slot):
        return slot.distance
    return part.block.size(slot.across()) - slot.distance - slot.width


def tip_of(own: Body, slot: SplineSlot, placement: Placement) -> tuple[Point, Point]:
    """The two ends of a slot at the corner where its piece lies."""
    (end,) = own.faces((slot.end,))
    at: dict[Axis, float] = {"x": own.block.level(end), axis_of(slot.long): own.block.level(slot.long)}
    near, far = (
        Point(**(at | {slot.across(): own.block.inward(slot.from_, distance)}))
        for distance in (slot.distance, slot.distance + slot.width)
    )
    return placement.to_world(own.piece.name, near), placement.to_world(own.piece.name, far)


def splines(job: Job, placement: Placement, joint: Joint) -> tuple[Spline, ...]:
    """The splines of a joint: one where a slot of each piece comes to the corner at the same place."""
    ends = joint.enters_piece, joint.seat.piece
    mitres = _mitre(job, joint.its), _mitre(job, joint.seat)
    if "splines" not in joint.fixed or None in mitres or not set(ends) <= placement.poses.keys():
        return ()
    found = []
    for mine in _slots(job, joint.its):
        here = tip_of(placement.bodies[ends[0]], mine, placement)
        for theirs in _slots(job, joint.seat):
            there = tip_of(placement.bodies[ends[1]], theirs, placement)
            if apart(here, there) <= MEETS:
                found.append(Spline(joint.name, ends, (mine, theirs), here))
    return tuple(found)


def _slots(job: Job, seat: Seat) -> tuple[SplineSlot, ...]:
    """The slots of a piece at the corner that a mitre of it makes."""
    mitre, piece = _mitre(job, seat), job.pieces()[seat.piece]
    own = (each for each in job.parts[piece.part].features_of(piece.hand) if isinstance(each, SplineSlot))
    return tuple(each for each in own if mitre is not None and (each.end, each.long) == (mitre.end, mitre.long))


def apart(one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    """How far two slots are from each other at the corner, whichever face each is measured from."""
    straight, turned = (max(dist(one[0], ends[0]), dist(one[1], ends[1])) for ends in (other, other[::-1]))
    return min(straight, turned)


def splines_fit(job: Job, placement: Placement) -> Iterator[Finding]:
    """Slots against their mitre, their joint, and the slot of the other piece."""
    held: set[tuple[str, str]] = set()
    for joint in job.joints.values():
        if "splines" not in joint.fixed:
            continue
        for seat in (joint.its, joint.seat):
            held |= {(seat.piece, slot.name) for slot in _slots(job, seat)}
        yield from _meet(job, placement, joint)
    for part in job.parts.values():
        for slot in part.features.values():
            if isinstance(slot, SplineSlot):
                yield from _not_held(part, slot, held)


def _not_held(part: Part, slot: SplineSlot, held: set[tuple[str, str]]) -> Iterator[Finding]:
    """Pieces of a part whose slot nobody would saw: a slot is sawn where its corner is glued, piece by piece."""
    having = [piece.name for piece in part.pieces if slot.name in {each.name for each in part.features_of(piece.hand)}]
    without = [name for name in having if (name, slot.name) not in held]
    if not without:
        return
    some = f" in {', '.join(without)}" if len(having) > 1 else ""
    every = f" of {without[0]}" if len(without) == 1 < len(having) else " of each of these pieces" if some else ""
    yield Finding(
        "error",
        "slot-without-spline",
        f"{part.name}/{slot.name}",
        f"The {slot.name} is no slot of a corner that is fixed by splines{some}.",
        "It is sawn across two mitres that are glued, and a spline is glued into it.",
        f"Draw a mitre of 45 degrees at the {slot.end} of the {part.name}, with the long face {slot.long}, and write "
        f"`fixed: [glue, splines]` in the joint of that mitre{every}.",
        part.place_of(slot.name),
        COMMON,
    )


def _meet(job: Job, placement: Placement, joint: Joint) -> Iterator[Finding]:
    ends = joint.enters_piece, joint.seat.piece
    if not set(ends) <= placement.poses.keys():
        return
    found = splines(job, placement, joint)
    for number, seat in enumerate((joint.its, joint.seat)):
        other = (joint.seat, joint.its)[number]
        for slot in _slots(job, seat):
            if any(each.slots[number] == slot for each in found):
                continue
            mine = tip_of(placement.bodies[seat.piece], slot, placement)
            gaps = [apart(mine, tip_of(placement.bodies[other.piece], each, placement)) for each in _slots(job, other)]
            off = f"the nearest is {mm(min(gaps))} mm off" if gaps else "it has none there"
            yield Finding(
                "error",
                "slots-do-not-meet",
                joint.name,
                f"The {slot.name} of {seat.piece} has none to go on into in {other}: {off}.",
                "One saw cut goes across both pieces.",
                "Draw both from faces that come flush, with the same distance and width.",
                joint.place,
                COMMON,
            )
            return
    for each in found:
        one, two = each.slots
        sides = [
            placement.face_plane(piece, *placement.bodies[piece].faces((true_face(placement.bodies[piece].part, slot),)))
            for piece, slot in zip(each.pieces, each.slots, strict=True)
        ]
        if sides[0][0] != sides[1][0] or abs(sides[0][1] - sides[1][1]) > MEETS:
            faces = [true_face(placement.bodies[piece].part, slot) for piece, slot in zip(each.pieces, each.slots, strict=True)]
            yield Finding(
                "error",
                "slot-gauged-twice",
                joint.name,
                f"The {faces[0]} of {each.pieces[0]} and the {faces[1]} of {each.pieces[1]} are to be gauged from, "
                "and do not come flush.",
                "A slot across both is gauged from one true face of both.",
                "Let the face sides come flush at the corner (`marks`, `flush`), for a slot across a box the face edges.",
                joint.place,
                COMMON,
            )
            return
        unlike = _unlike(job, each)
        if unlike is not None:
            word, said = unlike
            yield Finding(
                "error",
                "slots-differ",
                joint.name,
                f"The {one.name} of {each.pieces[0]} {said[0]}, the {two.name} of {each.pieces[1]} {said[1]}.",
                "A saw that goes straight across the corner cuts both alike.",
                f"Write the same `{word}` in both.",
                joint.place,
                COMMON,
            )
            return


def _unlike(job: Job, spline: Spline) -> tuple[str, tuple[str, str]] | None:
    """What the two slots of a spline differ in, though they meet as near as a drawing is rounded: the key to correct, and each
    one's figure in words."""
    one, two = spline.slots
    parts = [job.part_of(piece) for piece in spline.pieces]
    begins = gauged(parts[0], one), gauged(parts[1], two)
    if abs(one.length - two.length) > NEAR:
        return "length", (f"runs {one.length:g} mm from the corner", f"{two.length:g} mm")
    if abs(one.width - two.width) > NEAR:
        return "width", (f"is {one.width:g} mm wide", f"{two.width:g} mm")
    if abs(begins[0] - begins[1]) > NEAR:
        return "distance", (f"lies {begins[0]:g} mm from its true face", f"{begins[1]:g} mm")
    return None
