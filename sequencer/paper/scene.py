"""What a picture in the round shows: bodies where they are, with sizes, arrows and marks. Says what, not how it is drawn. mm.

A scene has its own frame: x to the right, y away from the viewer, z up, like things on a bench seen from in front.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.model.frame import Point
from sequencer.solid.solids import Solid

Look = Literal["wood", "waste", "tool", "table", "behind"]
"""How a body is drawn: `wood` in plain lines, `waste` hatched, `tool` (blade, bit, cutter, fence, stop) in firm lines,
`table` in thin lines, `behind` in thin lines for what only shows where things are."""


FROM_THE_LEFT = Point(-0.55, -1.0, 0.62)
"""The usual place of the viewer: in front, a little to the left and above."""


@dataclass(frozen=True, eq=False)
class Thing:
    """A body in the scene. `letter` is the part's, in a ring beside or on it; `name` a word beside it (`fence`).

    through
        Its outline is dashed where wood hides it: a blade inside the wood.
    """

    solid: Solid
    look: Look = "wood"
    letter: str = ""
    name: str = ""
    through: bool = False


@dataclass(frozen=True)
class Size:
    """A dimension between two points, drawn `away` from them: the line stands off in that direction."""

    start: Point
    stop: Point
    label: str
    away: Point


@dataclass(frozen=True)
class Arrow:
    """An arrow from a point to another: the feed, the way a part goes in, a turn of a cutter."""

    start: Point
    stop: Point
    label: str = ""
    heavy: bool = False


@dataclass(frozen=True)
class FaceMark:
    """A trade mark on a face: the loop of the face side or the open V of the face edge (`kind`), at a point of the face;
    `along` and `up` are two directions in the face, `up` towards the edge the mark points to."""

    kind: Literal["side", "edge"]
    at: Point
    along: Point
    up: Point


@dataclass(frozen=True, eq=False)
class Scene:
    """A picture in the round.

    looks_from
        Where the viewer is, as a direction from the middle of the scene: x right, y away, z up.
    """

    things: tuple[Thing, ...]
    sizes: tuple[Size, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    marks: tuple[FaceMark, ...] = ()
    title: str = ""
    looks_from: Point = FROM_THE_LEFT
