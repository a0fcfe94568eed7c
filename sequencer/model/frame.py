"""The frame of a part, fixed once for the whole tool.

Look at the part with its inside face towards you: x runs along the length from left to right, y along the width from
bottom to top, z along the thickness from the outside (behind, z = 0) to the inside (towards you). Right-handed.
Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

Axis = Literal["x", "y", "z"]
FaceName = Literal["left", "right", "bottom", "top", "outside", "inside"]

Hand = Literal["left", "right"]
"""The two hands of a handed part: as drawn, and mirrored left to right."""

AXES: tuple[Axis, ...] = get_args(Axis)
FACES: tuple[FaceName, ...] = get_args(FaceName)

AXIS_WORDS: dict[Axis, str] = {"x": "length", "y": "width", "z": "thickness"}

_SIDE: dict[FaceName, tuple[Axis, bool]] = {
    "left": ("x", False),
    "right": ("x", True),
    "bottom": ("y", False),
    "top": ("y", True),
    "outside": ("z", False),
    "inside": ("z", True),
}
_FACE: dict[tuple[Axis, bool], FaceName] = {side: face for face, side in _SIDE.items()}


class Point(NamedTuple):
    """A point in a part's frame, in mm."""

    x: float
    y: float
    z: float


def axis_of(face: FaceName) -> Axis:
    """The axis a face is square to."""
    return _SIDE[face][0]


def is_high(face: FaceName) -> bool:
    """Whether the face stands at the far end of its axis (right, top, inside)."""
    return _SIDE[face][1]


def sign_of(face: FaceName) -> int:
    """+1 where the outward normal points along the axis, -1 where against it."""
    return 1 if is_high(face) else -1


def face_at(axis: Axis, high: bool) -> FaceName:
    """The face at the low or high end of an axis."""
    return _FACE[axis, high]


def opposite(face: FaceName) -> FaceName:
    """The face on the other side of the part."""
    axis, high = _SIDE[face]
    return face_at(axis, not high)


def others(axis: Axis) -> tuple[Axis, Axis]:
    """The two axes square to this one, in alphabetical order."""
    first, second = (other for other in AXES if other != axis)
    return first, second


def mirrored(face: FaceName) -> FaceName:
    """The same face on the other hand: parts are mirrored left to right."""
    return opposite(face) if axis_of(face) == "x" else face


@dataclass(frozen=True)
class Block:
    """The square block a part is before its features: finished length, width and thickness, mm."""

    length: float
    width: float
    thickness: float

    def size(self, axis: Axis) -> float:
        """Extent along an axis, mm."""
        return {"x": self.length, "y": self.width, "z": self.thickness}[axis]

    def level(self, face: FaceName) -> float:
        """Coordinate of a face along its own axis, mm."""
        return self.size(axis_of(face)) if is_high(face) else 0.0

    def inward(self, face: FaceName, distance: float) -> float:
        """Coordinate of the plane `distance` mm inside a face, along the face's axis."""
        return self.level(face) - sign_of(face) * distance

    def span(self, face: FaceName, near: float, far: float) -> tuple[float, float]:
        """Low and high coordinate of the layer from `near` to `far` mm inside a face."""
        first, second = self.inward(face, near), self.inward(face, far)
        return (first, second) if first <= second else (second, first)
