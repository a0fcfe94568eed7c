"""The tool of a set-up by hand, as a plain body where it stands on the wood: saw, knife, planes, bit. mm.

How it is drawn is only for the picture; where it stands is to scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from sequencer.features.base import mm
from sequencer.model.frame import FaceName, Point, axis_of, opposite
from sequencer.model.marks import Datum, Level, Line, Off, Shoulders, Spots, Trough
from sequencer.paper.scene import Thing
from sequencer.paper.set_ups.bodies import block, twist_bit, upright
from sequencer.paper.set_ups.cutting_planes import CutPlane, line_plane, point_of, square_plane, waste_side
from sequencer.paper.set_ups.guides import Guide, guide_of
from sequencer.paper.set_ups.lying import FRONT, UP, Laid, Span
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import joined

PLANE_AT = 0.75
"""How far along the wood a plane is drawn, of its length: it goes from right to left."""
PLANE_LONG, PLANE_WIDE = 130.0, 44.0
"""How long a bench plane is drawn at most, and how wide, mm."""
SAW_LONG, SAW_HIGH, SAW_THICK = 35.0, 25.0, 1.0
"""How far the plate of a hand saw is drawn beyond the wood, and how high; only for the drawing."""
SAWN = 30.0
"""How far down a saw is drawn at most, mm."""
TENON_SAW = 8.0
"""How far the saw stands out over the end of a tenon, which is what is looked at, mm."""
SAW_HALF, HELD_LOW = 90.0, 18.0
"""How much of a long cut a saw led along a batten is drawn over, to either side of its middle, and how far it stands out: the
batten is to be seen over it, mm."""
KNIFE = 10.0
"""How thick the handle of a knife is drawn, mm."""
OFF_LINE = 1.0
"""How far on the waste side a saw is drawn where the cut is trimmed to its line afterwards, mm."""


def fence_of(laid: Laid) -> float | None:
    """The fence of a plough or rebate plane, where it bears on the near edge."""
    marks, fence = laid.subject.marks, laid.subject.setting("fence")
    planed = laid.subject.task.cut == "plane" and isinstance(marks, Trough) and laid.way(marks.beside) == FRONT
    return fence if planed else None


def beside_the_saw(laid: Laid, piece: Subject) -> tuple[float, int]:
    """Where the wood that is held ends, and on which side of it the saw cuts. Of what a crosscut leaves the longer is held: a
    part that is cut off a long piece falls free."""
    at, side = waste_side(laid, "x")
    return (at + side * piece.figure("kerf", SAW_THICK), -side) if falls_free(piece) else (at, side)


def falls_free(piece: Subject) -> bool:
    """Whether a crosscut, or a mitre sawn to a line, leaves more of the piece than it keeps of the part: what is drawn as waste
    is the long piece."""
    if piece.task.kind == "rough-length" and "bench-cramp" in piece.holding:
        return False
    waste = piece.before & piece.waste
    sawn_off = piece.task.cut == "crosscut" or (piece.task.kind == "mitre" and "bench-cramp" in piece.holding)
    return sawn_off and not waste.empty and waste.bounds.size("x") > piece.bounds.size("x") / 2


def tool_of(laid: Laid, piece: Subject) -> Iterator[Thing]:
    """The plate of a saw in its kerf, a knife along its straight edge, a plane on its edge, a bit over its spot."""
    marks, cut = piece.marks, piece.task.cut
    thick = laid.bounds.high.z
    kerf = piece.figure("kerf", SAW_THICK)
    if laid.waste.empty:
        return
    if (guide := guide_of(piece)) is not None:
        yield _led(laid, piece, guide, kerf)
    elif isinstance(marks, Level | Datum | Off) and (cut == "crosscut" or (cut == "saw-to-line" and laid.upright)):
        if laid.way(comes_off_at(marks)) != UP:
            at, side = waste_side(laid, "x")
            yield _saw(laid, square_plane(laid, "x", at, side), kerf)
    elif isinstance(marks, Shoulders) and laid.upright and cut == "saw-to-line":
        thin = min(marks.keeps, key=lambda lines: lines.far - lines.near)
        levels = [laid.pose.level(axis_of(thin.face), piece.inward(thin.face, gap)) for gap in (thin.near, thin.far)]
        plane = square_plane(laid, "x", max(laid.drawn("x", level) for level in levels), 1)
        yield _saw(laid, plane, kerf, stands_out=TENON_SAW)
    elif isinstance(marks, Line) and len(marks.points) == 2 and cut in ("crosscut", "saw-to-line"):
        plane = line_plane(laid, marks)
        if plane.up().z > 0.95:
            start, stop = (point_of(laid, marks, number) for number in (0, -1))
            half = hypot(stop.x - start.x, stop.y - start.y) / 2 if not laid.upright else None
            off = OFF_LINE if cut == "saw-to-line" else 0.0
            yield _saw(laid, CutPlane(plane.point(0.0, 0.0, off), plane.towards), kerf, half)
    elif (fence := fence_of(laid)) is not None:
        yield _plough(laid, fence)
    elif cut == "plane" and isinstance(marks, Level | Datum | Off) and laid.way(comes_off_at(marks)) == UP:
        yield _bench_plane(laid)
    elif isinstance(marks, Spots):
        radius = (piece.setting("bit") or piece.setting("clearance") or marks.diameter) / 2
        (one, first), (two, second) = marks.places[0]
        at_own = {axis_of(one): piece.inward(one, first), axis_of(two): piece.inward(two, second)}
        at_own[axis_of(marks.face)] = piece.level(marks.face)
        spot = laid.at(Point(at_own["x"], at_own["y"], at_own["z"]))
        bit = twist_bit(spot.x, spot.y, max(laid.cut.high.z, thick) + 10.0, radius, 50.0)
        yield Thing(bit, "tool", name=f"{mm(2 * radius)} mm bit")


def _saw(laid: Laid, plane: CutPlane, kerf: float, half: float | None = None, stands_out: float = SAW_HIGH) -> Thing:
    """The plate of a hand saw, part of the way down, at most so far out over the wood. The toe, away from the viewer, is narrower
    than the heel."""
    top = laid.bounds.high.z
    half = half if half is not None else laid.bounds.size("y") / 2
    teeth = max(top - min(0.55 * top, SAWN), laid.cut.low.z)
    beyond, over = min(SAW_LONG, 12.0 + half), min(stands_out, 10.0 + half / 2)
    heel, toe = (-half - beyond, top + over), (half + beyond / 2, top + over / 2)
    return Thing(plane.flat(((heel[0], teeth), heel, toe, (toe[0], teeth)), kerf), "tool", name="saw")


def _led(laid: Laid, piece: Subject, guide: Guide, kerf: float) -> Thing:
    """The saw or the knife beside its guide, near the viewer's end of a long line, held low."""
    at, side = waste_side(laid, "x")
    off = side * OFF_LINE if piece.task.cut == "saw-to-line" and not guide.over_board else 0.0
    plane = square_plane(laid, "x", at + off, side)
    top, half = laid.bounds.high.z, laid.bounds.size("y") / 2
    if guide.over_board:
        tip = -min(half, SAW_HALF)
        blade = plane.flat(((tip, 0.0), (tip - 5.0, top + 20.0), (tip - 12.0, top + 20.0)), kerf)
        grip = block(
            (at - KNIFE / 2, at + KNIFE / 2), (plane.at.y + tip - 70.0, plane.at.y + tip - 6.0), (top + 18.0, top + 30.0)
        )
        return Thing(joined((blade, grip)), "tool", name="knife")
    sawn = min(half, SAW_HALF)
    near = CutPlane(plane.point(sawn - half, 0.0), plane.towards)
    return _saw(laid, near, kerf, sawn, HELD_LOW)


def _plough(laid: Laid, fence: float) -> Thing:
    """A plough or rebate plane as its iron and its fence, which hangs down beside the near edge, with the arm between them."""
    (low, high), cut = laid.bounds.span("x"), laid.cut
    middle, front, top = low + PLANE_AT * (high - low), laid.bounds.low.y, laid.bounds.high.z
    near = front + fence if cut.low.y > front + 0.01 else front
    iron = block((middle - 4.0, middle + 4.0), (near, cut.high.y), (cut.low.z, top + 14.0))
    arm = block((middle - 4.0, middle + 4.0), (front - 6.0, cut.high.y), (top + 6.0, top + 14.0))
    guide = block((middle - 20.0, middle + 20.0), (front - 6.0, front), (-6.0, top + 4.0))
    foot = block((middle - 4.0, middle + 4.0), (front - 6.0, front), (0.0, top + 14.0))
    return Thing(joined((iron, arm, guide, foot)), "tool", name="plane")


def plane_span(laid: Laid) -> Span:
    """Where along the wood a bench plane stands."""
    low, high = laid.bounds.span("x")
    half = min(PLANE_LONG, 0.4 * (high - low)) / 2
    middle = low + PLANE_AT * (high - low)
    return middle - half, middle + half


def _bench_plane(laid: Laid) -> Thing:
    """A bench plane on the edge or face that is planed, its handle behind."""
    (start, stop), top = plane_span(laid), laid.bounds.high.z
    middle = sum(laid.bounds.span("y")) / 2
    body = block((start, stop), (middle - PLANE_WIDE / 2, middle + PLANE_WIDE / 2), (top, top + 12.0))
    handle = block((stop - 26.0, stop - 12.0), (middle - 6.0, middle + 6.0), (top + 12.0, top + 44.0))
    knob = upright(start + 16.0, middle, (top + 12.0, top + 28.0), 8.0)
    return Thing(joined((body, handle, knob)), "tool", name="plane")


def comes_off_at(marks: Level | Datum | Off) -> FaceName:
    """The face that comes off."""
    return opposite(marks.face) if isinstance(marks, Level) else marks.face
