"""What is cramped down at the bench: the wood itself, or a guide along the line that the saw or knife runs beside. mm.

How thick and how wide a guide is drawn is only for the picture; it ends at the line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.model.frame import Point
from sequencer.paper.scene import Thing
from sequencer.paper.set_ups.bodies import block, table
from sequencer.paper.set_ups.framing import whole_at
from sequencer.paper.set_ups.guides import Guide
from sequencer.paper.set_ups.hand_tools import beside_the_saw, falls_free
from sequencer.paper.set_ups.holding import BOARD, CLEAR, cramp
from sequencer.paper.set_ups.lying import Laid
from sequencer.paper.set_ups.subject import Subject

WIDE = 32.0
"""How wide a guide is drawn, mm."""
OVER, PAD, EDGE = 38.0, 22.0, 40.0
"""How far a guide, the middles of its cramps and the bench stand out beyond the wood at both of its ends, mm."""
BENCH = 20.0
"""How thick a bench is drawn whose edge is looked at, mm."""
BEYOND = 12.0
"""How far a cutting board stands out beyond what lies on it, mm."""


def along_guide(laid: Laid, piece: Subject, guide: Guide) -> Iterator[Thing]:
    """The guide on the side that is held, up to the line, a cramp at both of its ends, and the bench: it ends just before the
    line, or carries a board under it."""
    at, side = beside_the_saw(laid, piece)
    (low, high), (front, back), top = laid.bounds.span("x"), laid.bounds.span("y"), laid.bounds.high.z
    x = (min(at, at - side * WIDE), max(at, at - side * WIDE))
    yield Thing(block(x, (front - OVER, back + OVER), (top, top + guide.thick)), "tool", name=guide.name)
    bench = -BOARD if guide.over_board else 0.0
    for number, (place, edge) in enumerate(((back + PAD, back + EDGE), (front - PAD, front - EDGE))):
        held = cramp(Point(sum(x) / 2, place, top + guide.thick), edge, bench)
        yield held if not number else Thing(held.solid, "tool")
    along = (front - EDGE, back + EDGE)
    if guide.over_board:
        board = (low - BEYOND, high + BEYOND)
        yield Thing(block(board, (front - BEYOND, back + BEYOND), (-BOARD, 0.0)), "behind", name="cutting board")
        yield table((low - 2 * BEYOND, high + 2 * BEYOND), along, bench)
    else:
        ends = (low - 2 * BEYOND, at - CLEAR) if side > 0 else (at + CLEAR, high + 2 * BEYOND)
        yield Thing(block(ends, along, (bench - BENCH, bench)), "table", name="bench")


def cramped(laid: Laid, top: float, tools: Sequence[Thing]) -> Iterator[Thing]:
    """A cramp on wood that stays, well away from the tool or the cut, its arm going back over the far edge of the bench."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    cut = tools[0].solid.bounds if tools else laid.cut
    start, stop = cut.span("x")
    y, z = max(back - 14.0, (front + back) / 2), laid.bounds.high.z
    places = [low + 12.0 + share / 12 * (high - low - 24.0) for share in range(13)]
    held = laid.waste if falls_free(laid.subject) else laid.wood
    free = [x for x in places if whole_at(laid, Point(x, y, z), 9.0, held)]
    if free:
        # What stands further back is seen shifted to one side: the cramp must also be seen clear of the tool.
        aside = laid.looks_from.x * (y - sum(cut.span("y")) / 2)
        gaps = {x: min(max(start - each, each - stop) for each in (x, x + aside)) for x in free}
        far = max(free, key=lambda x: (min(gaps[x], 80.0), -abs(x - (low + high) / 2)))
        yield cramp(Point(far, y, z), back + 18.0, top)
