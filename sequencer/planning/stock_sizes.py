"""Stock that is bought too short, too narrow or too thin for what is cut from it. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXIS_WORDS, Axis
from sequencer.model.job import Part, Stock
from sequencer.planning.blanks import Workpiece
from sequencer.planning.work import CLOSE, words

SHOWS = 0.5
"""What a tape shows, mm: stock that is shorter by less is long enough."""


def too_long(part: Part, stock: Stock, blank: Workpiece) -> Iterator[Finding]:
    """A blank that is longer than the stock it is to come from."""
    longest = max(stock.lengths, default=blank.length)
    if stock.form == "bought" or blank.length <= longest + SHOWS:
        return
    yield Finding(
        "error",
        "stock-too-short",
        part.name,
        f"The {words(part.name)} is cut from a blank {mm(blank.length)} mm long, and {stock.name} is bought {mm(longest)} mm "
        "long at most.",
        "The ends of a part are squared, so its blank is longer than the part.",
        f"Buy {stock.name} at least {mm(blank.length)} mm long (`lengths`), or make the part shorter.",
        part.place,
        "common practice",
    )


def too_slight(part: Part, stock: Stock, working: Working) -> Iterator[Finding]:
    """Stock of a section that leaves nothing to plane, or less than is to be left on until later."""
    if stock.form not in ("board", "square"):
        return
    spare = working.least_planed if stock.surface == "sawn" else 0.0
    sections: tuple[tuple[Axis, float], ...] = (("z", stock.thickness), ("y", stock.width))
    for axis, bought in sections:
        asked = part.worked.size(axis) + spare
        if bought and bought < asked - CLOSE:
            yield Finding(
                "error",
                "stock-too-small",
                part.name,
                f"The {words(part.name)} needs {mm(asked)} mm in {AXIS_WORDS[axis]} before it is worked, and {stock.name} is "
                f"{mm(bought)} mm.",
                "Sawn stock is planed on all sides, and what is left on until later must be there."
                if spare
                else "What is left on until later must be there.",
                f"Buy {stock.name} larger, or make the part smaller.",
                part.place,
                "common practice",
            )
