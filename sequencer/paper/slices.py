"""What a plane square to the line of sight cuts out of the shapes of a piece. mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from sequencer.model.shapes import Prism, Rind
from sequencer.paper.frames import Cut, Flat, circle
from sequencer.paper.wood_runs import crossings


def sliced(shape: Cut, at: float, depth: float) -> tuple[Prism, ...]:
    """What a plane square to the line of sight cuts out of a shape, as prisms through the whole depth: a section."""

    def through(outline: Sequence[Flat]) -> Prism:
        return Prism("z", tuple(outline), 0.0, depth)

    if isinstance(shape, Prism):
        if shape.axis == "z":
            return (through(shape.outline),) if shape.start < at < shape.stop else ()
        bands = crossings(shape.outline, 1, at)
        if shape.axis == "x":
            return tuple(
                through(((shape.start, low), (shape.stop, low), (shape.stop, high), (shape.start, high))) for low, high in bands
            )
        return tuple(
            through(((low, shape.start), (high, shape.start), (high, shape.stop), (low, shape.stop))) for low, high in bands
        )

    if isinstance(shape, Rind):
        return tuple(through(outline) for outline in _rind_sliced(shape, at))

    def radius(along: float) -> float:
        return shape.radius_start + (along - shape.start) / (shape.stop - shape.start) * (shape.radius_stop - shape.radius_start)

    if shape.axis == "z":
        return (through(circle(shape.centre, radius(at))),) if shape.start < at < shape.stop else ()
    middle, centre_depth = shape.centre
    near: list[Flat] = []
    far: list[Flat] = []
    for step in range(9):
        along = shape.start + (shape.stop - shape.start) * step / 8
        reach = radius(along) ** 2 - (at - centre_depth) ** 2
        if reach > 0:
            near.append((along, middle - sqrt(reach)))
            far.append((along, middle + sqrt(reach)))
    outline = near + far[::-1]
    if len(outline) < 4:
        return ()
    return (through(outline if shape.axis == "x" else [(across, along) for along, across in outline]),)


def _rind_sliced(shape: Rind, at: float) -> list[list[Flat]]:
    """The outlines of a rind in a plane square to the line of sight: its four quarters end on, its two sides else."""
    start, stop, middle = shape.start, shape.stop, shape.centre[0]

    def radius(along: float) -> float:
        return shape.radius_start + (along - start) / (stop - start) * (shape.radius_stop - shape.radius_start)

    if shape.axis == "z":
        if not start < at < stop:
            return []
        ring = circle(shape.centre, radius(at))
        quarter = len(ring) // 4
        (x, y), low, high = shape.centre, shape.low, shape.high
        corners = [
            ((x, high[1]), high, (high[0], y)),
            ((low[0], y), (low[0], high[1]), (x, high[1])),
            ((x, low[1]), low, (low[0], y)),
            ((high[0], y), (high[0], low[1]), (x, low[1])),
        ]
        turned = [*ring, ring[0]]
        return [[*turned[turn * quarter : (turn + 1) * quarter + 1], *corners[turn]] for turn in range(4)]
    steps = [start + (stop - start) * step / 8 for step in range(9)]
    half = [sqrt(max(radius(along) ** 2 - (at - shape.centre[1]) ** 2, 0.0)) for along in steps]
    found: list[list[Flat]] = []
    for side, edge in ((-1, shape.low[0]), (1, shape.high[0])):
        outline = [(along, middle + side * reach) for along, reach in zip(steps, half, strict=True)]
        found.append([*outline, (stop, edge), (start, edge)])
    return found if shape.axis == "x" else [[(across, along) for along, across in outline] for outline in found]
