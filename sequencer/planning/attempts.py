"""What is tried: one operation at one kind of station for one work, and the pieces that may be done on. mm."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import inf

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.planning.blanks import Workpiece
from sequencer.planning.work import Work

LongPiece = Callable[[float, float, float], Workpiece | None]
"""The long piece for a station's shortest, longest and least holding end, mm; None if the stock gives none."""


@dataclass(frozen=True)
class Pieces:
    """The pieces a work may be done on: the piece by itself, and a longer one cut apart afterwards if there may be one.

    `only_long`: the piece has no square block of its own yet (mitred ends, or it is cut off a long piece later).
    """

    single: Workpiece | None
    long: LongPiece | None = None
    only_long: bool = False
    several: tuple[Workpiece, ...] = ()
    """For work on several parts: each of the pieces, every one of which must be within the limits."""
    longest: float = inf
    """The longest that the piece by itself may be made: as the stock is bought, mm."""
    trim: float = 0.0
    """The most that squaring its first end has taken off the piece before this work, mm; the piece is given as it was."""
    whole: bool = False
    """Whether the long piece gives one part only, and is made as long as an operation asks of what it cuts."""


@dataclass(frozen=True)
class Attempt:
    """One operation tried for one work, by the piece or in the long."""

    work: Work
    pieces: Pieces
    in_the_long: bool
    kind: StationKind
    name: str
    operation: Operation
    words: Mapping[str, str]
    hardness: str
    station: str = ""
    """The station that a decision asks for, tried first."""
    shaped: tuple[str, ...] = ()
    """Features of the part that are cut before and may have taken faces that the piece is held by."""
