"""The sums a woodworker does before cutting: pure functions, mm in and mm out, each with its source.

`Sum` keeps the terms, so that a finding can print `238 + 6 + 0 = 244`.
"""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.features.base import mm

COMMON = "common practice"


@dataclass(frozen=True)
class Sum:
    """A sum with its terms as they are printed."""

    terms: str
    value: float

    def __str__(self) -> str:
        return f"{self.terms} = {mm(self.value)}"


def piece_between(outside: float, thicknesses: tuple[float, float], depths: tuple[float, float] = (0.0, 0.0)) -> Sum:
    """Length of a piece between two others: the outside less their thicknesses, plus what it goes into each.

    Source: common practice.
    """
    first, second = thicknesses
    less = f"2 x {mm(first)}" if first == second else f"{mm(first)} - {mm(second)}"
    terms = f"{mm(outside)} - {less}"
    if any(depths):
        terms += f" + 2 x {mm(depths[0])}" if depths[0] == depths[1] else f" + {mm(depths[0])} + {mm(depths[1])}"
    return Sum(terms, outside - first - second + sum(depths))


def panel_most(opening: float, depths: tuple[float, float]) -> Sum:
    """Longest panel that goes into two grooves: the clear opening plus both depths. Source: common practice."""
    return Sum(f"{mm(opening)} + {mm(depths[0])} + {mm(depths[1])}", opening + sum(depths))


def tenon_most(mortise_depth: float, clearance: float) -> float:
    """Longest tenon for a blind mortise: its depth less the room at the bottom."""
    return mortise_depth - clearance
