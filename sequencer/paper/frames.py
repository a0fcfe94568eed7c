"""The view frame of a part seen square to one of its faces, and shapes in it. mm.

A view frame names the axes anew: x to the right, y up, z towards the viewer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, pi, sin

from sequencer.model.frame import AXES, Axis, Block, FaceName, Point, others
from sequencer.model.shapes import Cone, Prism, Rind, Shape

Flat = tuple[float, float]
Spot = tuple[float, float, float]
Cut = Prism | Cone | Rind
"""A shape as the views work with it."""

_CHORDS = 32

# Looking square at a face: the axis that points right and the one that points up, with their directions.
_LOOKING: dict[FaceName, tuple[tuple[Axis, bool], tuple[Axis, bool], tuple[Axis, bool]]] = {
    "inside": (("x", True), ("y", True), ("z", True)),
    "outside": (("x", False), ("y", True), ("z", False)),
    "bottom": (("x", True), ("z", True), ("y", False)),
    "top": (("x", True), ("z", False), ("y", True)),
    "left": (("z", True), ("y", True), ("x", False)),
    "right": (("z", False), ("y", True), ("x", True)),
}


@dataclass(frozen=True)
class Frame:
    """The view frame of a block seen square to one of its faces."""

    face: FaceName
    block: Block

    @property
    def size(self) -> tuple[float, float, float]:
        """Extent to the right, up, and in depth."""
        right, up, depth = (self.block.size(axis) for axis, _ in _LOOKING[self.face])
        return right, up, depth

    def axis(self, own: Axis) -> Axis:
        """The view's name of one of the part's own axes."""
        return AXES[next(index for index, (axis, _) in enumerate(_LOOKING[self.face]) if axis == own)]

    def side(self, own: FaceName) -> tuple[Axis, bool]:
        """Where one of the part's faces is in the view: axis, and whether at its high end."""
        for index, (axis, along) in enumerate(_LOOKING[self.face]):
            for high in (False, True):
                if own == _face(axis, high):
                    return AXES[index], high == along
        raise KeyError(own)

    def spot(self, point: Point) -> Spot:
        """A point of the part in the view frame."""
        right, up, depth = (
            point[AXES.index(axis)] if along else self.block.size(axis) - point[AXES.index(axis)]
            for axis, along in _LOOKING[self.face]
        )
        return right, up, depth

    def shapes(self, removed: Iterable[Shape]) -> tuple[Cut, ...]:
        """Shapes in the view frame, cut back to the block, cylinders and turned shapes as prisms and cones."""
        low, high = (0.0, 0.0, 0.0), self.size
        return tuple(
            kept for shape in removed for plain in _plain(shape) if (kept := _within(self._turn(plain), low, high)) is not None
        )

    def _turn(self, shape: Cut) -> Cut:
        new: dict[Axis, tuple[Axis, bool, float]] = {
            axis: (AXES[index], along, self.block.size(axis)) for index, (axis, along) in enumerate(_LOOKING[self.face])
        }

        def carry(own: Axis, value: float) -> float:
            _, along, size = new[own]
            return value if along else size - value

        first, second = others(shape.axis)
        target = new[shape.axis][0]
        swap = AXES.index(new[first][0]) > AXES.index(new[second][0])

        def flat(pair: Flat) -> Flat:
            a, b = carry(first, pair[0]), carry(second, pair[1])
            return (b, a) if swap else (a, b)

        ends = carry(shape.axis, shape.start), carry(shape.axis, shape.stop)
        if isinstance(shape, Prism):
            return Prism(target, tuple(flat(pair) for pair in shape.outline), min(ends), max(ends))
        radii = (shape.radius_start, shape.radius_stop)
        if ends[0] > ends[1]:
            ends, radii = (ends[1], ends[0]), (radii[1], radii[0])
        if isinstance(shape, Rind):
            low, high = zip(*(sorted(pair) for pair in zip(flat(shape.low), flat(shape.high), strict=True)), strict=True)
            return Rind(target, flat(shape.centre), *ends, *radii, low, high)
        return Cone(target, flat(shape.centre), *ends, *radii)


def _face(axis: Axis, high: bool) -> FaceName:
    names: dict[tuple[Axis, bool], FaceName] = {
        ("x", False): "left",
        ("x", True): "right",
        ("y", False): "bottom",
        ("y", True): "top",
        ("z", False): "outside",
        ("z", True): "inside",
    }
    return names[axis, high]


def circle(centre: Flat, radius: float) -> tuple[Flat, ...]:
    """A circle as a polygon of equal chords."""
    return tuple(
        (centre[0] + radius * cos(2 * pi * step / _CHORDS), centre[1] + radius * sin(2 * pi * step / _CHORDS))
        for step in range(_CHORDS)
    )


def _plain(shape: Shape) -> list[Cut]:
    """A shape as prisms and cones: cylinders become many-sided prisms, turned shapes a row of cones."""
    if isinstance(shape, Prism | Rind):
        return [shape]
    if isinstance(shape, Cone):
        if abs(shape.radius_start - shape.radius_stop) < 1e-9:
            return [Prism(shape.axis, circle(shape.centre, shape.radius_start), shape.start, shape.stop)]
        return [shape]
    parts: list[Cut] = []
    for (start, first), (stop, second) in pairwise(shape.profile):
        if stop - start > 1e-9:
            parts += _plain(Cone(shape.axis, shape.centre, start, stop, first, second))
    return parts


def _within(shape: Cut, low: Spot, high: Spot) -> Cut | None:
    """The part of a shape inside a box; cones are cut back along their axis only."""
    index = AXES.index(shape.axis)
    start, stop = max(shape.start, low[index]), min(shape.stop, high[index])
    if stop - start < 1e-9:
        return None
    if isinstance(shape, Cone | Rind):

        def radius(at: float) -> float:
            share = (at - shape.start) / (shape.stop - shape.start)
            return shape.radius_start + share * (shape.radius_stop - shape.radius_start)

        return replace(shape, start=start, stop=stop, radius_start=radius(start), radius_stop=radius(stop))
    outline: Sequence[Flat] = shape.outline
    for side, axis in enumerate(others(shape.axis)):
        outline = _cut_back(outline, side, low[AXES.index(axis)], True)
        outline = _cut_back(outline, side, high[AXES.index(axis)], False)
    return Prism(shape.axis, tuple(outline), start, stop) if len(outline) > 2 else None


def _cut_back(outline: Sequence[Flat], side: int, limit: float, above: bool) -> Sequence[Flat]:
    """Sutherland and Hodgman's clipping of a polygon against one line (Communications of the ACM 17(1), 1974)."""
    if all((point[side] >= limit) if above else (point[side] <= limit) for point in outline):
        return outline
    kept: list[Flat] = []
    for here, then in zip(outline, (*outline[1:], *outline[:1]), strict=True):
        inside, stays = ((point[side] >= limit) == above or point[side] == limit for point in (here, then))
        if inside:
            kept.append(here)
        if inside != stays:
            share = (limit - here[side]) / (then[side] - here[side])
            kept.append((here[0] + share * (then[0] - here[0]), here[1] + share * (then[1] - here[1])))
    return kept
