"""Neutral shapes: what a feature removes, in the part's frame, in mm. Prisms, cones, turned shapes and what is left round
one; nothing else.

Drawings and solids know only these; no list of feature kinds stands there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, pi, sin

from sequencer.model.frame import AXES, Axis, Point, others


@dataclass(frozen=True)
class Prism:
    """A straight prism along an axis.

    outline
        Corners in order, each as coordinates along the two other axes in alphabetical order (`frame.others`). Not
        closed, either direction, at least three corners; may be concave, must not cross itself.
    start, stop
        Extent along the axis, start < stop.
    """

    axis: Axis
    outline: tuple[tuple[float, float], ...]
    start: float
    stop: float


@dataclass(frozen=True)
class Cone:
    """A cylinder (equal radii) or cone along an axis; `centre` along the two other axes in alphabetical order."""

    axis: Axis
    centre: tuple[float, float]
    start: float
    stop: float
    radius_start: float
    radius_stop: float


@dataclass(frozen=True)
class Turned:
    """A turned shape about an axis: `profile` is (position along the axis, radius), positions not falling."""

    axis: Axis
    centre: tuple[float, float]
    profile: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Rind:
    """What comes off a square stick that is made round: the block between two corners, `low` and `high` along the two other
    axes in alphabetical order, less a cylinder or cone along the axis."""

    axis: Axis
    centre: tuple[float, float]
    start: float
    stop: float
    radius_start: float
    radius_stop: float
    low: tuple[float, float]
    high: tuple[float, float]

    @property
    def core(self) -> Cone:
        """What stays."""
        return Cone(self.axis, self.centre, self.start, self.stop, self.radius_start, self.radius_stop)


Shape = Prism | Cone | Turned | Rind


@dataclass(frozen=True)
class Bounds:
    """The box around a shape."""

    low: Point
    high: Point

    def size(self, axis: Axis) -> float:
        """Extent along an axis, mm."""
        index = AXES.index(axis)
        return self.high[index] - self.low[index]

    def span(self, axis: Axis) -> tuple[float, float]:
        """Low and high along an axis, mm."""
        index = AXES.index(axis)
        return self.low[index], self.high[index]


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Prism:
    """A square block as a prism through the thickness."""
    return Prism("z", ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])), z[0], z[1])


def box_along(spans: dict[Axis, tuple[float, float]]) -> Prism:
    """A square block from its span along each axis."""
    return box(spans["x"], spans["y"], spans["z"])


def arc(centre: tuple[float, float], radius: float, start: float, stop: float, chords: int = 16) -> list[tuple[float, float]]:
    """Points on a circle from angle `start` to `stop` (degrees), both ends included, by equal chords."""
    return [
        (
            centre[0] + radius * cos(pi / 180 * (start + (stop - start) * step / chords)),
            centre[1] + radius * sin(pi / 180 * (start + (stop - start) * step / chords)),
        )
        for step in range(chords + 1)
    ]


def _spans(shape: Shape) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """Extent along the shape's axis, then along the two others."""
    if isinstance(shape, Prism):
        first, second = zip(*shape.outline, strict=True)
        return (shape.start, shape.stop), (min(first), max(first)), (min(second), max(second))
    if isinstance(shape, Rind):
        return (shape.start, shape.stop), (shape.low[0], shape.high[0]), (shape.low[1], shape.high[1])
    if isinstance(shape, Cone):
        along, radius = (shape.start, shape.stop), max(shape.radius_start, shape.radius_stop)
    else:
        along = (shape.profile[0][0], shape.profile[-1][0])
        radius = max(radius for _, radius in shape.profile)
    a, b = shape.centre
    return along, (a - radius, a + radius), (b - radius, b + radius)


def bounds(shape: Shape) -> Bounds:
    """The box around one shape."""
    along, first, second = _spans(shape)
    spans = dict(zip((shape.axis, *others(shape.axis)), (along, first, second), strict=True))
    return Bounds(Point(*(spans[axis][0] for axis in AXES)), Point(*(spans[axis][1] for axis in AXES)))


def bounds_of(shapes: Iterable[Shape]) -> Bounds:
    """The box around several shapes; there must be at least one."""
    boxes = [bounds(shape) for shape in shapes]
    return Bounds(
        Point(*(min(box.low[index] for box in boxes) for index in range(3))),
        Point(*(max(box.high[index] for box in boxes) for index in range(3))),
    )


def mirror(shape: Shape, length: float) -> Shape:
    """The same shape on the other hand of a part `length` long: x becomes length - x."""
    if shape.axis == "x":
        if isinstance(shape, Prism):
            return replace(shape, start=length - shape.stop, stop=length - shape.start)
        if isinstance(shape, Cone | Rind):
            return replace(
                shape,
                start=length - shape.stop,
                stop=length - shape.start,
                radius_start=shape.radius_stop,
                radius_stop=shape.radius_start,
            )
        return replace(shape, profile=tuple((length - at, radius) for at, radius in reversed(shape.profile)))
    # For axes y and z the first of the two other axes is x.
    if isinstance(shape, Prism):
        return replace(shape, outline=tuple((length - x, other) for x, other in shape.outline))
    centre = (length - shape.centre[0], shape.centre[1])
    if isinstance(shape, Rind):
        low, high = (length - shape.high[0], shape.low[1]), (length - shape.low[0], shape.high[1])
        return replace(shape, centre=centre, low=low, high=high)
    return replace(shape, centre=centre)
