"""A cut and what it takes from a piece; the card's figures it is made from; and how far it reaches where it leaves the wood. In
the part's frame, mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high, opposite, sign_of
from sequencer.model.marks import Lie, Spot
from sequencer.model.plan import Task
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box

STEEPEST = 89.0
"""A cut further from square than this, degrees, never comes out of the wood."""
FAR = 100_000.0
"""Further than any piece reaches, mm: a cut that runs out of the wood runs on."""
OVER = 1.0
"""How far a cut stands over a face it is open at, mm, so that no skin is left."""
DUST = 1e-3
"""The difference of two volumes below this, mm3, is rounding."""
ROUND = 16
"""Chords of a rounded edge or corner, as the drawing has them."""
CHORDS = 32
"""Chords of the segment that a disc cuts, as the drawing has them."""
Span = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Cut:
    """What the tool passes through.

    body
        Everything it would take away, also where there is no wood.
    opened
        The face it comes in at; None where it goes round the piece or right through along an axis.
    floor
        The plane its bottom lies in, along the axis of `opened`; None if it goes through.
    leaves
        What it takes or leaves beyond the cut that is asked for, by the residue's name.
    passes
        Where a cutter stands for each pass along its fence, edge guide or batten, in order: near and far side, from the face
        that the channel is measured from.
    """

    body: Solid
    opened: FaceName | None = None
    floor: float | None = None
    leaves: tuple[tuple[str, Solid], ...] = ()
    passes: tuple[Span, ...] = ()


@dataclass(frozen=True, eq=False)
class Bite:
    """A cut in a piece: what it takes away, what it leaves, and how much it takes, mm3."""

    cut: Cut
    removed: Solid
    left: Solid
    taken: float


def bite_of(cut: Cut, body: Solid) -> Bite:
    """A cut in a body. What is removed is worked out only when somebody looks at it: its volume follows from what is left."""
    left = body - cut.body
    taken = body.volume - left.volume
    return Bite(cut, body & cut.body, left, taken if taken > DUST else 0.0)


class NoCut(Exception):
    """The card's figures give no cut; the message says which."""


@dataclass(frozen=True)
class Card:
    """The figures of a task as its card and its station's card give them."""

    settings: Mapping[str, float]
    figures: Mapping[str, float]
    kind: str
    leaves: frozenset[str]
    point: float

    def setting(self, name: str, otherwise: float) -> float:
        """A setting, or what is set out where the card sets none."""
        return self.settings.get(name, otherwise)


def card_of(task: Task, figures: Mapping[str, float]) -> Card:
    """The figures of a task; a setting that staff decide has none. NoCut if the card leaves out what its operation sets."""
    given = {setting.name for setting in task.settings}
    missing = [name for name in task.sets if name not in given]
    if missing:
        raise NoCut(f"the card does not say the {' and the '.join(missing)}")
    settings = {setting.name: setting.value for setting in task.settings if setting.value is not None}
    return Card(settings, figures, task.kind, frozenset(task.leaves), task.point)


def all_beyond(face: FaceName, level: float) -> Solid:
    """All space on the outer side of a plane square to a face's axis."""
    low, high = [-FAR] * 3, [FAR] * 3
    axis = AXES.index(axis_of(face))
    if is_high(face):
        low[axis] = level
    else:
        high[axis] = level
    return box(low, high)


def block_of(spans: Mapping[Axis, Span]) -> Solid:
    """The block that spans along the three axes fill."""
    return box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])


def entered_face(lie: Lie, marked: FaceName) -> FaceName:
    """The face the tool comes in at: the one up for tools from above, the one down for tools from below. A cutter that stands
    out of the fence works the face against that and, at the table, the one that is down."""
    if lie.tool == "above":
        return opposite(lie.down)
    if lie.tool == "fence" and axis_of(marked) != axis_of(lie.down):
        return lie.against or marked
    return lie.down if lie.tool in ("below", "fence") else marked


def sunk(piece: Workpiece, face: FaceName, depth: float) -> tuple[Span, float | None]:
    """The span of a cut from above a face down to its depth, and its floor if it does not go through."""
    axis, sign = axis_of(face), sign_of(face)
    top = piece.spans[axis][is_high(face)]
    floor = top - sign * depth
    span = (min(floor, top + sign * OVER), max(floor, top + sign * OVER))
    low, high = piece.spans[axis]
    through = floor <= low + 1e-6 if is_high(face) else floor >= high - 1e-6
    if through:
        return (low - OVER, high + OVER), None
    return span, floor


def run_over(piece: Workpiece, axis: Axis, span: Span) -> Span:
    """A span that ends at the end of the wood runs on over it."""
    low, high = piece.spans[axis]
    return (
        span[0] - OVER if abs(span[0] - low) < 1e-6 else span[0],
        span[1] + OVER if abs(span[1] - high) < 1e-6 else span[1],
    )


def spot_at(piece: Workpiece, spot: Spot) -> dict[Axis, float]:
    """Where a spot lies on a piece, along the two axes of its face."""
    return {axis_of(face): piece.level(face) - sign_of(face) * distance for face, distance in spot}
