"""What is drawn of the surface of bodies: creases, contours and hatching, as lines in space. mm.

Coordinates are the viewer's, as in `visible`. A crease is an edge whose two faces turn by more than `CREASE`; a contour is
an edge with one face towards the viewer and one away. Flat faces in several triangles show no lines, round ones only
where they turn out of sight.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from sequencer.model.frame import Point
from sequencer.paper.visible import Flags, Floats, Whole, facing
from sequencer.solid.solids import Mesh

CREASE = 26.0
"""Degrees: more than the chords of a round turn, less than the corner of a hexagon's chamfer."""

_SLIVER = 1e-5
"""A triangle lower than this, mm, has no direction of its own: rounding of the solid library."""


@dataclass(frozen=True)
class Eye:
    """A viewer far away: three directions of the scene, to the right, up and nearer on paper."""

    right: Point
    up: Point
    near: Point

    def sees(self, points: Floats) -> Floats:
        """Points of the scene (n x 3) in the viewer's coordinates."""
        found = np.empty_like(points)
        for column, axis in enumerate((self.right, self.up, self.near)):
            found[:, column] = points[:, 0] * axis.x + points[:, 1] * axis.y + points[:, 2] * axis.z
        return found

    def direction(self, way: Point) -> Point:
        """A direction or a point of the scene in the viewer's coordinates."""
        return Point(*(way.x * axis.x + way.y * axis.y + way.z * axis.z for axis in (self.right, self.up, self.near)))


def eye(looks_from: Point) -> Eye:
    """The viewer in that direction, upright. ValueError if it is no direction."""
    size = (looks_from.x**2 + looks_from.y**2 + looks_from.z**2) ** 0.5
    if size == 0:
        raise ValueError("a viewer has to be somewhere")
    near = Point(looks_from.x / size, looks_from.y / size, looks_from.z / size)
    level = (near.x**2 + near.y**2) ** 0.5
    right = Point(-near.y / level, near.x / level, 0.0) if level > 1e-9 else Point(1.0, 0.0, 0.0)
    up = Point(near.y * right.z - near.z * right.y, near.z * right.x - near.x * right.z, near.x * right.y - near.y * right.x)
    return Eye(right, up, near)


@dataclass(frozen=True, eq=False)
class Surface:
    """The triangles of several bodies that look at the viewer (`faces`, m x 3 x 3), with the number of their body
    (`owner`) and their direction (`normals`), and the lines drawn of them."""

    faces: Floats
    owner: Whole
    normals: Floats
    lines: Lines


@dataclass(frozen=True, eq=False)
class Lines:
    """Lines in space, with the body they belong to. `contour`: beyond it the body turns away."""

    start: Floats
    stop: Floats
    owner: Whole
    contour: Flags


def surface(meshes: Sequence[Mesh], viewer: Eye) -> Surface:
    """The surface of bodies as a viewer has it. Only what looks away is left out; nothing is hidden yet."""
    shift = np.cumsum([0, *(len(mesh.corners) for mesh in meshes)])
    corners = viewer.sees(np.concatenate([mesh.corners for mesh in meshes]))
    triangles = np.concatenate([mesh.triangles + by for mesh, by in zip(meshes, shift[:-1], strict=True)])
    owner = np.repeat(np.arange(len(meshes)), [len(mesh.triangles) for mesh in meshes])
    first, second, pairs = _edges(triangles, len(corners))
    normals = _normals(corners, triangles, pairs)
    front = facing(normals)
    one, two = normals[pairs[:, 0]], normals[pairs[:, 1]]
    front_one, front_two = front[pairs[:, 0]], front[pairs[:, 1]]
    contour = front_one != front_two
    crease = (one * two).sum(axis=1) < cos(radians(CREASE))
    drawn = contour | (crease & front_one)
    lines = Lines(corners[first[drawn]], corners[second[drawn]], owner[pairs[drawn, 0]], contour[drawn])
    # A sliver has borrowed its direction; it covers nothing.
    covers = front & ~_slivers(corners, triangles)
    return Surface(corners[triangles[covers]], owner[covers], normals[covers], lines)


def hatching(faces: Floats, spacing: float, angle: float) -> tuple[Floats, Floats, Whole]:
    """Parallel lines over triangles, `spacing` apart as the viewer sees them and sloping up by `angle` degrees: starts,
    stops, and the triangle each lies on. Lines of neighbouring triangles meet."""
    along, across = (cos(radians(angle)), sin(radians(angle))), (-sin(radians(angle)), cos(radians(angle)))
    height = (faces[:, :, 0] * across[0] + faces[:, :, 1] * across[1]) / spacing
    first, last = np.ceil(height.min(axis=1)).astype(np.int64), np.floor(height.max(axis=1)).astype(np.int64)
    counts = np.maximum(last - first + 1, 0)
    triangle = np.repeat(np.arange(len(faces)), counts)
    within = np.arange(len(triangle)) - np.repeat(np.cumsum(counts) - counts, counts)
    line = (first[triangle] + within).astype(np.float64)
    order = np.argsort(height, axis=1, kind="stable")[triangle]
    rows = np.arange(len(triangle))[:, None]
    level, spots = height[triangle][rows, order], faces[triangle][rows, order]
    low, middle, high = level[:, 0], level[:, 1], level[:, 2]

    def between(a: int, b: int) -> Floats:
        span = level[:, b] - level[:, a]
        share = np.where(span > 1e-12, (line - level[:, a]) / np.where(span > 1e-12, span, 1.0), 0.0)
        found: Floats = spots[:, a] + share[:, None] * (spots[:, b] - spots[:, a])
        return found

    one = between(0, 2)
    two = np.where((line < middle)[:, None], between(0, 1), between(1, 2))
    forward = ((two - one)[:, :2] * along).sum(axis=1) >= 0
    start, stop = np.where(forward[:, None], one, two), np.where(forward[:, None], two, one)
    kept = (high - low > 1e-12) & (np.abs(stop - start).max(axis=1) > 1e-9)
    return start[kept], stop[kept], triangle[kept]


def _edges(triangles: Whole, corners: int) -> tuple[Whole, Whole, Whole]:
    """Every edge once: its two corners, and the two triangles beside it."""
    first, second = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
    name = np.minimum(first, second) * corners + np.maximum(first, second)
    order = np.argsort(name, kind="stable")
    one, two = order[0::2], order[1::2]
    return first[one], second[one], np.stack([one // 3, two // 3], axis=1)


def _slivers(corners: Floats, triangles: Whole) -> Flags:
    spots = corners[triangles]
    area = np.linalg.norm(np.cross(spots[:, 1] - spots[:, 0], spots[:, 2] - spots[:, 0]), axis=1)
    longest = np.sqrt(((np.roll(spots, -1, axis=1) - spots) ** 2).sum(axis=2)).max(axis=1)
    found: Flags = area <= _SLIVER * longest
    return found


def _normals(corners: Floats, triangles: Whole, pairs: Whole) -> Floats:
    """The direction of each triangle; a sliver has that of its neighbour over its longest side."""
    spots = corners[triangles]
    normals = np.cross(spots[:, 1] - spots[:, 0], spots[:, 2] - spots[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-12)[:, None]
    thin = np.nonzero(_slivers(corners, triangles))[0]
    if len(thin):
        beside = {tuple(pair): None for pair in pairs[np.isin(pairs, thin).any(axis=1)].tolist()}
        for _ in range(2):
            for one, two in beside:
                for mine, its in ((one, two), (two, one)):
                    if mine in thin and _shared_is_longest(spots[mine], triangles[mine], triangles[its]):
                        normals[mine] = normals[its]
    return normals


def _shared_is_longest(spots: Floats, mine: Whole, its: Whole) -> bool:
    lengths = np.linalg.norm(np.roll(spots, -1, axis=0) - spots, axis=1)
    at = int(np.argmax(lengths))
    return mine[at] in its and mine[(at + 1) % 3] in its
