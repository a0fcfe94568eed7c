"""What can be seen: lines in space against the faces in front of them. Knows no wood, only lines and triangles. mm.

All coordinates are the viewer's: x to the right, y up, z towards the viewer, who looks along -z from far away. A line is
tested against every triangle whose box on paper it meets: where it lies behind the triangle's plane and inside its three
sides is one stretch of the line, found by clipping (Cyrus and Beck, "Generalized two- and three-dimensional clipping",
Computers & Graphics 3, 1978). What no stretch covers is seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Flags = NDArray[np.bool_]

SLACK = 0.01
"""A face hides what lies more than this behind it, mm: faces that touch do not hide each other's edges."""

_EDGEWAYS = 1e-5
"""Faces that look past the viewer more squarely than this (cosine) show nothing and hide nothing."""
_REACH = 1e-6
"""Triangles reach this far over their sides, mm, so that no line slips through between two neighbours."""
_PAIRS = 400_000
"""Lines times triangles that are compared box by box at once; more are first sorted into strips."""


def facing(normals: Floats) -> Flags:
    """Which of these unit normals look at the viewer."""
    return normals[:, 2] > _EDGEWAYS


@dataclass(frozen=True, eq=False)
class Cover:
    """Triangles that look at the viewer, made ready to hide what is behind them.

    sides
        Three half-planes each: a point is inside where `sides[:, :, 0] * x + sides[:, :, 1] * y + sides[:, :, 2]` is not
        negative; the value is the distance from the side, mm.
    plane
        Depth over the paper: z = `plane[:, 0] * x + plane[:, 1] * y + plane[:, 2]`.
    """

    low: Floats
    high: Floats
    sides: Floats
    plane: Floats

    def __len__(self) -> int:
        return len(self.low)


def cover(corners: Floats) -> Cover:
    """The cover of triangles given by their corners (m x 3 x 3), counter-clockwise as the viewer sees them."""
    flat = corners[:, :, :2]
    along = np.roll(flat, -1, axis=1) - flat
    along /= np.maximum(np.hypot(along[:, :, 0], along[:, :, 1]), 1e-12)[:, :, None]
    sides = np.empty((len(corners), 3, 3))
    sides[:, :, 0], sides[:, :, 1] = -along[:, :, 1], along[:, :, 0]
    sides[:, :, 2] = _REACH - sides[:, :, 0] * flat[:, :, 0] - sides[:, :, 1] * flat[:, :, 1]
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    normal = np.cross(one, two)
    plane = np.empty((len(corners), 3))
    plane[:, 0], plane[:, 1] = -normal[:, 0] / normal[:, 2], -normal[:, 1] / normal[:, 2]
    plane[:, 2] = corners[:, 0, 2] - plane[:, 0] * corners[:, 0, 0] - plane[:, 1] * corners[:, 0, 1]
    return Cover(corners.min(axis=1), corners.max(axis=1), sides, plane)


def seen(start: Floats, stop: Floats, hiding: Cover) -> tuple[Whole, Floats, Floats]:
    """The stretches of lines that nothing hides: which line, and where along it they begin and end, 0 to 1.

    Sorted by line, then along it.
    """
    count = len(start)
    if not count:
        return np.empty(0, dtype=np.int64), np.empty(0), np.empty(0)
    line, begin, end = _hidden(start, stop, hiding, *_near(start, stop, hiding))
    # Each line lies between 2n and 2n + 1 on one long scale, with a mark at both its ends: what is seen are the gaps.
    each = np.arange(count, dtype=np.float64) * 2
    low = np.concatenate([begin + 2.0 * line, each, each + 1])
    high = np.concatenate([end + 2.0 * line, each, each + 1])
    order = np.argsort(low, kind="stable")
    low, reached = low[order], np.maximum.accumulate(high[order])
    owner = np.floor(low / 2).astype(np.int64)
    length = np.sqrt(((stop - start)[:, :2] ** 2).sum(axis=1))
    gap = (low[1:] - reached[:-1]) * length[owner[1:]] > 1e-4
    gap &= owner[1:] == owner[:-1]
    line = owner[1:][gap]
    return line, reached[:-1][gap] - 2.0 * line, low[1:][gap] - 2.0 * line


def topmost(points: Floats, hiding: Cover) -> Whole:
    """The triangle nearest the viewer at each point of the paper (k x 2); -1 where there is none."""
    if not len(hiding) or not len(points):
        return np.full(len(points), -1, dtype=np.int64)
    x, y = points[:, 0, None], points[:, 1, None]
    inside = (hiding.low[:, 0] <= x) & (x <= hiding.high[:, 0]) & (hiding.low[:, 1] <= y) & (y <= hiding.high[:, 1])
    point, triangle = np.nonzero(inside)
    at = points[point]
    sides, plane = hiding.sides[triangle], hiding.plane[triangle]
    within = (sides[:, :, 0] * at[:, 0, None] + sides[:, :, 1] * at[:, 1, None] + sides[:, :, 2] >= 0).all(axis=1)
    point, triangle, at, plane = point[within], triangle[within], at[within], plane[within]
    depth = plane[:, 0] * at[:, 0] + plane[:, 1] * at[:, 1] + plane[:, 2]
    order = np.lexsort((-triangle, depth, point))
    found = np.full(len(points), -1, dtype=np.int64)
    found[point[order]] = triangle[order]
    return found


def _near(start: Floats, stop: Floats, hiding: Cover) -> tuple[Whole, Whole]:
    """Pairs of a line and a triangle that may hide some of it: their boxes meet, and the line is not all in front."""
    low, high = np.minimum(start, stop), np.maximum(start, stop)
    if len(start) * len(hiding) <= _PAIRS:
        return _meeting(low, high, hiding.low, hiding.high)
    axis = int(np.argmax(hiding.high[:, :2].max(axis=0) - hiding.low[:, :2].min(axis=0)))
    strips = min(48, 1 + len(start) * len(hiding) // _PAIRS * 4)
    edges = np.linspace(hiding.low[:, axis].min(), hiding.high[:, axis].max(), strips + 1)
    lines, triangles = [], []
    for left, right in pairwise(edges.tolist()):
        mine = np.nonzero((low[:, axis] <= right) & (high[:, axis] >= left))[0]
        theirs = np.nonzero((hiding.low[:, axis] <= right) & (hiding.high[:, axis] >= left))[0]
        line, triangle = _meeting(low[mine], high[mine], hiding.low[theirs], hiding.high[theirs])
        lines.append(mine[line])
        triangles.append(theirs[triangle])
    return np.concatenate(lines), np.concatenate(triangles)


def _meeting(low: Floats, high: Floats, its_low: Floats, its_high: Floats) -> tuple[Whole, Whole]:
    meets = low[:, 0, None] <= its_high[:, 0]
    for axis, one, other in ((0, its_low, high), (1, its_low, high)):
        meets &= one[:, axis] <= other[:, axis, None]
    meets &= low[:, 1, None] <= its_high[:, 1]
    meets &= low[:, 2, None] + SLACK <= its_high[:, 2]
    line, triangle = np.nonzero(meets)
    return line, triangle


def _hidden(start: Floats, stop: Floats, hiding: Cover, line: Whole, triangle: Whole) -> tuple[Whole, Floats, Floats]:
    """The stretches of lines behind their triangles: which line, where it goes behind and where it comes out again.

    Four straight conditions on the way along the line: behind the plane, and inside three sides. What fails one is left out
    of the next.
    """
    begin, end = np.zeros(len(line)), np.ones(len(line))
    for number in (-1, 0, 1, 2):
        one, two = start[line], stop[line]
        slope = hiding.plane[triangle] if number < 0 else hiding.sides[triangle, number]
        first = slope[:, 0] * one[:, 0] + slope[:, 1] * one[:, 1] + slope[:, 2]
        last = slope[:, 0] * two[:, 0] + slope[:, 1] * two[:, 1] + slope[:, 2]
        if number < 0:
            first, last = first - one[:, 2] - SLACK, last - two[:, 2] - SLACK
        enters, leaves = (first < 0) & (last >= 0), (first >= 0) & (last < 0)
        begin[enters] = np.maximum(begin[enters], first[enters] / (first[enters] - last[enters]))
        end[leaves] = np.minimum(end[leaves], first[leaves] / (first[leaves] - last[leaves]))
        kept = ((first >= 0) | (last >= 0)) & (end > begin)
        line, triangle, begin, end = line[kept], triangle[kept], begin[kept], end[kept]
    return line, begin, end
