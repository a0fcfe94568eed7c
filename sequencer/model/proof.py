"""The record of a proof by virtual making: what was checked at each step, with figures, and what each part came out as.

Lengths in mm, volumes in mm3.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

CheckName = Literal[
    "piece",
    "reference",
    "marks",
    "lies",
    "held",
    "centred",
    "there",
    "thickness",
    "approach",
    "setting",
    "order",
    "drawing",
    "clash",
    "fit",
    "way-in",
    "remnant",
    "feed",
    "joined",
    "wet",
    "loose",
    "strip",
]
"""What a check looks at.

piece
    The piece is as long, wide and thick as the station asks and the card says.
reference
    The faces it is measured from are there and true.
marks
    Its line has been marked, on wood that is still there and looks up.
lies
    It rests on enough of the face that is down, and bears on fence and stop.
held
    The faces it is gripped by are still there.
centred
    Before it is turned between centres: solid wood stands round the axis at both ends, its weight lies about the axis, and the
    length that is turned has no gap in its surface.
remnant
    Of the two pieces a cut to length leaves, the one that is held is long enough, and none is caught at the stop.
feed
    Fed from right to left, every pass along a fence works against the turn of its cutter; no strip is left between two passes,
    and none is caught between blade and fence.
there
    What the cut takes away is there to be taken.
thickness
    What remains under the cut is thick enough.
approach
    Nothing stands in the way of the tool.
setting
    The card says every figure its operation sets, the figures give a cut, and the printed steps say the same.
order
    The cards print the work in the order it is carried out in.
drawing
    The part equals its drawing.
clash, fit, way-in, joined
    Parts do not stand in each other; the pieces of each joint meet; each part can be brought to its place; all that is drawn
    joined is.
wet
    Nothing is done to pieces between their glue and its setting, but for what belongs to their own joint.
strip
    A long piece that several pieces come out of is one stick, worked whole before it is cut; it is no longer than the stock and
    the stations take, and its pieces lie one behind the other in sound wood, with the kerfs between. What is cut into one of them
    while it is whole stays clear of the next.
loose
    Dowels and biscuits go home in both their holes with room to spare; wedges find their kerf and room to spread.
"""


@dataclass(frozen=True)
class Looked:
    """One check at one moment. `held` is what came of it; `says` a sentence with figures."""

    check: CheckName
    held: bool
    says: str


@dataclass(frozen=True)
class TaskProof:
    """A task carried out on one piece (or on the pieces it joins).

    removed
        What it took away, mm3.
    """

    task: str
    step: int
    piece: str
    removed: float
    looked: tuple[Looked, ...]


@dataclass(frozen=True)
class PartProof:
    """A piece at the end, held against its drawing, mm3.

    left_on, cut_too_far
        Wood that stands over the drawing, and wood that is missing from it, beyond declared residue.
    residue
        What its operations leave and the drawing accepts, with its volume: drill points.
    """

    piece: str
    part: str
    volume: float
    left_on: float
    cut_too_far: float
    residue: tuple[tuple[str, float], ...] = ()

    @property
    def difference(self) -> float:
        """Everything that differs from the drawing beyond declared residue, mm3."""
        return self.left_on + self.cut_too_far


@dataclass(frozen=True)
class Proof:
    """Whether the plan makes the thing, and what was looked at."""

    held: bool
    tasks: tuple[TaskProof, ...]
    parts: tuple[PartProof, ...]
    assembled: tuple[Looked, ...]

    @property
    def failures(self) -> tuple[Looked, ...]:
        """Every check that did not hold, in the order met."""
        return tuple(each for each in (*(look for task in self.tasks for look in task.looked), *self.assembled) if not each.held)
