"""The set-up at the lathe: a stick between its centres, the rest in front of it just below the middle. mm."""

from __future__ import annotations

from math import hypot

from sequencer.design.poses import Direction
from sequencer.model.frame import FaceName, Point, axis_of
from sequencer.model.marks import Profile
from sequencer.model.shapes import Cone
from sequencer.paper.scene import Arrow, Scene, Thing
from sequencer.paper.set_ups.bodies import FAR, block
from sequencer.paper.set_ups.framing import room_for, scene_of
from sequencer.paper.set_ups.lying import FRONT, LEFT, lay
from sequencer.paper.set_ups.sizing import sizes_of
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, shape_solid

CENTRE_LONG, CENTRE_RADIUS = 16.0, 8.0
"""Of the centres at both ends; only for the drawing, as are the sizes of stocks, bed and rest."""
STOCK_LONG, STOCK_HIGH = 34.0, 26.0
REST_OFF, REST_BELOW, REST_WIDE = 3.0, 3.0, 10.0
"""How far the rest stands off the corners of the square and below the middle, as its card says."""
CLEAR = 24.0
"""Between the wood and the bed."""
SHOWN = 130.0


def lathe(piece: Subject) -> Scene:
    """The stick between headstock and tailstock; its right-hand half is round already, the rest of its waste hatched."""
    edge = piece.face_edge
    ways: dict[FaceName, Direction] = {"left": LEFT}
    if edge is not None and axis_of(edge) != "x":
        ways[edge] = FRONT
    laid = lay(piece, ways)
    laid = laid.moved(x=-laid.real("x")[0], z=CLEAR + STOCK_HIGH - laid.real("z")[1] / 2)
    low, high = laid.real("x")
    if not _stepped(piece):
        laid = laid.shortened("x", [(low, low + SHOWN), (high - SHOWN / 2, high)])
    bounds = laid.bounds
    middle = Point(0.0, (bounds.low.y + bounds.high.y) / 2, (bounds.low.z + bounds.high.z) / 2)
    left, right = bounds.low.x, bounds.high.x
    beside = (middle.y - STOCK_HIGH, middle.y + STOCK_HIGH)
    tall = (0.0, middle.z + STOCK_HIGH)
    head = block((left - CENTRE_LONG - STOCK_LONG, left - CENTRE_LONG), beside, tall)
    tail = block((right + CENTRE_LONG, right + CENTRE_LONG + STOCK_LONG), beside, tall)
    off = bounds.low.y - _corner_out(laid.bounds.size("y"), laid.bounds.size("z")) - REST_OFF
    along = (left + 0.15 * (right - left), right - 0.15 * (right - left))
    top = middle.z - REST_BELOW
    foot = (along[0] + along[1]) / 2
    rest = block(along, (off - REST_WIDE, off), (top - 12.0, top)) + block(
        (foot - 8.0, foot + 8.0), (off - REST_WIDE, off), (0.0, top)
    )
    x = (left - CENTRE_LONG - STOCK_LONG - 15.0, right + CENTRE_LONG + STOCK_LONG + 15.0)
    around = [
        Thing(head + _centre(left, middle, -1), "tool", name="drive centre"),
        Thing(tail + _centre(right, middle, 1), "tool", name="tail centre"),
        Thing(rest, "tool", name="rest"),
        Thing(block(x, (off - REST_WIDE - 10.0, room_for(laid, "y", 20.0)[1]), (-10.0, 0.0)), "table"),
    ]
    over = Point(left + 10.0, middle.y + 12.0, bounds.high.z + 12.0)
    turn = Arrow(over, Point(over.x, bounds.low.y - 10.0, over.z), "", True)
    gone = block(((left + right) / 2, FAR), (-FAR, FAR), (-FAR, FAR))
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=(turn,), gone=gone)


def _stepped(piece: Subject) -> bool:
    """Whether its outline is more than one straight line, so that all of it must be seen."""
    return isinstance(piece.marks, Profile) and len({across for _, across in piece.marks.stations}) > 1


def _corner_out(wide: float, thick: float) -> float:
    """How far a corner of the turning square comes out beyond its face."""
    return (hypot(wide, thick) - wide) / 2


def _centre(at: float, middle: Point, way: int) -> Solid:
    """A centre whose point stands in the end of the wood."""
    start, stop = sorted((at, at + way * CENTRE_LONG))
    radii = (CENTRE_RADIUS, 0.5) if way < 0 else (0.5, CENTRE_RADIUS)
    return shape_solid(Cone("x", (middle.y, middle.z), start, stop, *radii))
