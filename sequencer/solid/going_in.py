"""The pieces as they go in: where they stand when all is together, with the dowels and biscuits that are put into one of them
first, and without what is only drawn tight. mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.design.loose_pieces import Peg, pegs
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.poses import normal
from sequencer.model.frame import AXES, Point, opposite, others
from sequencer.model.job import Job, Joint
from sequencer.model.once import once_for_a_drawing
from sequencer.model.shapes import Cone
from sequencer.solid.blocking import Blocking, ways_to_move
from sequencer.solid.clashing import clashes
from sequencer.solid.parts import standing_solids
from sequencer.solid.solids import Solid, box, joined, shape_solid

THINNER = 0.1
"""Dowels and biscuits are taken this much thinner all round, mm: a round hole is a many-sided one on a solid."""
BISCUIT = 4.0
"""Thickness of a pressed biscuit, mm."""
MIDDLE = 1.5
"""Half of the middle of a biscuit that is as wide as the biscuit, mm: its edge is curved, and nearly straight there."""


def going_in(job: Job, placement: Placement) -> dict[str, Solid]:
    """Every placed piece as it goes in, by name in the order of the file.

    A dowel or biscuit goes with the piece that enters. What is driven is taken without what it shares with its seat; a key is
    put in beside what it draws up, and pulls as it is driven.
    """
    standing = standing_solids(placement)
    keys = {joint.enters_piece for joint in job.joints.values() if _is_key(joint)}
    clear = dict(standing)
    for clash in clashes(placement, standing):
        first, second = clash.pieces
        moving, other = (second, first) if second in keys or first not in keys else (first, second)
        around = standing[other].bounds
        clear[moving] = clear[moving] - (box(around.low, around.high) if moving in keys else standing[other])
    loose = _loose(job, placement)
    return {name: joined([solid, *loose.get(name, ())]) for name, solid in clear.items()}


@once_for_a_drawing
def blocking_of(job: Job) -> Blocking:
    """What stops what among the placed pieces, as they go in."""
    placement = place(job)
    standing = going_in(job, placement)
    return Blocking(standing, ways_to_move(standing.values()), frozenset(_tilted_in(job)), dict(led(job, placement)))


def _is_key(joint: Joint) -> bool:
    return "key" in joint.fixed and joint.fit == "driven"


def led(job: Job, placement: Placement) -> Iterator[tuple[tuple[str, str], Point]]:
    """Keys come out the way they were driven in, away from the face that leads: their thin end."""
    for joint in job.joints.values():
        if _is_key(joint) and joint.its.face is not None and joint.enters_piece in placement.poses:
            (face,) = placement.bodies[joint.enters_piece].faces((joint.its.face,))
            way = placement.poses[joint.enters_piece].direction(normal(opposite(face)))
            yield (joint.enters_piece, joint.seat.piece), Point(*(way.sign * float(axis == way.axis) + 0.0 for axis in AXES))


def _tilted_in(job: Job) -> Iterator[frozenset[str]]:
    """Of a body with loose pivots in several pieces the first: it is tilted into that one, and laid into the others."""
    told: dict[str, Joint] = {}
    for joint in job.joints.values():
        if joint.fit == "loose-pivot" and joint.fixed == ("dry",):
            body = min(_fixed_to(job, joint.enters_piece))
            first = told.setdefault(body, joint)
            if first.seat.piece != joint.seat.piece:
                yield frozenset((first.enters_piece, first.seat.piece))


def _fixed_to(job: Job, piece: str) -> set[str]:
    """The pieces that joints which are no loose seats connect with one, itself too."""
    reached, todo = {piece}, [piece]
    while todo:
        here = todo.pop()
        for joint in job.joints.values():
            ends = {joint.enters_piece, joint.seat.piece}
            if here in ends and joint.fixed != ("dry",):
                todo += ends - reached
                reached |= ends
    return reached


def _loose(job: Job, placement: Placement) -> Mapping[str, list[Solid]]:
    """The dowels and biscuits of each piece that enters by them."""
    found: dict[str, list[Solid]] = {}
    for joint in job.joints.values():
        if joint.enters_piece not in placement.poses or joint.seat.piece not in placement.poses:
            continue
        if "dowels" in joint.fixed:
            found.setdefault(joint.enters_piece, []).extend(_body(peg) for peg in pegs(job, placement, joint, "dowel"))
        if "biscuits" in joint.fixed:
            found.setdefault(joint.enters_piece, []).extend(_body(peg) for peg in pegs(job, placement, joint, "biscuit"))
    return found


def _body(peg: Peg) -> Solid:
    """A dowel, or the middle of a biscuit, where it sits."""
    axis, sign = peg.across.axis, peg.across.sign
    middle = {each: peg.at[AXES.index(each)] for each in AXES}
    low, high = sorted((middle[axis] - sign * peg.into[0], middle[axis] + sign * peg.into[1]))
    if peg.kind == "dowel":
        first, second = others(axis)
        radius = peg.size / 2 - THINNER
        return shape_solid(Cone(axis, (middle[first], middle[second]), low, high, radius, radius))
    third = next(each for each in others(axis) if each != peg.run)
    half = {axis: (low, high), peg.run: (-MIDDLE, MIDDLE), third: (THINNER - BISCUIT / 2, BISCUIT / 2 - THINNER)}
    spans = {each: half[each] if each == axis else tuple(middle[each] + at for at in half[each]) for each in AXES}
    return box([spans[each][0] for each in AXES], [spans[each][1] for each in AXES])
