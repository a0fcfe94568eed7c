"""What hangs free at the cuts of a hand saw: whether a partner may hold it up. mm.

Fingers beside or under the blade are cut: only what is wide enough to be held well clear of the line is held.
"""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.model.quantities import Figures
from sequencer.planning.blanks import Workpiece, after_first_end, end_trim


def free_waste(kind: str, part: Figures, piece: Workpiece, trim: float, least: float) -> dict[str, float]:
    """Figures that say who holds what hangs free.

    kind, part
        The kind of work and its figures: `part.length`, `part.width`.
    piece
        The piece before its first end is squared, which takes `trim` off at the most.
    least
        The least that a partner holds.
    """
    found = [*_free(kind, part, piece, trim)]
    wide = bool(found) and min(found) >= least
    return {"waste.wide": float(wide), "waste.narrow": float(bool(found) and not wide), "waste.partner": least}


def _free(kind: str, part: Figures, piece: Workpiece, trim: float) -> Iterator[float]:
    """How far what hangs free reaches from each cut: the shorter side, whichever is cramped."""
    length, width = part.get("part.length", piece.length), part.get("part.width", piece.width)
    if kind == "rough-length":
        blank = piece.sawn_length or piece.length - piece.waste
        yield min(blank, piece.length - blank)
        if piece.sawn_width:
            yield min(piece.sawn_width, piece.width - piece.sawn_width)
    elif kind == "first-end":
        yield end_trim(piece.waste, trim)
    elif kind == "length":
        yield min(length, after_first_end(piece, trim).waste)
    elif kind == "separate":
        # Between two parts a thin slice comes off with the new end.
        yield piece.cut if piece.yields > 1 or piece.strip else min(length, piece.waste)
    elif kind == "width":
        yield piece.width - width
