"""The sizes that are set out for a cut, in place on the piece as it lies: each from the face it is measured from. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.design.poses import Direction
from sequencer.features.base import NEAR, mm
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, opposite, others
from sequencer.model.marks import (
    Between,
    Coped,
    Edges,
    Level,
    Line,
    Moulded,
    Off,
    Profile,
    Shoulders,
    Spots,
    Trough,
    Window,
    measured_faces,
)
from sequencer.paper.scene import Arrow, Size
from sequencer.paper.set_ups.lying import Laid

MOST_POINTS = 4
"""Points of a line whose place is written; more than these are drawn round a template."""

LEFT_ON = "left on"
"""What stands behind the size of waste that stays on until later."""


def unit(way: Direction) -> Point:
    """A direction as a point one away."""
    return Point(*(float(way.sign) if axis == way.axis else 0.0 for axis in AXES))


def sizes_of(laid: Laid) -> tuple[Size, ...]:
    """The sizes of what is set out, each once."""
    found = {(size.start, size.stop): size for size in (*_sizes(laid), *_left_on(laid)) if size.start != size.stop}
    return tuple(found.values())


def horns_of(laid: Laid) -> tuple[FaceName, ...]:
    """Faces with waste that stays on after this cut and that it is measured from: sizes run to the line before the waste."""
    marks = laid.subject.marks
    if marks is None:
        return ()
    found = []
    for face in dict.fromkeys(measured_faces(marks)):
        way = laid.way(face)
        end = laid.real_cut(way.axis)[way.sign > 0]
        if laid.subject.left_on.get(face, 0.0) > NEAR and way.sign * (laid.level(face) - end) > -NEAR:
            found.append(face)
    return tuple(found)


def _left_on(laid: Laid) -> Iterator[Size]:
    for face in horns_of(laid):
        amount = laid.subject.left_on[face]
        size = _along_edge(laid, face, -amount, 0.0)
        yield Size(size.start, size.stop, f"{mm(amount)} {LEFT_ON}", size.away)


def _sizes(laid: Laid) -> Iterator[Size]:
    marks = laid.subject.marks
    if isinstance(marks, Trough):
        yield from _trough(laid, marks)
    elif isinstance(marks, Window):
        yield from _window(laid, marks)
    elif isinstance(marks, Spots):
        yield from _spots(laid, marks)
    elif isinstance(marks, Line):
        yield from _line(laid, marks)
    elif isinstance(marks, Edges):
        yield from _edges(laid, marks.edges, marks.reach, marks.reach)
    elif isinstance(marks, Moulded):
        yield from _edges(laid, marks.edges, marks.width, marks.depth)
    elif isinstance(marks, Coped):
        yield from _coped(laid, marks)
    elif isinstance(marks, Profile):
        yield from _profile(laid, marks)
    elif isinstance(marks, Shoulders):
        yield from _shoulders(laid, marks)
    elif isinstance(marks, Level):
        yield _along_edge(laid, marks.face, 0.0, marks.distance)
    elif isinstance(marks, Off):
        end = -laid.subject.left_on.get(marks.face, 0.0)
        yield _along_edge(laid, marks.face, end, end + marks.amount)


def notes_of(laid: Laid) -> tuple[Arrow, ...]:
    """What no line of a size can show, written at an arrow: the diameter of a hole, the angle of a line."""
    marks = laid.subject.marks
    if isinstance(marks, Spots):
        (one, first), (two, second) = marks.places[0]
        spot = {axis_of(one): laid.subject.inward(one, first), axis_of(two): laid.subject.inward(two, second)}
        at = _point(laid, {**spot, axis_of(marks.face): laid.subject.level(marks.face)})
        return (_pointer(laid, at, f"diameter {mm(marks.diameter)}"),)
    if isinstance(marks, Line) and marks.angle:
        at = _point(laid, _on_line(laid, marks, len(marks.points) // 2))
        return (_pointer(laid, at, f"{mm(marks.angle)} degrees"),)
    return ()


def _pointer(laid: Laid, at: Point, label: str) -> Arrow:
    """An arrow to a point, from above it and from behind."""
    span = max(laid.bounds.size("x"), laid.bounds.size("y")) / 5
    return Arrow(Point(at.x, at.y + span / 2, at.z + span), at, label)


def _trough(laid: Laid, marks: Trough) -> Iterator[Size]:
    piece = laid.subject
    across, deep = axis_of(marks.beside), axis_of(marks.face)
    run = next(axis for axis in AXES if axis not in (across, deep))
    end = laid.near(run) if marks.reach is None else marks.reach[0]
    gap = next((gap for face, gap in marks.stops if face == end), 0.0)
    at = {run: piece.inward(end, gap), deep: piece.level(marks.face)}
    # Of the first of several alike, part may lie off the piece.
    near, far = max(marks.distance, 0.0), max(marks.distance + marks.width, 0.0)
    away = unit(laid.way(end))
    yield _size(laid, marks.beside, 0.0, near, at, away)
    yield _size(laid, marks.beside, near, far, at, away)
    if marks.count > 1 and marks.distance + marks.pitch < piece.bounds.size(across):
        yield _size(laid, marks.beside, far, marks.distance + marks.pitch, at, away)
    beyond = unit(laid.way(marks.beside).reversed)
    yield _size(laid, marks.face, 0.0, marks.depth, {run: at[run], across: piece.inward(marks.beside, far)}, beyond)
    for face, distance in (*marks.stops, *([marks.reach] if marks.reach is not None else [])):
        side = laid.near(across)
        line = {across: piece.level(side), deep: piece.level(marks.face)}
        yield _size(laid, face, 0.0, distance, line, unit(laid.way(side)))


def _window(laid: Laid, marks: Window) -> Iterator[Size]:
    piece = laid.subject
    for lines, other in zip(marks.sides, reversed(marks.sides), strict=True):
        end = laid.near(axis_of(other.face))
        at = {axis_of(end): piece.level(end), axis_of(marks.face): piece.level(marks.face)}
        yield from _between(laid, lines, at, unit(laid.way(end)))
    if marks.depth is not None:
        first, second = marks.sides
        end = laid.near(axis_of(second.face))
        at = {axis_of(first.face): piece.inward(first.face, first.far), axis_of(end): piece.level(end)}
        yield _size(laid, marks.face, 0.0, marks.depth, at, unit(laid.way(first.face).reversed))


def _between(laid: Laid, lines: Between, at: Mapping[Axis, float], away: Point) -> Iterator[Size]:
    yield _size(laid, lines.face, 0.0, lines.near, at, away)
    yield _size(laid, lines.face, lines.near, lines.far, at, away)


def _spots(laid: Laid, marks: Spots) -> Iterator[Size]:
    piece, deep = laid.subject, axis_of(marks.face)
    for spot in marks.places:
        for (face, distance), (other, _) in (spot, spot[::-1]):
            end = laid.near(axis_of(other))
            at = {axis_of(other): piece.level(end), deep: piece.level(marks.face)}
            yield _size(laid, face, 0.0, distance, at, unit(laid.way(end)))
    if marks.depth is not None:
        (one, first), (two, _) = marks.places[0]
        end = laid.near(axis_of(two))
        at = {axis_of(one): piece.inward(one, first), axis_of(two): piece.level(end)}
        yield _size(laid, marks.face, 0.0, marks.depth, at, unit(laid.way(one).reversed))


def _on_line(laid: Laid, marks: Line, number: int) -> dict[Axis, float]:
    """A point of a line, on the face of the piece that is seen."""
    piece, seen = laid.subject, laid.near(marks.through)
    place = {axis_of(face): piece.inward(face, distance) for face, distance in marks.points[number]}
    return {**place, marks.through: piece.level(seen)}


def _line(laid: Laid, marks: Line) -> Iterator[Size]:
    piece = laid.subject
    if len(marks.points) > MOST_POINTS:
        return
    seen = laid.near(marks.through)
    for number, spot in enumerate(marks.points):
        for face, distance in spot:
            if distance < NEAR or abs(distance - piece.bounds.size(axis_of(face))) < NEAR:
                continue
            (other,) = (axis for axis in others(marks.through) if axis != axis_of(face))
            side = laid.near(other)
            if marks.edges and side not in marks.edges and _on_line(laid, marks, number)[other] != piece.level(side):
                side = next((edge for edge in marks.edges if axis_of(edge) == other), side)
            at = {other: piece.level(side), marks.through: piece.level(seen)}
            yield _size(laid, face, 0.0, distance, at, unit(laid.way(side)))


def _edges(laid: Laid, edges: Sequence[tuple[FaceName, FaceName]], width: float, depth: float) -> Iterator[Size]:
    """Both ways of the first edge that is seen, at its nearer end: in over its first face, and down from it."""
    piece = laid.subject
    edge = max(edges, key=lambda pair: sum(laid.seen(face) for face in pair))
    run = next(axis for axis in AXES if axis not in (axis_of(edge[0]), axis_of(edge[1])))
    end = laid.near(run)
    for (one, two), reach in ((edge, depth), (edge[::-1], width)):
        at = {axis_of(two): piece.level(two), run: piece.level(end)}
        yield _size(laid, one, 0.0, reach, at, unit(laid.way(two)))


def _coped(laid: Laid, marks: Coped) -> Iterator[Size]:
    """Where it starts and ends along the edge, and how far it goes in from the edge."""
    _, side = marks.edge
    if marks.start > NEAR:
        yield _along_edge(laid, marks.end, 0.0, marks.start)
    yield _along_edge(laid, marks.end, marks.start, marks.start + marks.length)
    yield _along_edge(laid, side, 0.0, marks.width)


def _profile(laid: Laid, marks: Profile) -> Iterator[Size]:
    """How far each station is from the end, and the diameter at the first and the last; all of many are on the drawing."""
    piece, along = laid.subject, axis_of(marks.end)
    whole = piece.bounds.size(along)
    stations = marks.stations if len(marks.stations) <= MOST_POINTS else (marks.stations[0], marks.stations[-1])
    for at in dict.fromkeys(at for at, _ in stations if NEAR < at < whole - NEAR):
        yield _along_edge(laid, marks.end, 0.0, at)
    upright = next(axis for axis in others(along) if laid.axis(axis) == "z")
    flat = next(axis for axis in others(along) if axis != upright)
    (face,) = (face for face in measured_faces(marks) if axis_of(face) == upright and laid.way(face) == Direction("z", -1))
    for number, (at, across) in {0: stations[0], -1: stations[-1]}.items():
        if number and abs(across - stations[0][1]) < NEAR:
            continue
        edge = (piece.bounds.size(upright) - across) / 2
        place = {along: piece.inward(marks.end, at), flat: piece.level(laid.near(flat))}
        size = _size(
            laid, face, edge, edge + across, place, unit(laid.way(marks.end) if not number else laid.way(opposite(marks.end)))
        )
        yield replace(size, label=f"diameter {size.label}")


def _shoulders(laid: Laid, marks: Shoulders) -> Iterator[Size]:
    piece = laid.subject
    yield _along_edge(laid, marks.end, 0.0, marks.length)
    if laid.way(marks.end) == Direction("z", 1):
        # In the vice the cheeks are sawn first: their lines on the end. How wide the tenon is stands where it lies (`width_of`).
        thin = min(marks.keeps, key=lambda lines: lines.far - lines.near)
        side = laid.near(_beside(marks, thin))
        at = {axis_of(side): piece.level(side), axis_of(marks.end): piece.level(marks.end)}
        yield from _between(laid, thin, at, unit(laid.way(marks.end)))
        return
    for lines in marks.keeps:
        side = laid.near(_beside(marks, lines))
        at = {axis_of(side): piece.level(side), axis_of(marks.end): piece.level(marks.end)}
        yield from _between(laid, lines, at, unit(laid.way(marks.end)))


def width_of(laid: Laid, marks: Shoulders) -> tuple[Size, ...]:
    """The lines that a tenon is sawn narrower at than its piece, at its end; none where it is as wide."""
    piece = laid.subject
    found: list[Size] = []
    thin = min(marks.keeps, key=lambda lines: lines.far - lines.near)
    for lines in marks.keeps:
        if lines is not thin and abs(lines.far - lines.near - piece.bounds.size(axis_of(lines.face))) > NEAR:
            at = {axis_of(thin.face): piece.inward(thin.face, thin.near), axis_of(marks.end): piece.level(marks.end)}
            found += _between(laid, lines, at, unit(laid.way(marks.end)))
    return tuple(size for size in found if size.start != size.stop)


def _beside(marks: Shoulders, lines: Between) -> Axis:
    """The axis of a tenon's end along which these of its lines run."""
    return next(axis for axis in others(axis_of(marks.end)) if axis != axis_of(lines.face))


def _along_edge(laid: Laid, face: FaceName, near: float, far: float) -> Size:
    """A size at the edge of the piece that stands free in the picture: in front below for what runs to the right or up, at
    the left (or right, where the viewer stands there) for what runs away."""
    one, two = others(axis_of(face))
    at = {axis: laid.subject.level(laid.near(axis)) for axis in (one, two)}
    ways = {axis: laid.way(laid.near(axis)) for axis in (one, two)}
    level = next((axis for axis in (one, two) if ways[axis].axis != "z"), one)
    upright = two if level == one else one
    if ways[upright].axis == "z" and laid.upright:
        # The foot of what stands up is in the vice: the size stands over it.
        at[upright] = laid.subject.level(laid.face(Direction("z", 1)))
        level = upright
    elif ways[upright].axis == "z":
        at[upright] = laid.subject.level(laid.face(Direction("z", -1)))
    elif ways[upright].axis == "x":
        level = upright
    return _size(laid, face, near, far, at, unit(ways[level]))


def _size(laid: Laid, face: FaceName, near: float, far: float, at: Mapping[Axis, float], away: Point) -> Size:
    """From `near` to `far` inside a face, along the line at two other places; printed as it really is, also where a stretch
    is left out."""
    piece, axis = laid.subject, axis_of(face)
    start, stop = piece.inward(face, near), piece.inward(face, far)
    return Size(_point(laid, {**at, axis: start}), _point(laid, {**at, axis: stop}), mm(far - near), away)


def _point(laid: Laid, at: Mapping[Axis, float]) -> Point:
    return laid.at(Point(*(at[axis] for axis in AXES)))
