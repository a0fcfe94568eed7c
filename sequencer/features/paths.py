"""Plane geometry of outlines: arcs from point to point, and the waste between a path and the border it runs along."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise
from math import atan2, degrees, hypot, sqrt

from sequencer.features.base import NEAR
from sequencer.model.shapes import arc

Spot = tuple[float, float]


def same(one: Spot, other: Spot) -> bool:
    """Whether two points are one."""
    return abs(one[0] - other[0]) < NEAR and abs(one[1] - other[1]) < NEAR


def arc_centre(start: Spot, stop: Spot, radius: float, left: bool) -> Spot:
    """The centre of the shorter arc from `start` to `stop` that turns left (or right); half way between them if the
    radius is too small to reach."""
    half = hypot(stop[0] - start[0], stop[1] - start[1]) / 2
    middle = ((start[0] + stop[0]) / 2, (start[1] + stop[1]) / 2)
    if half < NEAR or radius <= half:
        return middle
    away = sqrt(radius**2 - half**2) / (2 * half) * (1 if left else -1)
    return (middle[0] - away * (stop[1] - start[1]), middle[1] + away * (stop[0] - start[0]))


def arc_between(start: Spot, stop: Spot, radius: float, left: bool) -> list[Spot]:
    """Points on that arc, both ends included."""
    centre = arc_centre(start, stop, radius, left)
    first = degrees(atan2(start[1] - centre[1], start[0] - centre[0]))
    last = degrees(atan2(stop[1] - centre[1], stop[0] - centre[0]))
    turn = (last - first) % 360 if left else -((first - last) % 360)
    reach = hypot(start[0] - centre[0], start[1] - centre[1])
    return [start, *arc(centre, reach, first, first + turn)[1:-1], stop]


def area(outline: Sequence[Spot]) -> float:
    """Area of a closed outline, positive whichever way it goes round."""
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*outline, outline[0]]))) / 2


def crosses_itself(path: Sequence[Spot]) -> bool:
    """Whether two pieces of an open path cross each other inside both."""

    def side(a: Spot, b: Spot, c: Spot) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return any(
        side(a, b, c) * side(a, b, d) < -NEAR and side(c, d, a) * side(c, d, b) < -NEAR
        for (a, b), (c, d) in combinations(list(pairwise(path)), 2)
    )


def waste(path: Sequence[Spot], border: Sequence[Spot]) -> list[list[Spot]]:
    """The outlines between a path and a border, both taken from the same end; where the path touches the border the
    waste falls into pieces."""
    route = _distinct([border[0], *path, border[-1]])
    marks: list[tuple[int, float]] = []
    for index, spot in enumerate(route):
        last = index == len(route) - 1
        along = float(len(border) - 1) if last else _along(border, spot, marks[-1][1] if marks else 0.0)
        if along is not None:
            marks.append((index, along))
    pieces = []
    for (first, begin), (second, end) in pairwise(marks):
        corners = [border[number] for number in range(len(border)) if begin + NEAR < number < end - NEAR]
        piece = _distinct([*route[first : second + 1], *reversed(corners)])
        if len(piece) > 2 and area(piece) > NEAR:
            pieces.append(piece)
    return pieces


def _distinct(spots: Sequence[Spot]) -> list[Spot]:
    return [spot for number, spot in enumerate(spots) if number == 0 or not same(spot, spots[number - 1])]


def _along(border: Sequence[Spot], spot: Spot, least: float) -> float | None:
    """How far along the border, counted in its straight pieces, a spot lies that is not before `least`."""
    for number, (a, b) in enumerate(pairwise(border)):
        size = hypot(b[0] - a[0], b[1] - a[1])
        if size < NEAR:
            continue
        share = ((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / size**2
        off = hypot(spot[0] - a[0] - share * (b[0] - a[0]), spot[1] - a[1] - share * (b[1] - a[1]))
        where = number + min(max(share, 0.0), 1.0)
        if off < NEAR and -NEAR < share * size < size + NEAR and where > least - NEAR:
            return where
    return None
