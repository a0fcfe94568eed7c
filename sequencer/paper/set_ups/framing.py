"""A picture put together: the piece with its waste and face marks, and what stands round it. mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point, axis_of, others
from sequencer.paper.scene import Arrow, FaceMark, Scene, Size, Thing
from sequencer.paper.set_ups.lying import Laid
from sequencer.paper.set_ups.sizing import unit
from sequencer.solid.solids import Solid

ON_IT = 0.5
"""How far above the wood an arrow runs that lies on it, mm."""


def scene_of(
    laid: Laid,
    around: Iterable[Thing] = (),
    *,
    sizes: Sequence[Size] = (),
    arrows: Sequence[Arrow] = (),
    gone: Solid | None = None,
    looks_from: Point | None = None,
) -> Scene:
    """The piece with what stands round it. `gone` is what the tool has cut away already."""
    waste = laid.waste if gone is None else laid.waste - gone
    wood = [] if laid.wood.empty else [Thing(laid.wood, "wood", letter=laid.subject.letter)]
    left = [] if waste.empty else [Thing(waste, "waste")]
    bodies = [thing for thing in around if not thing.solid.empty]
    return Scene(
        (*wood, *left, *bodies),
        tuple(sizes),
        tuple(arrows),
        face_marks(laid),
        laid.subject.task.does,
        laid.looks_from if looks_from is None else looks_from,
    )


def face_marks(laid: Laid) -> tuple[FaceMark, ...]:
    """The marks of the face side and the face edge, where the viewer sees those faces and the cut leaves them."""
    side, edge = laid.subject.face_side, laid.subject.face_edge
    found = []
    if side is not None and laid.seen(side):
        found.append(_mark(laid, "side", side, edge))
    if edge is not None and laid.seen(edge):
        found.append(_mark(laid, "edge", edge, side))
    return tuple(mark for mark in found if mark is not None)


def _mark(laid: Laid, kind: str, face: FaceName, towards: FaceName | None) -> FaceMark | None:
    """A mark near the edge it points to, beside what is cut away; none where the cut takes all of the face."""
    along, up = _directions(laid, face, towards)
    low, high = laid.bounds.span(along.axis)
    across = laid.bounds.span(up.axis)
    depth = across[1] - across[0]
    level = laid.bounds.span(laid.way(face).axis)[laid.way(face).sign > 0]
    over = (across[1] - 0.3 * depth) if up.sign > 0 else (across[0] + 0.3 * depth)
    for share in (0.3, 0.7, 0.5, 0.15, 0.85):
        spot = {along.axis: low + share * (high - low), up.axis: over, laid.way(face).axis: level}
        at = Point(*(spot[axis] for axis in AXES))
        if not _on_waste(laid, at, laid.way(face)):
            return FaceMark("side" if kind == "side" else "edge", at, unit(along), unit(up))
    return None


def _directions(laid: Laid, face: FaceName, towards: FaceName | None) -> tuple[Direction, Direction]:
    """Along a face and up it: up is towards the face it points to, or towards its nearer long edge."""
    axes = others(axis_of(face))
    if towards is None or axis_of(towards) == axis_of(face):
        narrow = min(axes, key=laid.subject.bounds.size)
        pointed: FaceName = next(each for each in FACES if axis_of(each) == narrow)
    else:
        pointed = towards
    up = laid.way(pointed)
    (along,) = (axis for axis in axes if axis != axis_of(pointed))
    return Direction(laid.axis(along), 1), up


def _on_waste(laid: Laid, at: Point, way: Direction) -> bool:
    """Whether the wood at a place of the surface is to be cut away."""
    if laid.waste.empty:
        return False
    box = laid.waste.bounds
    room = 4.0
    inside = [box.low[n] - room <= at[n] <= box.high[n] + room for n in range(3)]
    return all(inside)


def room_for(laid: Laid, axis: Axis, margin: float) -> tuple[float, float]:
    """The stretch of an axis the piece takes, with a margin."""
    low, high = laid.bounds.span(axis)
    return low - margin, high + margin
