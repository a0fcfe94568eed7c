"""A picture put together: the piece with its waste and face marks, and what stands round it. mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point, axis_of, others
from sequencer.paper.scene import Arrow, FaceMark, Scene, Size, Thing
from sequencer.paper.set_ups.lying import Laid
from sequencer.paper.set_ups.sizing import horns_of, unit
from sequencer.solid.solids import Solid, box

ON_IT = 0.5
"""How far above the wood an arrow runs that lies on it, mm."""
PLACES = (0.3, 0.7, 0.5, 0.4, 0.6, 0.2, 0.8, 0.1, 0.9)
"""Where along a face its mark may stand, the best first."""
ROOM = 4.0
"""Wood about a face mark, mm."""


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
    wood = [Thing(body, "wood", letter="" if number else laid.subject.letter) for number, body in enumerate(_at_lines(laid))]
    left = [] if waste.empty else [Thing(waste, "waste")]
    bodies = [thing for thing in around if not thing.solid.empty]
    return Scene(
        (*wood, *left, *bodies),
        tuple(sizes),
        tuple(arrows),
        face_marks(laid, bodies),
        laid.subject.task.does,
        laid.looks_from if looks_from is None else looks_from,
    )


def _at_lines(laid: Laid) -> list[Solid]:
    """The wood that stays, parted at the lines before what is left on until later, so that the lines show."""
    main, ends = laid.wood, []
    for face in horns_of(laid):
        way = laid.way(face)
        line = laid.drawn(way.axis, laid.level(face))
        low = {axis: laid.bounds.low[AXES.index(axis)] - 1.0 for axis in AXES}
        high = {axis: laid.bounds.high[AXES.index(axis)] + 1.0 for axis in AXES}
        (low if way.sign > 0 else high)[way.axis] = line
        end, main = main.parted(box([low[axis] for axis in AXES], [high[axis] for axis in AXES]))
        ends.append(end)
    return [body for body in (main, *ends) if not body.empty]


def face_marks(laid: Laid, around: Sequence[Thing] = ()) -> tuple[FaceMark, ...]:
    """The marks of the face side and the face edge, where the viewer sees those faces, the cut leaves them and nothing stands
    on them."""
    side, edge = laid.subject.face_side, laid.subject.face_edge
    found = []
    if side is not None and laid.seen(side):
        found.append(_mark(laid, "side", side, edge, around))
    if edge is not None and laid.seen(edge):
        found.append(_mark(laid, "edge", edge, side, around))
    return tuple(mark for mark in found if mark is not None)


def _mark(laid: Laid, kind: str, face: FaceName, towards: FaceName | None, around: Sequence[Thing]) -> FaceMark | None:
    """A mark near the edge it points to, beside what is cut away; none where the cut takes all of the face."""
    along, up = _directions(laid, face, towards)
    low, high = laid.bounds.span(along.axis)
    near, far = laid.bounds.span(up.axis)[:: up.sign]
    way = laid.way(face)
    level = laid.bounds.span(way.axis)[way.sign > 0]
    for share in PLACES:
        spot = {along.axis: low + share * (high - low), up.axis: far - 0.3 * (far - near), way.axis: level}
        at = Point(*(spot[axis] for axis in AXES))
        if whole_at(laid, at) and not any(_stands_at(thing.solid, at) for thing in around if thing.look == "tool"):
            return FaceMark("side" if kind == "side" else "edge", Point(*(spot[axis] for axis in AXES)), unit(along), unit(up))
    return None


def _stands_at(body: Solid, at: Point) -> bool:
    """Whether a body is near a place."""
    bounds = zip(body.bounds.low, at, body.bounds.high, strict=True)
    return all(low - 2 * ROOM < value < high + 2 * ROOM for low, value, high in bounds)


def whole_at(laid: Laid, at: Point, room: float = ROOM, of: Solid | None = None) -> bool:
    """Whether the surface about a place is wood that stays, or is `of` another body."""
    spans = {axis: (value - room, value + room) for axis, value in zip(AXES, at, strict=True)}
    # Only what is inside the wood counts of it, also beside an edge.
    inside = {axis: laid.bounds.span(axis) for axis in AXES}
    spans = {axis: (max(low, inside[axis][0]), min(high, inside[axis][1])) for axis, (low, high) in spans.items()}
    crumb = box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])
    return (crumb & (laid.wood if of is None else of)).volume > 0.99 * crumb.volume


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


def room_for(laid: Laid, axis: Axis, margin: float) -> tuple[float, float]:
    """The stretch of an axis the piece takes, with a margin."""
    low, high = laid.bounds.span(axis)
    return low - margin, high + margin
