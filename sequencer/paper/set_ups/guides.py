"""What a saw or a knife is led along by hand, told by the tools of the step. mm."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.marks import Datum, Level, Off
from sequencer.paper.set_ups.subject import Subject


@dataclass(frozen=True)
class Guide:
    """What the tool runs along: its word on the card, and how thick it is drawn, mm. `over_board`: a board under the wood takes
    the point of a knife; without one the line lies past the bench."""

    name: str
    thick: float
    over_board: bool = False


GUIDES = {"straight batten": Guide("batten", 14.0), "steel straight edge": Guide("straight edge", 4.0, over_board=True)}
"""The tools of a step that are cramped along the line of a straight cut."""


def guide_of(piece: Subject) -> Guide | None:
    """What is cramped along the line for this cut; None where the tool follows the line alone."""
    straight = isinstance(piece.marks, Level | Datum | Off) and piece.task.cut in ("crosscut", "saw-to-line")
    if not straight or piece.in_vice or "bench-cramp" not in piece.holding or piece.waste.empty:
        return None
    return next((guide for tool, guide in GUIDES.items() if tool in piece.tools), None)
