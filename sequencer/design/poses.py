"""Where a piece stands in the finished thing: turned by quarter turns and moved, and perhaps leaning on a slope. Lengths in
mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import permutations, product
from math import cos, radians, sin
from typing import NamedTuple

from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, face_at, sign_of


class Direction(NamedTuple):
    """A direction along one of the three axes: `sign` is +1 or -1."""

    axis: Axis
    sign: int

    @property
    def reversed(self) -> Direction:
        """The opposite direction."""
        return Direction(self.axis, -self.sign)


def normal(face: FaceName) -> Direction:
    """The way a face looks, in its own frame."""
    return Direction(axis_of(face), sign_of(face))


def face_towards(direction: Direction) -> FaceName:
    """The face that looks that way."""
    return face_at(direction.axis, direction.sign > 0)


Turn = tuple[Direction, Direction, Direction]
"""Where the piece's own x, y and z axes point. Right-handed: a piece is turned, never mirrored."""


def _handedness(turn: Turn) -> int:
    order = [AXES.index(direction.axis) for direction in turn]
    swaps = sum(1 for i in range(3) for j in range(i + 1, 3) if order[i] > order[j])
    return (1 if swaps % 2 == 0 else -1) * turn[0].sign * turn[1].sign * turn[2].sign


def _all_turns() -> tuple[Turn, ...]:
    turns = (
        (Direction(axes[0], signs[0]), Direction(axes[1], signs[1]), Direction(axes[2], signs[2]))
        for axes in permutations(AXES)
        for signs in product((1, -1), repeat=3)
    )
    return tuple(turn for turn in turns if _handedness(turn) == 1)


TURNS: tuple[Turn, ...] = _all_turns()
"""The 24 ways a square block can lie with its faces along the axes; the first is unturned."""


ORIGIN = Point(0.0, 0.0, 0.0)


def plane_of(axis: Axis) -> tuple[int, int]:
    """The two other coordinates, in the order in which a turn about the axis goes: right-handed."""
    index = AXES.index(axis)
    return (index + 1) % 3, (index + 2) % 3


@dataclass(frozen=True)
class Lean:
    """A turn by `angle` degrees about the line along `axis` through a point, right-handed: a board that lies on a slope."""

    axis: Axis
    angle: float
    through: Point

    def turned(self, point: Point) -> Point:
        """Where a point comes to lie."""
        first, second = plane_of(self.axis)
        there = list(point)
        along, across = point[first] - self.through[first], point[second] - self.through[second]
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        there[first] = self.through[first] + c * along - s * across
        there[second] = self.through[second] + s * along + c * across
        return Point(*there)


@dataclass(frozen=True)
class Pose:
    """A turn, then a move by `shift` mm, then a lean if there is one.

    Directions and levels are those before it leans: boxes lie along the axes. Points, and solids, are where they are.
    """

    turn: Turn = TURNS[0]
    shift: Point = ORIGIN
    lean: Lean | None = None

    def direction(self, own: Direction) -> Direction:
        """A direction of the piece as it lies."""
        there = self.turn[AXES.index(own.axis)]
        return Direction(there.axis, there.sign * own.sign)

    def own(self, there: Direction) -> Direction:
        """The piece's own direction that lies so: `direction` turned round."""
        return next(
            Direction(axis, there.sign * lies.sign) for axis, lies in zip(AXES, self.turn, strict=True) if lies.axis == there.axis
        )

    def to_world(self, point: Point) -> Point:
        """A point of the piece where it lies."""
        there = list(self.shift)
        for value, direction in zip(point, self.turn, strict=True):
            there[AXES.index(direction.axis)] += direction.sign * value
        return self.lean.turned(Point(*there)) if self.lean else Point(*there)

    def level(self, axis: Axis, own_level: float) -> float:
        """Where the piece's plane at `own_level` along its own axis lies, along the axis it is then square to."""
        there = self.turn[AXES.index(axis)]
        return self.shift[AXES.index(there.axis)] + there.sign * own_level

    def after(self, first: Pose) -> Pose:
        """The pose of a piece that is posed by `first` in the frame of a piece that is posed by this, which does not lean."""
        x, y, z = (self.direction(direction) for direction in first.turn)
        return Pose((x, y, z), self.to_world(first.shift), self._seen(first.lean))

    @property
    def inverse(self) -> Pose:
        """The pose that brings the piece back."""
        x, y, z = (self.own(Direction(axis, 1)) for axis in AXES)
        back = Pose((x, y, z)).to_world(self.shift)
        level = Pose((x, y, z), Point(-back.x, -back.y, -back.z))
        lean = replace(self.lean, angle=-self.lean.angle) if self.lean else None
        return replace(level, lean=level._seen(lean))

    def _seen(self, lean: Lean | None) -> Lean | None:
        """A lean of a frame that is posed by this."""
        if lean is None:
            return None
        there = self.direction(Direction(lean.axis, 1))
        return Lean(there.axis, there.sign * lean.angle, self.to_world(lean.through))
