"""Whether what a glue-up closes is a frame or box or stands on four legs, and what must measure alike on it. mm.

Both diagonals of a rectangle are alike, its sides being so: plane geometry. They say nothing of wind, which is sighted. Two
pieces that one rail joins have no ring to measure in: they are as far apart at the rail as at their free ends. Four legs
lean over as one, whatever their frames: their diagonals lie across, from leg to leg.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations
from math import floor, hypot

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, face_towards
from sequencer.design.standing import up_of
from sequencer.features.base import NEAR
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, Axis, axis_of, mirrored, others
from sequencer.model.job import Job, Joint, Part
from sequencer.planning.groups import Group
from sequencer.planning.offsets import is_free

Span = tuple[float, float]
"""From and to along an axis; or two sides of a rectangle."""


def square_figures(
    job: Job, group: Group, placement: Placement, working: Working, before: Sequence[Group] = ()
) -> dict[str, float]:
    """What must measure alike on what a group closes, after the groups `before` it: the diagonals of a frame or box, those
    over four legs, what is across two pieces on one rail, and how many opposite pieces are alike."""
    legs = _leg_figures(job, group, placement, working, before)
    return {
        "joint.opposite": float(_opposite(job, group, placement)),
        **_ring_figures(job, group, placement, working),
        **(legs or _across_figures(job, group, placement, working)),
    }


SHOULDERED = ("tenon", "tongue", "bridle-tongue", "dovetail-end")
"""Ends that are let in up to a shoulder: it is not the length over all that must be alike."""


def _opposite(job: Job, group: Group, placement: Placement) -> int:
    """How many pairs of opposite pieces are as long as each other, over all, in the rings of four that a group closes."""
    rings = _closed(job, group, placement)
    pairs = {frozenset(pair) for one, two, three, four in rings for pair in ((one, three), (two, four))}
    return sum(_as_long(*(job.part_of(piece) for piece in sorted(pair))) for pair in pairs)


def _as_long(one: Part, other: Part) -> bool:
    left_on = any(axis_of(each.face) == "x" for part in (one, other) for each in part.allowances)
    shouldered = any(feature.kind in SHOULDERED for part in (one, other) for feature in part.features.values())
    return not left_on and not shouldered and abs(one.block.length - other.block.length) < NEAR


def _ring_figures(job: Job, group: Group, placement: Placement, working: Working) -> dict[str, float]:
    """The diagonal of the largest rectangle that four pieces of a group close, and how much both may differ: 1 mm for each
    `square_within` mm, and no corner more than `out_of_square`. Over the inner corners where horns or other allowances stand
    out, or where nothing is, at the outer ones. Nothing without one, or where it is too narrow for its diagonals to show that.
    """
    found = max(_rectangles(job, group, placement), key=lambda each: (hypot(*each[0]), each), default=None)
    if found is None:
        return {}
    outer, inner, inside = found
    diagonal, allowed = _alike(*(inner if inside else outer), working)
    if not allowed:
        return {}
    return {"joint.diagonal-inside" if inside else "joint.diagonal": diagonal, "joint.square-within": allowed}


def _alike(wide: float, high: float, working: Working) -> tuple[float, float]:
    """The diagonal of a rectangle, and how much both may differ, in whole mm; 0 where that would not show a corner out of
    square."""
    diagonal = hypot(wide, high)
    # The sides a, b at an angle off square by e: d1 d1 - d2 d2 = 4 a b sin(e); sin(e) is how far a corner is out for each
    # millimetre along a side.
    most = 2 * wide * high * working.out_of_square / diagonal
    allowed = max(working.square_least, float(floor(min(diagonal / working.square_within, most))))
    return round(diagonal), allowed if allowed <= most else 0.0


def _leg_figures(job: Job, group: Group, placement: Placement, working: Working, before: Sequence[Group]) -> dict[str, float]:
    """The diagonal over the outer corners of four upright pieces of one part that a group brings together, and how much both
    may differ; nothing where they were together before."""
    earlier = [joint for each in before for joint in each.joints]
    for whole in _bodies(placement, (*earlier, *group.joints)):
        if not any(joint.enters_piece in whole and joint.seat.piece in whole for joint in group.joints):
            continue
        upright = up_of(placement, sorted(whole)).axis
        for part in dict.fromkeys(job.part_of(piece).name for piece in sorted(whole)):
            legs = [
                piece for piece in sorted(whole) if job.part_of(piece).name == part and _runs(job, placement, piece) == upright
            ]
            if len(legs) != 4 or any({*legs} <= body for body in _bodies(placement, earlier)):
                continue
            u, v = others(upright)
            wide, high = _extent(placement, legs, u), _extent(placement, legs, v)
            if _gaps(placement, legs, u) and _gaps(placement, legs, v) and _has_corners(placement, legs, (u, wide), (v, high)):
                diagonal, allowed = _alike(wide[1] - wide[0], high[1] - high[0], working)
                if allowed:
                    return {"joint.diagonal-legs": diagonal, "joint.legs-within": allowed}
    return {}


def _gaps(placement: Placement, legs: Sequence[str], axis: Axis) -> bool:
    """Whether four legs stand two and two apart along an axis."""
    (_, second), (third, _) = (sorted(placement.span(piece, axis) for piece in legs)[at] for at in (1, 2))
    return third > second + NEAR


def _across_figures(job: Job, group: Group, placement: Placement, working: Working) -> dict[str, float]:
    """What is over two pieces that lie side by side and stand out freely from the one rail between them, outside."""
    found = across_pieces(job, group.joints, placement, working.free_ends)
    return {"joint.across": found[0]} if found else {}


def across_pieces(
    job: Job, joints: Sequence[Joint], placement: Placement, free_ends: float
) -> tuple[float, str, str, str] | None:
    """The widest that two such pieces are over all, the two, and the rail between them; a rail may push them apart or pull them
    together. `free_ends`: how far they must stand out from it, mm."""
    beside = _beside(joints)
    found = []
    for one, other in combinations(sorted(beside), 2):
        rails = beside[one] & beside[other]
        along = _runs(job, placement, one)
        if len(rails) != 1 or other in beside[one] or along is None or along != _runs(job, placement, other):
            continue
        rail = next(iter(rails))
        if rail not in placement.poses or placement.poses[rail].lean:
            continue
        for axis in others(along):
            if _gap(placement, one, other, axis) is None or not _are_straight(job, placement, (one, other), axis):
                continue
            (start, stop), (low, high) = placement.span(rail, along), _extent(placement, (one, other), along)
            wide = _extent(placement, (one, other), axis)
            if max(start - low, high - stop) > free_ends:
                found.append((wide[1] - wide[0], one, other, rail))
    return max(found, key=lambda each: each[0], default=None)


def _runs(job: Job, placement: Placement, piece: str) -> Axis | None:
    """The axis that a piece is longest along; None where it leans or has no place."""
    pose = placement.poses.get(piece)
    if pose is None or pose.lean:
        return None
    block = job.part_of(piece).block
    longest = max(AXES, key=block.size)
    return pose.direction(Direction(longest, 1)).axis


def _are_straight(job: Job, placement: Placement, pair: Sequence[str], axis: Axis) -> bool:
    """Whether the outer faces of two pieces are as sawn: no taper or curve has taken them."""
    for piece, sign in zip(sorted(pair, key=lambda each: placement.span(each, axis)), (-1, 1), strict=True):
        face = face_towards(placement.poses[piece].own(Direction(axis, 1 if sign > 0 else -1)))
        body = placement.bodies[piece]
        own = mirrored(face) if body.mirrored else face
        if any(own in feature.spoils() for feature in job.part_of(piece).features.values()):
            return False
    return True


def _bodies(placement: Placement, joints: Sequence[Joint]) -> list[set[str]]:
    """The pieces with a place that joints make one."""
    found: list[set[str]] = []
    for joint in joints:
        ends = {joint.enters_piece, joint.seat.piece}
        if ends <= {*placement.poses}:
            met = [body for body in found if body & ends]
            found = [body for body in found if body not in met] + [ends.union(*met)]
    return found


def _rectangles(job: Job, group: Group, placement: Placement) -> Iterator[tuple[Span, Span, bool]]:
    """The sides over the outer and the inner corners of every ring of four pieces, two and two opposite; and whether the
    outer ones cannot be measured."""
    for ring in _closed(job, group, placement):
        if any(piece not in placement.poses or placement.poses[piece].lean for piece in ring):
            continue
        one, two, three, four = ring
        across = [axis for axis in AXES if _gap(placement, one, three, axis) is not None]
        along = [axis for axis in AXES if _gap(placement, two, four, axis) is not None]
        for u in across:
            for v in along:
                first, second = _gap(placement, one, three, u), _gap(placement, two, four, v)
                if u == v or first is None or second is None:
                    continue
                wide, high = (_extent(placement, ring, axis) for axis in (u, v))
                yield (
                    (wide[1] - wide[0], high[1] - high[0]),
                    (first, second),
                    any(_stands_over(job, placement, each, (u, v)) for each in ring)
                    or not _has_corners(placement, ring, (u, wide), (v, high)),
                )


def _closed(job: Job, group: Group, placement: Placement) -> Iterator[tuple[str, str, str, str]]:
    """The rings whose pieces hold each other. Boards that only lie on two rails stand where they are put: measured over their
    corners, nothing would be learnt of what they lie on."""
    for ring in _rings(group):
        pairs = ((ring[0], ring[2]), (ring[1], ring[3]))
        placed = all(piece in placement.poses for piece in ring)
        plane = {axis for axis in AXES for pair in pairs if placed and _gap(placement, *pair, axis) is not None}
        if not plane or not any(_only_lies(job, joint, placement, plane) for joint in group.joints if _is_in(joint, ring)):
            yield ring


def _is_in(joint: Joint, pieces: Collection[str]) -> bool:
    return joint.enters_piece in pieces and joint.seat.piece in pieces


def _only_lies(job: Job, joint: Joint, placement: Placement, plane: Collection[Axis]) -> bool:
    """Whether a joint lays one piece flat on another, out of a plane, with no seat that it goes into."""
    bearing = placement.bearing(joint.name)
    return bearing is not None and bearing.looks.axis not in plane and is_free(job, joint)


def _rings(group: Group) -> Iterator[tuple[str, str, str, str]]:
    """Four pieces, each joined to the next; each ring once."""
    beside = _beside(group.joints)
    for one in sorted(beside):
        for three in sorted(beside):
            if three <= one or three in beside[one]:
                continue
            between = sorted(beside[one] & beside[three])
            for number, two in enumerate(between):
                for four in between[number + 1 :]:
                    if one < two and four not in beside[two]:
                        yield one, two, three, four


def _beside(joints: Sequence[Joint]) -> dict[str, set[str]]:
    """The pieces that each is joined to."""
    beside: dict[str, set[str]] = {}
    for joint in joints:
        beside.setdefault(joint.enters_piece, set()).add(joint.seat.piece)
        beside.setdefault(joint.seat.piece, set()).add(joint.enters_piece)
    return beside


def _gap(placement: Placement, one: str, other: str, axis: Axis) -> float | None:
    """What is clear between two pieces along an axis; None if they do not lie apart along it."""
    (low, high), (start, stop) = sorted((placement.span(one, axis), placement.span(other, axis)))
    return start - high if start > high + NEAR and stop > low else None


def _extent(placement: Placement, pieces: Sequence[str], axis: Axis) -> Span:
    spans = [placement.span(piece, axis) for piece in pieces]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _has_corners(placement: Placement, pieces: Sequence[str], wide: tuple[Axis, Span], high: tuple[Axis, Span]) -> bool:
    """Whether a piece reaches into each outer corner: strips that cross have none."""
    return all(
        any(
            low - NEAR <= x <= up + NEAR and start - NEAR <= y <= stop + NEAR
            for piece in pieces
            for (low, up), (start, stop) in [(placement.span(piece, wide[0]), placement.span(piece, high[0]))]
        )
        for x in wide[1]
        for y in high[1]
    )


def _stands_over(job: Job, placement: Placement, piece: str, plane: Sequence[Axis]) -> bool:
    """Whether a piece is longer or wider in the plane of the rectangle until it is trimmed."""
    pose = placement.poses[piece]
    own = {axis for axis in AXES if any(lies.axis in plane for a, lies in zip(AXES, pose.turn, strict=True) if a == axis)}
    return any(axis_of(each.face) in own for each in job.part_of(piece).allowances)
