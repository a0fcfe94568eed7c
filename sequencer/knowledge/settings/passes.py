"""Passes beside and below each other, and how cards say them. Plain geometry."""

from __future__ import annotations

from math import ceil

from sequencer.knowledge.settings.base import setting, spoken
from sequencer.model.plan import Setting


def side_by_side(width: float | None, cutter: float | None) -> tuple[float | None, float | None]:
    """Passes beside each other and the offset of each from the one before, mm: n = ceil(w / d), s = (w - d) / (n - 1), so that
    the first and the last lie on the two sides and s never exceeds d. None where the cutter is wider. Plain geometry."""
    if width is None or cutter is None or not 0 < cutter <= width + 1e-9:
        return None, None
    passes = max(1, ceil(round(width / cutter, 9)))
    return float(passes), (width - cutter) / (passes - 1) if passes > 1 else 0.0


def steps(depth: float | None, deepest: float | None) -> str:
    """The text of a depth reached in equal passes of at most `deepest`."""
    if depth is None or not deepest:
        return "{}"
    passes = max(1, ceil(round(depth / deepest, 9)))
    before = ", ".join(spoken(depth * number / passes, "mm") for number in range(1, passes))
    return f"{before}, then {{}}" if before else "{}"


def passes_setting(passes: float | None) -> Setting:
    """How many passes beside each other."""
    return setting("passes", "passes side by side", passes, "", "one pass" if passes == 1 else "{} passes")


def shift_setting(shift: float | None, label: str) -> Setting:
    """What moves guide or spindle between passes: nothing where there is one."""
    return setting("shift", label, shift, text="{} more for each" if shift else "none")


def packing_setting(passes: float | None, each: float | None, label: str) -> Setting:
    """The pieces of packing of a held router: one fewer than the passes, all in at the first and one out for each further one.
    The value is how thick each is, mm: nothing where there is one pass."""
    pieces = 0 if passes is None else round(passes) - 1
    number = "one piece" if pieces == 1 else f"{pieces} pieces, each"
    return setting("packing", label, each, text=f"{number} {{}} thick" if each else "none")
