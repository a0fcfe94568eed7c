"""Room between two parts by class of fit, mm."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.forms.fixings import FitClass

MEASURED = 0.05
"""How far a drawn size may be off a fit and still count as in it, mm: well under what a class can work to."""


@dataclass(frozen=True)
class Allowance:
    """The least and the most room that a fit has, mm; below 0 the pieces are tight."""

    least: float
    most: float

    def holds(self, play: float) -> bool:
        """Whether a drawn play is in the fit."""
        return self.least - MEASURED <= play <= self.most + MEASURED


def allowance(fit: FitClass | None, stated: float | None, *, moves: bool) -> Allowance:
    """The room a joint may be drawn with: the play stated for it, else that of its class of fit (`lists/fits.yaml`), else
    anything but tight.

    What is made to stay may be drawn to the nominal size of what goes in, since its fit is made at the bench; what is to move
    (`moves`) must be drawn with its play. Common practice; the figures have their sources in the list.
    """
    if stated is not None:
        return Allowance(stated, stated)
    if fit is None:
        return Allowance(0.0, float("inf"))
    return Allowance(fit.least if moves else min(fit.least, 0.0), fit.most)
