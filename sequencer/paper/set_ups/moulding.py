"""Set-ups at the spindle moulder and with a router held in the hands: block, guide and wood as they stand to each other. mm."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from sequencer.design.poses import Direction
from sequencer.features.base import mm
from sequencer.model.frame import FaceName, Point, axis_of
from sequencer.model.marks import Edges, Trough
from sequencer.model.shapes import Turned
from sequencer.paper.scene import Arrow, Scene, Size, Thing
from sequencer.paper.set_ups.bodies import block, round_cutter, table, upright
from sequencer.paper.set_ups.framing import ON_IT, room_for, scene_of
from sequencer.paper.set_ups.lying import BACK, DOWN, FRONT, LEFT, RIGHT, Laid, lay
from sequencer.paper.set_ups.sizing import sizes_of, unit
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, shape_solid

RADIUS = 40.0
"""Of a cutter block; only for the drawing."""
FENCE, FENCE_HIGH = 25.0, 45.0
SHOWN = 130.0
CLEAR = 3.0
"""Room the false fence leaves about the cutters; only for the drawing."""
GUIDE, BATTEN, THICK = 14.0, 60.0, 18.0
"""Thickness of an edge guide, width and thickness of a batten."""
BEARING = 13.0
"""Diameter of the bearing of a profile cutter."""
TEMPLATE, RIM = 12.0, 22.0
"""Thickness of a template, and how much of it is drawn round its window, mm."""
COLLET = 22.0
"""How far cutter and collet are drawn over the wood."""


def spindle_moulder(piece: Subject) -> Scene:
    """The fence behind with the block in its gap, the wood fed from right to left, its front end just at the cutters."""
    lie, marks = piece.lie, piece.marks
    ways = {lie.down: DOWN} | ({lie.against: BACK} if lie.against else {})
    laid = lay(piece, ways).touching(BACK, 0.0)
    laid = laid.moved(x=-laid.real("x")[0] - 10.0)
    low, top = 0.0, piece.setting("height") or laid.real_cut("z")[1]
    if isinstance(marks, Edges):
        out = top
        body = _shape(marks, 0.0, RADIUS - out, RADIUS - out, top)
    else:
        out = piece.setting("fence") or piece.setting("depth") or -laid.real_cut("y")[0]
        low = piece.setting("distance") or 0.0
        body = upright(0.0, RADIUS - out, (low, top), RADIUS)
    wide = laid.real("y")[1] - laid.real("y")[0]
    start = laid.real("x")[0]
    laid = laid.shortened("x", [(start, start + max(SHOWN, 1.3 * wide))], 0.0)
    half = sqrt(RADIUS**2 - (RADIUS - out) ** 2) + CLEAR
    x, y = room_for(laid, "x", 20.0), laid.bounds.span("y")
    x = (min(x[0], -half - 25.0), x[1])
    gap = block((-half, half), (-1.0, FENCE + 1.0), (low - CLEAR if low else -1.0, top + CLEAR))
    high = max(FENCE_HIGH, laid.bounds.high.z + 8.0)
    around = [
        Thing(body, "tool", name="cutter", through=True),
        Thing(block(x, (0.0, FENCE), (0.0, high)) - gap, "tool", name="fence"),
        table(x, (y[0] - 25.0, FENCE + 10.0)),
    ]
    sizes = [
        Size(Point(x[0], 0.0, 0.0), Point(x[0], -out, 0.0), mm(out), unit(LEFT)),
        Size(Point(-half, -out, 0.0), Point(-half, -out, low or top), mm(low or top), unit(LEFT)),
    ]
    return scene_of(laid, around, sizes=sizes, arrows=(_feed_left(laid),))


def _shape(marks: Edges, x: float, y: float, bearing: float, reach: float) -> Solid:
    """A cutter that takes off an edge, standing on the table, wide below."""
    if marks.rounded:
        return round_cutter(x, y, bearing, reach)
    return upright(x, y, (0.0, reach), bearing + reach, bearing)


def _feed_left(laid: Laid) -> Arrow:
    """The feed along the top of the wood, from right to left."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    across, top = front + 0.3 * (back - front), laid.bounds.high.z + ON_IT
    return Arrow(Point(high - 12.0, across, top), Point(high - min(75.0, 0.6 * (high - low)), across, top), "", True)


def _feed_right(laid: Laid, at: float) -> Arrow:
    """The way a router goes, from left to right, beside its cut and past its cutter at a place along that."""
    (front, back), cut = laid.bounds.span("y"), laid.cut
    across = cut.low.y - 10.0 if cut.low.y - 10.0 > front + 5.0 else front + 0.45 * (back - front)
    top, long = laid.bounds.high.z + ON_IT, min(50.0, 0.5 * laid.bounds.size("x"))
    return Arrow(Point(at - long / 2, across, top), Point(at + long / 2, across, top), "", True)


def hand_held_router(piece: Subject) -> Scene:
    """The wood cramped flat, the guided edge in front or the batten behind; of the router its cutter, which goes to the right."""
    lie, marks = piece.lie, piece.marks
    batten = piece.setting("batten")
    laid = lay(piece, {lie.down: DOWN} | _front(piece), across="x" if marks is None or isinstance(marks, Edges) else None)
    cut, top = laid.cut, laid.bounds.high.z
    low, high = laid.real("x")
    if laid.real_cut("x") == (low, high):
        wide = laid.real("y")[1] - laid.real("y")[0]
        laid = laid.shortened("x", [(low, low + max(SHOWN, 1.3 * wide))], 0.0)
        cut = laid.cut
    at = cut.low.x + 0.6 * cut.size("x")
    around: list[Thing] = []
    cutter = piece.setting("cutter") or piece.setting("chisel") or cut.size("y")
    middle = cut.high.y - cutter / 2
    if isinstance(marks, Edges):
        front = laid.bounds.low.y
        around.append(Thing(_hung(marks, at, front - BEARING / 2, top), "tool", name="cutter"))
    else:
        if piece.task.kind == "rebate":
            middle = cut.high.y - (piece.setting("tool") or 2 * cut.size("y")) / 2
            cutter = 2 * (cut.high.y - middle)
        tool = upright(at, middle, (cut.low.z, top + COLLET), cutter / 2)
        around.append(Thing(tool, "tool", name="cutter"))
    x = laid.bounds.span("x")
    front, back = laid.bounds.span("y")
    sizes = list(sizes_of(laid))
    outside = piece.setting("template")
    if outside is not None:
        bush = upright(at, middle, (top, top + TEMPLATE + 2.0), (piece.setting("bush") or cutter) / 2)
        around += [Thing(bush, "tool", name="guide bush"), Thing(_window_in(laid, outside), "tool", name="template")]
    if batten is not None:
        start = front + batten
        around.append(
            Thing(block((x[0] - 15.0, x[1] + 15.0), (start, start + BATTEN), (top, top + THICK)), "tool", name="batten")
        )
        sizes.append(Size(Point(x[1], front, top), Point(x[1], start, top), mm(batten), unit(RIGHT)))
    elif not isinstance(marks, Edges) and lie.against is not None:
        around.append(
            Thing(block((at - 45.0, at + 45.0), (front - GUIDE, front), (top - 0.7 * top, top)), "tool", name="edge guide")
        )
    around.append(table(room_for(laid, "x", 20.0), (front - 10.0, back + 30.0)))
    arrow = _feed_right(laid, at)
    if outside is not None:
        # Clockwise round a window: to the right on its far side.
        arrow = replace(arrow, start=_beyond_window(laid, arrow.start, outside), stop=_beyond_window(laid, arrow.stop, outside))
    return scene_of(laid, around, sizes=sizes, arrows=(arrow,))


def _window_in(laid: Laid, outside: float) -> Solid:
    """The part of a template next to its window, which stands outside the lines of the cut."""
    cut, top = laid.cut, laid.bounds.high.z
    x, y = ((span[0] - outside, span[1] + outside) for span in (cut.span("x"), cut.span("y")))
    rim = block((x[0] - RIM, x[1] + RIM), (y[0] - RIM, y[1] + RIM), (top, top + TEMPLATE))
    return rim - block(x, y, (top - 1.0, top + TEMPLATE + 1.0))


def _beyond_window(laid: Laid, point: Point, outside: float) -> Point:
    """The place beside a point that lies on the template, beyond its window."""
    return point._replace(x=point.x - 45.0, y=laid.cut.high.y + outside + RIM / 2, z=laid.bounds.high.z + TEMPLATE + ON_IT)


def _hung(marks: Edges, x: float, y: float, top: float) -> Solid:
    """A cutter with its bearing under it, hung from a router so that it is widest at the upper face of the wood."""
    bearing, reach = BEARING / 2, marks.reach
    downs = [reach * (1 - step / 8) for step in range(9)]
    inward = [reach - sqrt(reach**2 - (reach - down) ** 2) if marks.rounded else reach - down for down in downs]
    sides = tuple((top - down, bearing + width) for down, width in zip(downs, inward, strict=True))
    profile = ((top - reach - 6.0, bearing), *sides, (top + 2.0, bearing), (top + COLLET, bearing))
    return shape_solid(Turned("z", (x, y), profile))


def _front(piece: Subject) -> dict[FaceName, Direction]:
    """The face towards the viewer: the guided edge, the face a batten is measured from, the edge that is taken off."""
    lie, marks = piece.lie, piece.marks
    if lie.against is not None:
        return {lie.against: FRONT}
    if isinstance(marks, Trough):
        return {marks.beside: FRONT}
    if isinstance(marks, Edges):
        side = next((face for face in marks.edges[0] if axis_of(face) != axis_of(lie.down)), None)
        return {} if side is None else {side: FRONT}
    return {}
