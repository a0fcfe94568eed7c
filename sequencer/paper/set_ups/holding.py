"""What holds the work at the bench, as plain bodies where it stands: jaws, cramp, hook, V-block, mitre box. mm.

The sizes of these bodies are only for the drawing. Nothing that holds stands where the waste would be hidden.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from sequencer.model.frame import Point
from sequencer.paper.scene import Thing
from sequencer.paper.set_ups.bodies import block, table, upright
from sequencer.paper.set_ups.cutting_planes import CutPlane
from sequencer.paper.set_ups.lying import Laid, Span
from sequencer.solid.solids import joined, prism

JAW = 30.0
"""How high the cheeks of a vice are drawn, mm."""
CHEEK, CHEEK_LONG = 16.0, 120.0
BARELY = 3.0
"""How far an edge that is chopped is drawn above the cheeks, which it is level with, so that it is seen, mm."""
CLEAR = 6.0
"""From what holds to the cut, mm."""
HOOK, HOOK_LONG = 20.0, 75.0
"""Height of the stop of a bench hook above its board, and how long it is, mm."""
BOARD = 12.0
"""How thick a backing board and the board of a bench hook are, mm."""
WALL = 9.0
"""How thick the floor and the walls of a mitre box are, mm."""
OVERHANG = 12.0
"""How far an edge stands out over the front of the bench for a fence to hang beside it, mm."""


def kept_span(laid: Laid) -> Span:
    """The longest stretch along the picture that the cut leaves alone, a little clear of it; all where it goes from end to
    end."""
    low, high = laid.bounds.span("x")
    start, stop = laid.cut.span("x")
    spans = [(low, start - CLEAR), (stop + CLEAR, high)]
    longest = max(spans, key=lambda span: span[1] - span[0])
    return longest if not laid.waste.empty and longest[1] - longest[0] > 15.0 else (low, high)


def jaws(laid: Laid, high: float = JAW) -> Iterator[Thing]:
    """The cheeks of the vice in front of the piece and behind it, beside the cut."""
    front, back = laid.bounds.span("y")
    low, far = kept_span(laid)
    bounds = laid.bounds.span("x")
    free = low == bounds[0], far == bounds[1]
    low, far = low - 10.0 * free[0], far + 10.0 * free[1]
    if (spare := far - low - CHEEK_LONG) > 0:
        # Close to the cut that it is beside; in the middle where there is none.
        low, far = low + spare * (0.5 if all(free) else free[0]), far - spare * (0.5 if all(free) else free[1])
    yield Thing(block((low, far), (back, back + CHEEK), (0.0, high)), "tool")
    yield Thing(block((low, far), (front - CHEEK, front), (0.0, high)), "tool", name="vice")


def level_jaws(laid: Laid) -> Iterator[Thing]:
    """The cheeks of the vice at the cut, level with the edge that is worked, and the block that the piece stands on."""
    front, back = laid.bounds.span("y")
    (low, high), (start, stop) = laid.bounds.span("x"), laid.cut.span("x")
    middle, half = (start + stop) / 2, max(CHEEK_LONG, min(stop - start, 2 * CHEEK_LONG)) / 2
    along = (max(low - 10.0, middle - half), min(high + 10.0, middle + half))
    top = laid.bounds.high.z - BARELY
    up = (max(0.0, top - 2 * JAW), top)
    yield Thing(block(along, (back, back + CHEEK), up), "tool")
    yield Thing(block(along, (front - CHEEK, front), up), "tool", name="vice")
    yield Thing(block((low, high), (front, back), (-BOARD, 0.0)), "behind", name="block")


def between_stops(laid: Laid) -> Iterator[Thing]:
    """The dog of the vice at the right end of a piece that lies flat, the stop of the bench at its left end, towards which it is
    planed, and a batten close behind it; the near edge stays free."""
    low, high = laid.bounds.span("x")
    near, back = laid.bounds.span("y")
    top = _below_cut(laid)
    across = (near + OVERHANG, max(back, near + OVERHANG + 15.0))
    yield Thing(block((high, high + CHEEK), across, (0.0, top)), "tool", name="vice dog")
    yield Thing(block((low - CHEEK, low), across, (0.0, top)), "tool", name="bench stop")
    yield Thing(block((low, high), (back, back + CHEEK), (0.0, top)), "behind", name="batten")


def sticking_board(laid: Laid) -> Iterator[Thing]:
    """A board under a piece that lies flat, with a stop at the left end, towards which it is planed, and a fence behind; the near
    edge stands out."""
    low, high = laid.bounds.span("x")
    near, back = laid.bounds.span("y")
    top = _below_cut(laid)
    front = near + OVERHANG / 2
    yield Thing(block((low - CHEEK, high + CHEEK), (front, back + CHEEK), (-BOARD, 0.0)), "behind", name="sticking board")
    yield Thing(block((low - CHEEK, low), (front, back), (0.0, top)), "behind", name="stop")
    yield Thing(block((low - CHEEK, high + CHEEK), (back, back + CHEEK), (0.0, top)), "behind")


def _below_cut(laid: Laid) -> float:
    """How high what bears on the ends and the back of a planed piece may be drawn: lower than the iron runs."""
    return max(2.0, min(0.6 * laid.bounds.high.z, laid.cut.low.z - 1.0))


def cramp(at: Point, edge: float, bench: float) -> Thing:
    """A cramp with its pad on the wood at a place, its arm going over the edge of the bench at `edge`, behind the place or in
    front of it, the top of the bench lying at `bench`."""
    pad = upright(at.x, at.y, (at.z, at.z + 4.0), 8.0)
    screw = upright(at.x, at.y, (at.z + 4.0, at.z + 26.0), 3.5)
    x, away = (at.x - 5.0, at.x + 5.0), 1.0 if edge > at.y else -1.0
    near, over = at.y - 6.0 * away, edge + 10.0 * away
    arm = block(x, (min(near, over), max(near, over)), (at.z + 12.0, at.z + 20.0))
    spine = block(x, (min(edge, over), max(edge, over)), (bench - 8.0, at.z + 20.0))
    return Thing(joined((pad, screw, arm, spine)), "tool", name="cramp")


def bench_hook(laid: Laid, at: float, side: int) -> Iterator[Thing]:
    """A bench hook: its stop, which the far edge is pressed against beside the saw, and its board, hooked over the bench."""
    far = at - side * (CLEAR + HOOK_LONG)
    near = at - side * CLEAR
    x = (min(far, near), max(far, near))
    front, back = laid.bounds.span("y")
    yield Thing(block(x, (back, back + 14.0), (0.0, HOOK)), "behind", name="bench hook")
    board = block(x, (front - 10.0, back + 14.0), (-BOARD, 0.0))
    lip = block(x, (front - 22.0, front - 10.0), (-BOARD - 20.0, 0.0))
    yield Thing(board + lip, "behind")


def v_block(laid: Laid, at: float, side: int) -> Thing:
    """The block with a V that round wood lies in, up to just before the saw."""
    ends = (laid.bounds.low.x, at - CLEAR) if side > 0 else (at + CLEAR, laid.bounds.high.x)
    front, back = laid.bounds.span("y")
    middle, radius = (front + back) / 2, (back - front) / 2
    apex = radius * (1.0 - sqrt(2.0))
    top = 0.6 * radius
    wide = top - apex + 8.0
    bottom = v_depth(laid)
    outline = [
        (middle - wide, bottom),
        (middle + wide, bottom),
        (middle + wide, top),
        (middle + top - apex, top),
        (middle, apex),
        (middle - top + apex, top),
        (middle - wide, top),
    ]
    return Thing(prism("x", [outline], *ends), "behind", name="V-block")


def v_in_vice(block_held: Thing) -> Iterator[Thing]:
    """The cheeks of the vice that a V-block is gripped in."""
    held = block_held.solid.bounds
    middle, half = sum(held.span("x")) / 2, min(held.size("x"), CHEEK_LONG) / 2
    along, up = (middle - half, middle + half), (held.low.z - BOARD, held.low.z + 0.5 * held.size("z"))
    yield Thing(block(along, (held.high.y, held.high.y + CHEEK), up), "tool")
    yield Thing(block(along, (held.low.y - CHEEK, held.low.y), up), "tool", name="vice")


def v_depth(laid: Laid) -> float:
    """Where the underside of a V-block lies, below the round wood."""
    radius = laid.bounds.size("y") / 2
    return radius * (1.0 - sqrt(2.0)) - 6.0


def mitre_box(laid: Laid, saw: CutPlane, kerf: float) -> Thing:
    """The floor and the back of a mitre box with its slot; the front is drawn low, so that the wood is seen."""
    x = (saw.at.x - 65.0, saw.at.x + 65.0)
    front, back = laid.bounds.span("y")
    high = laid.bounds.high.z + 18.0
    floor = block(x, (front - WALL, back + WALL), (-WALL, 0.0))
    wall = block(x, (back, back + WALL), (0.0, high))
    lip = block(x, (front - WALL, front), (0.0, 4.0))
    slot = saw.sheet((-300.0, 300.0), (0.0, 2 * high), kerf + 0.6)
    return Thing(joined((floor, wall, lip)) - slot, "behind", name="mitre box")


def backing_board(laid: Laid) -> Thing:
    """The waste board under the wood."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    return Thing(block((low, high), (front, back), (-BOARD, 0.0)), "behind", name="backing board")


def bench(laid: Laid, top: float, *, set_back: float = -18.0, past_end: bool = False, under: Span | None = None) -> Thing:
    """The bench top, which stands out round the piece; its front may be set back under an edge that overhangs, and it may end
    before a cut that goes past its end: under what stays, or `under` the long piece that a part falls off."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    first, last = (low - 15.0, high + 15.0)
    if under is not None:
        first, last = (first, under[1] - CLEAR) if under[0] == low else (under[0] + CLEAR, last)
    elif past_end and (kept := kept_span(laid)) != (low, high):
        first, last = (first, kept[1]) if kept[0] == low else (kept[0], last)
    return table((first, last), (front + set_back, back + 18.0), top)
