"""Plain bodies that stand for machines, tools and benches in a picture: blocks, discs and cutters, to scale. mm."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

from sequencer.model.shapes import Cone, Turned
from sequencer.paper.scene import Thing
from sequencer.paper.set_ups.lying import Span
from sequencer.solid.solids import Solid, box, shape_solid

TABLE = 8.0
"""How thick tables and bench tops are drawn, mm."""
FAR = 5000.0
"""Further than anything in a picture."""


def block(x: Span, y: Span, z: Span) -> Solid:
    """A square block from its span along each axis."""
    return box((x[0], y[0], z[0]), (x[1], y[1], z[1]))


def table(x: Span, y: Span, top: float = 0.0) -> Thing:
    """A table or bench top."""
    return Thing(block(x, y, (top - TABLE, top)), "table")


def above(body: Solid, level: float = 0.0) -> Solid:
    """What of a body stands above a level: the rest is hidden in the table."""
    return body & block((-FAR, FAR), (-FAR, FAR), (level, FAR))


def below(body: Solid, level: float) -> Solid:
    """What of a body is below a level."""
    return body & block((-FAR, FAR), (-FAR, FAR), (-FAR, level))


def disc(x: Span, y: float, z: float, radius: float) -> Solid:
    """An upright disc seen edge on from in front: a saw blade."""
    return shape_solid(Cone("x", (y, z), x[0], x[1], radius, radius))


def roller(y: Span, x: float, z: float, radius: float) -> Solid:
    """A cylinder across the picture: a cutter block, a roller."""
    return shape_solid(Cone("y", (x, z), y[0], y[1], radius, radius))


def upright(x: float, y: float, z: Span, radius: float, top_radius: float | None = None) -> Solid:
    """An upright cylinder or cone: a bit, a router cutter."""
    return shape_solid(Cone("z", (x, y), z[0], z[1], radius, radius if top_radius is None else top_radius))


def twist_bit(x: float, y: float, tip: float, radius: float, length: float) -> Solid:
    """A bit with a point, its tip at a height."""
    point = radius * tan(radians(31.0))
    profile = ((tip, 0.0), (tip + point, radius), (tip + length, radius))
    return shape_solid(Turned("z", (x, y), profile))


def round_cutter(x: float, y: float, bearing: float, reach: float) -> Solid:
    """A cutter that rounds an edge over, standing on the table, with its bearing above."""
    curve = [(reach - reach * cos(pi / 2 * step / 8), bearing + reach - reach * sin(pi / 2 * step / 8)) for step in range(9)]
    profile = (*((z, radius) for z, radius in curve), (2 * reach + 4.0, bearing))
    return shape_solid(Turned("z", (x, y), profile))
