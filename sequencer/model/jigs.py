"""The jigs that a plan asks for, with every piece where it stands. mm."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.frame import Axis


@dataclass(frozen=True)
class JigHole:
    """A hole right through a piece of a jig: the axis it runs along, its middle by the two other axes in alphabetical order."""

    along: Axis
    at: tuple[float, float]
    diameter: float


@dataclass(frozen=True)
class JigBody:
    """One piece of a jig where it stands: its near lower left corner and its size along x (to the right), y (away), z (up).
    `outline`, in the jig's frame, where it is no plain block: by the two axes besides `along`, in alphabetical order.
    """

    low: tuple[float, float, float]
    size: tuple[float, float, float]
    along: Axis = "x"
    outline: tuple[tuple[float, float], ...] = ()
    holes: tuple[JigHole, ...] = ()


@dataclass(frozen=True)
class JigPiece:
    """Alike pieces of a jig: the stock that is needed, longest side first, and where each stands."""

    name: str
    count: int
    length: float
    width: float
    thickness: float
    stock: str
    bodies: tuple[JigBody, ...]


@dataclass(frozen=True)
class JigLine:
    """A jig that is made before the lessons: what it is, what for, its pieces with sizes and stock, how it is checked."""

    name: str
    title: str
    what: str
    tasks: tuple[str, ...]
    steps: tuple[int, ...]
    uses: tuple[str, ...]
    """What it is for, one line a feature or kind of work: `curve of the side`."""
    pieces: tuple[JigPiece, ...]
    fastening: str
    checks: tuple[str, ...]
    source: str
