"""Solid bodies and what can be done with them. The one module that knows the solid library. mm, mm2, mm3.

A solid never changes: every act gives a new one. Curves are equal chords, `CHORDS` to a full turn, the same for whatever
is compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import manifold3d
import numpy as np
from numpy.typing import NDArray

from sequencer.design.poses import Pose
from sequencer.model.frame import AXES, Axis, Block, Point, others
from sequencer.model.shapes import Bounds, Cone, Prism, Rind, Shape, Turned

CHORDS = 48
"""Chords of a full turn: a round hole is then 0.3 % under its true area on both sides of every comparison."""

NOTHING = 1e-6
"""A volume below this, mm3, is nothing: rounding of the solid library."""

TIP = 4.0
"""A corner that is drawn in and out again comes back whole if its tip is no further off than so many times the distance: from an
angle of 29 degrees."""

SPECK = 0.02
"""An area below this, mm2, is rounding of an outline."""

SKIN = (0.0101, 0.0073, 0.0127)
"""A hair in a direction that no face of a drawing lies along, mm."""

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


class Mesh(NamedTuple):
    """The surface as triangles: corners in mm (n x 3) and indices into them (m x 3), outward by the right-hand rule."""

    corners: Floats
    triangles: Whole


@dataclass(frozen=True, eq=False)
class Solid:
    """A body. Two solids are compared by what is left when one is taken from the other, never by equality."""

    inner: manifold3d.Manifold

    def __sub__(self, other: Solid) -> Solid:
        """What is left of this when the other is taken away."""
        return Solid(self.inner - other.inner)

    def __add__(self, other: Solid) -> Solid:
        """Both as one."""
        return Solid(self.inner + other.inner)

    def __and__(self, other: Solid) -> Solid:
        """What both share."""
        return Solid(self.inner ^ other.inner)

    def parted(self, cut: Solid) -> tuple[Solid, Solid]:
        """What a cut takes from this, and what it leaves: both from one act."""
        taken, left = self.inner.split(cut.inner)
        return Solid(taken), Solid(left)

    @cached_property
    def volume(self) -> float:
        """mm3; 0 for nothing."""
        volume = float(self.inner.volume())
        return volume if volume > NOTHING else 0.0

    @property
    def empty(self) -> bool:
        """Whether there is nothing of it."""
        return self.volume == 0.0

    @cached_property
    def bounds(self) -> Bounds:
        """The box around it. ValueError if there is nothing of it."""
        if self.inner.is_empty():
            raise ValueError("nothing has no bounds")
        x0, y0, z0, x1, y1, z1 = self.inner.bounding_box()
        return Bounds(Point(x0, y0, z0), Point(x1, y1, z1))

    @cached_property
    def area(self) -> float:
        """Of its whole surface, mm2."""
        return float(self.inner.surface_area())

    @cached_property
    def centroid(self) -> Point:
        """The middle of its volume, in mm: the tetrahedra from the origin to each triangle, weighted by their volumes.
        ValueError if there is nothing of it."""
        if self.empty:
            raise ValueError("nothing has no middle")
        corners = self.mesh.corners[self.mesh.triangles]
        weights = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
        middle = (corners.sum(axis=1) * weights[:, None]).sum(axis=0) / (4 * weights.sum())
        return Point(*(float(each) for each in middle))

    @property
    def thickness(self) -> float:
        """Of a thin body, such as a sliver or a slab, as far as it has one: twice its volume over its surface, mm; 0 for
        nothing."""
        return 2 * self.volume / self.area if not self.empty else 0.0

    def gap(self, other: Solid, within: float) -> float:
        """The least distance to another body, mm; `within` if it is no nearer than that."""
        return float(self.inner.min_gap(other.inner, within))

    @cached_property
    def mesh(self) -> Mesh:
        """Its surface."""
        mesh = self.inner.to_mesh64()
        corners = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
        return Mesh(corners, np.asarray(mesh.tri_verts, dtype=np.int64))

    def without_skins(self) -> Solid:
        """The same body without the skins of no thickness that the library may leave where faces lay in one plane: what it
        shares with itself moved a hair either way."""
        there, back = self.moved(*SKIN), self.moved(*(-step for step in SKIN))
        return (self & there) + (self & back)

    def pieces(self) -> tuple[Solid, ...]:
        """The bodies it falls into, largest first."""
        found = [Solid(each) for each in self.inner.decompose()]
        return tuple(sorted(found, key=lambda each: (-round(each.volume, 6), each.bounds.low)))

    def moved(self, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Solid:
        """The same body elsewhere."""
        return Solid(self.inner.translate((x, y, z)))

    def posed(self, pose: Pose) -> Solid:
        """The same body turned, moved and leaning as a pose says."""
        origin = np.array(pose.to_world(Point(0.0, 0.0, 0.0)))
        ends = [Point(1.0, 0.0, 0.0), Point(0.0, 1.0, 0.0), Point(0.0, 0.0, 1.0)]
        rows = np.column_stack([*(np.array(pose.to_world(end)) - origin for end in ends), origin])
        if pose.lean is None:
            # A quarter turn is exact: faces that lie in one plane must go on doing so.
            rows[:, :3] = np.round(rows[:, :3])
        return Solid(self.inner.transform(rows))

    def mirrored(self, length: float) -> Solid:
        """The other hand of a body in a part `length` long: x becomes length - x."""
        return Solid(self.inner.mirror((1.0, 0.0, 0.0)).translate((length, 0.0, 0.0)))


def nothing() -> Solid:
    """No body at all."""
    return Solid(manifold3d.Manifold())


def box(low: Sequence[float], high: Sequence[float]) -> Solid:
    """A square block between two corners; nothing where it has no extent."""
    size = [b - a for a, b in zip(low, high, strict=True)]
    if min(size) <= 0:
        return nothing()
    return Solid(manifold3d.Manifold.cube(size).translate(tuple(low)))


def block_solid(block: Block) -> Solid:
    """The square block of a part in its own frame."""
    return box((0.0, 0.0, 0.0), (block.length, block.width, block.thickness))


def joined(solids: Iterable[Solid]) -> Solid:
    """Several bodies as one; nothing without any."""
    bodies = [each.inner for each in solids]
    if not bodies:
        return nothing()
    return Solid(bodies[0] if len(bodies) == 1 else manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add))


def prism(axis: Axis, outlines: Sequence[Sequence[tuple[float, float]]], start: float, stop: float) -> Solid:
    """A prism along an axis from `start` to `stop`. Outlines by the two other axes in alphabetical order; those that go
    round the other way are taken together by the even-odd rule, so that one inside another is a hole."""
    flat = manifold3d.CrossSection([list(outline) for outline in outlines], manifold3d.FillRule.EvenOdd)
    return _along(axis, manifold3d.Manifold.extrude(flat, stop - start), start)


def shape_solid(shape: Shape) -> Solid:
    """A neutral shape as a body, in the frame it is given in."""
    if isinstance(shape, Prism):
        return prism(shape.axis, [shape.outline], shape.start, shape.stop)
    if isinstance(shape, Cone):
        turned = manifold3d.Manifold.cylinder(shape.stop - shape.start, shape.radius_start, shape.radius_stop, CHORDS)
        return _along(shape.axis, turned.translate((*shape.centre, 0.0)), shape.start)
    if isinstance(shape, Rind):
        (a, b), (c, d) = shape.low, shape.high
        return prism(shape.axis, [[(a, b), (c, b), (c, d), (a, d)]], shape.start, shape.stop) - shape_solid(shape.core)
    return _turned(shape)


def _turned(shape: Turned) -> Solid:
    """A turned shape: its profile revolved, chord for chord like a cylinder's."""
    start = shape.profile[0][0]
    outline = [(0.0, start), *((radius, at) for at, radius in shape.profile), (0.0, shape.profile[-1][0])]
    flat = manifold3d.CrossSection([outline], manifold3d.FillRule.NonZero)
    revolved = manifold3d.Manifold.revolve(flat, CHORDS)
    return _along(shape.axis, revolved.translate((*shape.centre, 0.0)), 0.0)


def _along(axis: Axis, body: manifold3d.Manifold, start: float) -> Solid:
    """A body that stands on z = 0 with its first two coordinates along the two other axes, laid along an axis."""
    first, second = others(axis)
    rows = np.zeros((3, 4))
    rows[AXES.index(first), 0] = 1.0
    rows[AXES.index(second), 1] = 1.0
    rows[AXES.index(axis), 2] = 1.0
    rows[AXES.index(axis), 3] = start
    # Along y the alphabetical order of the others (x, z) is left-handed: such a map mirrors, and the library turns the
    # surface outward again.
    return Solid(body.transform(rows))


def hull(points: Sequence[Sequence[float]]) -> Solid:
    """The smallest convex body around points."""
    return Solid(manifold3d.Manifold.hull_points(np.asarray(points, dtype=np.float64)))


def swept_sheet(corners: Floats, triangles: Whole, by: Floats) -> Solid:
    """The body that a sheet of triangles passes through when it is moved by a vector that all of them look along (normal
    and vector at less than a right angle). The triangles must not hide each other along the vector."""
    used, own = np.unique(triangles, return_inverse=True)
    own = own.reshape(triangles.shape)
    number = len(used)
    edges = np.concatenate([own[:, [0, 1]], own[:, [1, 2]], own[:, [2, 0]]])
    # An edge that no neighbour passes the other way is on the rim: a wall stands on it.
    rim = edges[~np.isin(edges[:, 0] * number + edges[:, 1], edges[:, 1] * number + edges[:, 0])]
    walls = [np.column_stack([rim[:, 0], rim[:, 1], rim[:, 1] + number])]
    walls.append(np.column_stack([rim[:, 0], rim[:, 1] + number, rim[:, 0] + number]))
    faces = np.concatenate([own[:, ::-1], own + number, *walls])
    points = np.concatenate([corners[used], corners[used] + by])
    mesh = manifold3d.Mesh64(vert_properties=points, tri_verts=faces.astype(np.uint64))
    return Solid(manifold3d.Manifold(mesh))


def shadow_area(flat: Floats) -> float:
    """Area that triangles (m x 3 corners x 2 coordinates), all going round the same way, cover together, mm2."""
    return float(manifold3d.CrossSection(list(flat), manifold3d.FillRule.NonZero).area())


def without(body: Solid, cuts: Iterable[Solid]) -> Solid:
    """A body with cuts taken from it."""
    bodies = [body.inner, *(cut.inner for cut in cuts)]
    return body if len(bodies) == 1 else Solid(manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Subtract))


class Spot(NamedTuple):
    """A place in a flat section: its box by the two axes in alphabetical order, mm, and its area, mm2."""

    low: tuple[float, float]
    high: tuple[float, float]
    area: float


@dataclass(frozen=True, eq=False)
class Section:
    """A body cut through flat: what is seen there, by the two other axes in alphabetical order."""

    inner: manifold3d.CrossSection

    def thin_places(self, least: float, stretch: tuple[float, float] = (1.0, 1.0)) -> tuple[Spot, ...]:
        """Where it is thinner than `least`, mm, measured as if it were stretched so much along its axes: what is gone when its
        outline is drawn in by half of that and out again. A sharp corner is not thin, but for the tip of a thin wedge."""
        wide = self.inner.scale(stretch)
        kept = wide.offset(-least / 2, manifold3d.JoinType.Miter, TIP).offset(least / 2, manifold3d.JoinType.Miter, TIP)
        found = []
        for each in (wide - kept).decompose():
            back = each.scale((1 / stretch[0], 1 / stretch[1]))
            if back.area() > SPECK:
                x0, y0, x1, y1 = back.bounds()
                found.append(Spot((x0, y0), (x1, y1), float(back.area())))
        return tuple(sorted(found))


def section(body: Solid, axis: Axis, at: float) -> Section:
    """A body cut through square to an axis, `at` so far along it."""
    rows = np.zeros((3, 4))
    for row, each in enumerate((*others(axis), axis)):
        rows[row, AXES.index(each)] = 1.0
    return Section(body.inner.transform(rows).slice(at))
