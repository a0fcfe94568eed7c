"""Length of nails and screws against the two pieces they hold, mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

NAIL_SOURCE = "US Navy NAVEDTRA 14119, nails: three times the thickness held, two thirds in the second piece"
POINT_ROOM = 3.0
"""Wood to leave before a point, mm: common practice; Audel's carpenters' mathematics leaves 6 mm (1/4 in) for nails."""
NAIL_POINT_ROOM = 6.0
LEAST_SHARE, MOST_SHARE = 0.5, 0.75
"""Share of a screw in the second piece: two thirds to three quarters is usual, half the least; common practice."""
NAIL_LENGTHS = (15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 65.0, 75.0, 90.0, 100.0)
"""Lengths that wire nails and pins are sold in, mm: common practice."""


@dataclass(frozen=True)
class Length:
    """A length that a rule asks for, the longest whose point stays in the wood, and the longest nail sold that is within both;
    0 where none is."""

    wanted: float
    most: float
    take: float

    @property
    def short(self) -> bool:
        """Whether even the longest that stays in the wood holds less than the rule asks."""
        return self.most < self.wanted


def nail_length(held: float, beyond: float, lengths: Sequence[float] = NAIL_LENGTHS) -> Length:
    """Length of a nail through a piece `held` mm thick into one with `beyond` mm of wood behind it: three times the thickness
    held, so that two thirds are in the second piece, and the point at least 6 mm short of coming through.

    Source: NAVEDTRA 14119 for the length, Audel's carpenters' mathematics for the point. ValueError if a thickness is not
    more than 0.
    """
    if held <= 0 or beyond <= 0:
        raise ValueError("both pieces are thicker than 0")
    wanted, most = 3 * held, held + beyond - NAIL_POINT_ROOM
    fitting = [each for each in lengths if each <= most]
    enough = [each for each in fitting if each >= wanted]
    take = min(enough) if enough else max(fitting, default=0.0)
    return Length(wanted, max(most, 0.0), take if take > held else 0.0)


def share_in_second(length: float, held: float) -> float:
    """Share of a nail or screw that is in the second piece, 0 to 1. Plain arithmetic."""
    return max(0.0, length - held) / length


def screw_length(held: float, beyond: float) -> Length:
    """Length of a screw likewise: 2.5 times the thickness held, and 3 mm of wood left before the point. Common practice.
    ValueError if a thickness is not more than 0."""
    if held <= 0 or beyond <= 0:
        raise ValueError("both pieces are thicker than 0")
    wanted, most = 2.5 * held, max(held + beyond - POINT_ROOM, 0.0)
    return Length(wanted, most, min(wanted, most))
