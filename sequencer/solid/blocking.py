"""What stops what among pieces that stand together: for every way a piece may be moved straight, which others are met. mm.

The ways are the six along the axes, and the oblique ones that a slope gives: square to it, as a mitre closes, and along it, as a
wedge slides. (Directional blocking graphs: R. H. Wilson and J.-C. Latombe, Geometric reasoning about mechanical assembly,
Artificial Intelligence 71(2), 1994.)
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import isclose, sqrt

import numpy as np

from sequencer.model.frame import AXES, Point
from sequencer.model.shapes import Bounds
from sequencer.solid.solids import Solid
from sequencer.solid.sweeping import LEAST_THICKNESS, beyond_a_touch, blocked

Question = tuple[str, str, int, int, Point]
"""Of two pieces by their names in order and what they are by identity, and the way of the first, whether they meet."""

SQUARE = 1e-3
"""A direction whose other parts are less than this is along an axis."""
CURVE = 8.0
"""Slopes that differ by less than this, degrees, are chords of one curve and no way to slide."""
LEAST_SLOPE = 20.0
"""A slope smaller than this, mm2, guides nothing."""
MOST_OBLIQUE = 12
"""At most so many oblique ways are tried, those of the largest slopes: a bound on the time."""
GIVES = 0.3
"""What is met by less than this, mm thick all over, does not stop a piece: a fit has as much play, and a curve of chords is off
by less."""
AT_ONCE = 2.0
"""What stops a piece is mostly met within this, mm."""
MOST_STEPS = 10
"""At most so many distances are tried before a body moves aside: a bound on the time."""
HAIR = 0.5
"""What has moved this much further than it must is clear, mm."""

ALONG_AXES: tuple[Point, ...] = tuple(
    Point(*(sign if index == number else 0.0 for index in range(3))) for number in range(3) for sign in (1.0, -1.0)
)


def reversed_way(way: Point) -> Point:
    """The opposite way."""
    return Point(*(0.0 - each for each in way))


def ways_to_move(standing: Iterable[Solid]) -> tuple[Point, ...]:
    """The ways to try, as unit vectors: both ways along each axis, then square to and along every slope of these bodies."""
    found: dict[tuple[float, ...], float] = {}
    for solid in standing:
        for normal, area in _slopes(solid):
            for way in (normal, *(_across(normal, index) for index in range(3))):
                if way is not None and max(abs(each) for each in way) < 1 - SQUARE**2:
                    key = _one_sense(way)
                    found[key] = max(found.get(key, 0.0), area)
    largest = sorted(found, key=lambda key: (-found[key], key))[:MOST_OBLIQUE]
    oblique = (Point(*(each / sqrt(sum(part * part for part in key)) for each in key)) for key in largest)
    return (*ALONG_AXES, *(way for each in oblique for way in (each, reversed_way(each))))


@lru_cache(maxsize=256)  # by identity: the same bodies are asked about at every joining
def _slopes(solid: Solid) -> tuple[tuple[Point, float], ...]:
    """The flat faces that lie along no axis, by the way they look, with their area; curves are left out."""
    corners = solid.mesh.corners[solid.mesh.triangles]
    crossed = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = np.linalg.norm(crossed, axis=1) / 2
    real = areas > 1e-6
    units = np.round(crossed[real] / (2 * areas[real])[:, None], 4) + 0.0
    looks, which = np.unique(units, axis=0, return_inverse=True)
    total = np.bincount(which.reshape(-1), weights=areas[real])
    sloping = np.max(np.abs(looks), axis=1) < 1 - SQUARE**2
    looks, total = looks[sloping], total[sloping]
    near = np.cos(np.radians(CURVE))
    found = []
    for number, (look, area) in enumerate(zip(looks, total, strict=True)):
        alike = looks @ look > near
        alike[number] = False
        if area >= LEAST_SLOPE and not alike.any():
            found.append((Point(*(float(each) for each in look)), float(area)))
    return tuple(found)


def _across(normal: Point, index: int) -> Point | None:
    """The way along a slope that is square to an axis; None where the slope lies square to that axis."""
    crossed = np.cross(np.array(normal), np.eye(3)[index])
    size = float(np.linalg.norm(crossed))
    return None if size < SQUARE else Point(*(float(each) / size for each in crossed))


def _one_sense(way: Point) -> tuple[float, ...]:
    """One of a way and its opposite, rounded: the one whose first part that is not nothing looks up its axis."""
    first = next(each for each in way if abs(each) > SQUARE)
    return tuple(round(each if first > 0 else -each, 3) + 0.0 for each in way)


@dataclass(frozen=True, eq=False)
class Blocking:
    """Bodies where they stand, as they go in, and the ways to move them. Each question is worked out once."""

    standing: Mapping[str, Solid]
    ways: tuple[Point, ...]
    spared: frozenset[frozenset[str]] = frozenset()
    """Pairs that do not stop each other, because one is tilted into the other."""
    only: Mapping[tuple[str, str], Point] = field(default_factory=dict)
    """By the piece that enters and the one it enters: the only way out that the drawing allows, where it says one."""
    known: MutableMapping[Question, bool] = field(default_factory=dict)
    """What has been worked out. Others with the same `spared` and `only` may share it as long as the bodies last."""
    _aside: dict[tuple[tuple[str, ...], tuple[str, ...], Point], Point | None] = field(default_factory=dict)

    def stops(self, moving: str, other: str, way: Point) -> bool:
        """Whether a piece moved straight along a way, as far as it takes, meets another.

        What one meets on its way is met by the other on the opposite way: both are one question.
        """
        first, second, along = (moving, other, way) if moving <= other else (other, moving, reversed_way(way))
        one, two = self.standing[first], self.standing[second]
        key = (first, second, id(one), id(two), along)
        if key not in self.known:
            self.known[key] = self._forbidden(first, second, along) or (
                frozenset((first, second)) not in self.spared and _meets(one, two, along)
            )
        return self.known[key]

    def _forbidden(self, first: str, second: str, way: Point) -> bool:
        """Whether the drawing lets one of the two leave the other by another way only."""
        allowed, back = self.only.get((first, second)), self.only.get((second, first))
        return (allowed is not None and way != allowed) or (back is not None and reversed_way(way) != back)

    def stopping(self, moving: Collection[str], others: Iterable[str], way: Point) -> tuple[str, ...]:
        """Which of some pieces stop a body, of one or several pieces, on its way."""
        return tuple(other for other in others if any(self.stops(each, other, way) for each in moving))

    def steps_aside(self, moving: Collection[str], others: Collection[str], way: Point) -> Point | None:
        """A second way that is free once a body has moved along a first, along an axis, until it is clear of one that it stands
        beside or in; None if there is none, or the first is not free so far."""
        asked = (*moving,), (*others,), way
        if asked not in self._aside:
            self._aside[asked] = self._second_way(moving, others, way)
        return self._aside[asked]

    def _second_way(self, moving: Collection[str], others: Collection[str], way: Point) -> Point | None:
        if any(self._forbidden(one, other, way) for one in moving for other in others):
            return None
        pieces, near = [self.standing[name] for name in moving], [self.standing[name] for name in others]
        for reach in _clearing(pieces, way):
            if any(_stopped(piece, other, way, reach) for piece in pieces for other in near):
                return None
            moved = [piece.moved(*(part * reach for part in way)) for piece in pieces]
            for second in ALONG_AXES:
                square = isclose(sum(a * b for a, b in zip(way, second, strict=True)), 0.0, abs_tol=1e-9)
                if square and not any(_meets(piece, other, second) for piece in moved for other in near):
                    return second
        return None


def _clearing(pieces: Sequence[Solid], way: Point) -> list[float]:
    """How far a body moves along an axis until one of its levels has come where another was, and a hair more, mm: a shoulder or
    end is then out of what it stood in. The least first, the last being its whole size."""
    index = next(number for number, part in enumerate(way) if part)
    levels = np.unique(np.round(np.concatenate([piece.mesh.corners[:, index] for piece in pieces]), 1))
    between = np.unique(np.round(np.abs(levels[:, None] - levels[None, :]), 1))
    steps = between[between > 0.0]
    kept = steps if len(steps) <= MOST_STEPS else steps[np.linspace(0, len(steps) - 1, MOST_STEPS).astype(np.int64)]
    return [float(step) + HAIR for step in kept]


def _stopped(moving: Solid, other: Solid, way: Point, reach: float) -> bool:
    found = blocked(moving, [other], way, reach)
    return found is not None and found.thickness > GIVES


def _meets(moving: Solid, other: Solid, way: Point) -> bool:
    mine, theirs = moving.bounds, other.bounds
    if not _boxes_meet(mine, theirs, way):
        return False
    # Most that is met is met at once, and that is soon seen.
    at_once = beyond_a_touch(moving.moved(*(AT_ONCE * part for part in way)) & other)
    if at_once is not None and at_once.thickness > GIVES:
        return True
    # Asked from both sides: a skin of no thickness that the library may leave on one body stops only from its own side.
    reach = _far(mine, theirs)
    return _stopped(moving, other, way, reach) and _stopped(other, moving, reversed_way(way), reach)


def _boxes_meet(mine: Bounds, theirs: Bounds, way: Point) -> bool:
    """Whether a box that is moved along a way ever comes to share more than a touch with another."""
    enters, leaves = 0.0, float("inf")
    for index, speed in enumerate(way):
        low = theirs.low[index] - mine.high[index] + LEAST_THICKNESS
        high = theirs.high[index] - mine.low[index] - LEAST_THICKNESS
        if isclose(speed, 0.0, abs_tol=1e-9):
            if low >= 0.0 or high <= 0.0:
                return False
            continue
        first, last = sorted((low / speed, high / speed))
        enters, leaves = max(enters, first), min(leaves, last)
    return enters < leaves


def _far(mine: Bounds, theirs: Bounds) -> float:
    """Further than which the two cannot meet any more, mm."""
    both: Sequence[Bounds] = (mine, theirs)
    sizes = (max(box.high[i] for box in both) - min(box.low[i] for box in both) for i in range(len(AXES)))
    return 2 * sqrt(sum(size * size for size in sizes))
