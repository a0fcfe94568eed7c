"""Where a straight saw cut stands in the picture: the plane the kept side ends at, and which side the kerf is on. mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from sequencer.model.frame import AXES, Axis, Point, axis_of
from sequencer.model.marks import Line
from sequencer.paper.set_ups.lying import Laid
from sequencer.solid.solids import CHORDS, Floats, Solid, box, hull


@dataclass(frozen=True)
class CutPlane:
    """A point of the plane, and its direction towards the waste, one long."""

    at: Point
    towards: Point

    def up(self) -> Point:
        """The direction in the plane that rises most."""
        z, n = np.array([0.0, 0.0, 1.0]), np.array(self.towards)
        rising = z - n * float(z @ n)
        return Point(*(float(value) for value in rising / np.linalg.norm(rising)))

    def along(self) -> Point:
        """The level direction in the plane, away from the viewer or to the right."""
        way = np.cross(np.array(self.up()), np.array(self.towards))
        way = way if way[1] > 1e-6 or (abs(way[1]) <= 1e-6 and way[0] > 0) else -way
        return Point(*(float(value) for value in way))

    def point(self, along: float, up: float, off: float = 0.0) -> Point:
        """A point so far along the plane, up it, and off it towards the waste."""
        value = np.array(self.at) + along * np.array(self.along()) + up * np.array(self.up()) + off * np.array(self.towards)
        return Point(*(float(each) for each in value))

    def disc(self, along: float, up: float, radius: float, thick: float) -> Solid:
        """A round blade in the plane, on the waste side."""
        turns = [2 * pi * step / CHORDS for step in range(CHORDS)]
        return hull(
            [self.point(along + radius * cos(turn), up + radius * sin(turn), off) for turn in turns for off in (0.0, thick)]
        )

    def sheet(self, along: tuple[float, float], up: tuple[float, float], thick: float) -> Solid:
        """A flat blade in the plane, on the waste side."""
        return self.flat([(a, u) for a in along for u in up], thick)

    def flat(self, corners: Sequence[tuple[float, float]], thick: float) -> Solid:
        """A flat blade in the plane with these corners, along and up, on the waste side."""
        return hull([self.point(a, u, off) for a, u in corners for off in (0.0, thick)])


def square_plane(laid: Laid, axis: Axis, at: float, sign: int) -> CutPlane:
    """A plane square to an axis of the picture, the waste beyond it in the direction of `sign`; at the middle of the piece,
    on the table."""
    spot = {each: sum(laid.bounds.span(each)) / 2 for each in AXES} | {"z": 0.0, axis: at}
    return CutPlane(Point(*(spot[each] for each in AXES)), Point(*(float(sign) if each == axis else 0.0 for each in AXES)))


def waste_side(laid: Laid, axis: Axis) -> tuple[float, int]:
    """Where the waste begins along an axis of the picture, and on which side of that it lies."""
    low, high = laid.bounds.span(axis)
    start, stop = laid.cut.span(axis)
    return (start, 1) if high - stop <= start - low else (stop, -1)


def line_plane(laid: Laid, line: Line) -> CutPlane:
    """The plane a straight line is sawn in: through its two ends, along the axis it goes through; its point on the table,
    midway."""
    first, last = (point_of(laid, line, number) for number in (0, -1))
    run = np.array(last) - np.array(first)
    through = np.array([1.0 if axis == laid.axis(line.through) else 0.0 for axis in AXES])
    normal = np.cross(run, through)
    normal = normal / np.linalg.norm(normal)
    middle = (np.array(first) + np.array(last)) / 2
    beside = [_near(middle + side * normal) & laid.waste for side in (1.0, -1.0)]
    if beside[1].volume > beside[0].volume:
        normal = -normal
    plane = CutPlane(Point(*(float(v) for v in middle)), Point(*(float(v) for v in normal)))
    up = plane.up()
    down = -middle[2] / up.z if abs(up.z) > 1e-9 else 0.0
    return CutPlane(plane.point(0.0, down), plane.towards)


def _near(at: Floats) -> Solid:
    """A crumb of space about a point."""
    return box([value - 0.5 for value in at], [value + 0.5 for value in at])


def point_of(laid: Laid, line: Line, number: int) -> Point:
    """A point of a line as drawn, in the middle of the axis it goes through."""
    spot: dict[Axis, float] = {axis_of(face): laid.subject.inward(face, gap) for face, gap in line.points[number]}
    spot[line.through] = sum(laid.subject.bounds.span(line.through)) / 2
    return laid.at(Point(*(spot[axis] for axis in AXES)))


def first_stretch(laid: Laid, marks: Line, deep: float) -> tuple[CutPlane, float]:
    """The plane of the first stretch of a line, and where along it the blade's teeth are: just in."""
    first = Line(marks.through, marks.points[:2], marks.edges, None)
    plane = line_plane(laid, first)
    spots = [laid.at(_own(laid, first, number)) for number in (0, 1)]
    along = plane.along()
    run = sum((b - a) * way for a, b, way in zip(spots[0], spots[1], along, strict=True))
    if run < 0:
        return plane, abs(run) / 2 - deep
    return plane, -run / 2


def _own(laid: Laid, line: Line, number: int) -> Point:
    spot: dict[Axis, float] = {axis_of(face): laid.subject.inward(face, gap) for face, gap in line.points[number]}
    spot[line.through] = laid.subject.bounds.span(line.through)[0]
    return Point(*(spot[axis] for axis in AXES))
