"""The board or sheet that a piece is cut from, laid so that the part lies in it. mm."""

from __future__ import annotations

from collections.abc import Mapping

from sequencer.model.frame import AXES, FaceName, Hand, axis_of, face_at, mirrored
from sequencer.model.job import Job, Part
from sequencer.model.plan import Plan
from sequencer.model.shapes import Cone
from sequencer.model.stock_lists import Strip
from sequencer.planning.blanks import bought_length, end_trim
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box, shape_solid


def start_of(plan: Plan, job: Job, part: Part, hand: Hand | None) -> Workpiece:
    """The board or sheet a piece is cut from, laid so that the part lies in it."""
    stock = job.stock[part.stock]
    blank = next((line for line in plan.blanks if line.part == part.name), None)
    left_on: dict[FaceName, float] = {
        mirrored(each.face) if hand == "right" else each.face: each.amount for each in part.allowances
    }
    if stock.form == "bought" or blank is None:
        everything: frozenset[FaceName] = frozenset(("left", "right", "bottom", "top", "outside", "inside"))
        worked = part.worked
        body = box((0, 0, 0), (worked.length, worked.width, worked.thickness))
        return Workpiece(part, hand, body, everything, left_on, True)
    long = blank.yields > 1 or any(task.part == part.name and task.in_the_long for task in plan.tasks)
    spare, most = blank.length - part.worked.length, plan.bench.first_end_trim
    first = min(most, max(spare, 0.0)) if long else end_trim(spare, most)
    board = bought_length(stock, blank.length, plan.bench.unsaid_board)
    over = left_on.get("right" if hand == "right" else "left", 0.0) + first
    start = {
        "x": (-over, board),
        "y": (_offset(part, part.face_edge, left_on, blank.width, stock.surface == "sawn"), blank.width),
        "z": (_offset(part, part.face_side, left_on, blank.thickness, stock.surface == "sawn"), blank.thickness),
    }
    if hand == "right":
        # On the other hand the first end is the right one.
        start["x"] = (part.block.length + over - board, board)
    solid = box([start[axis][0] for axis in AXES], [sum(start[axis]) for axis in AXES])
    made: frozenset[FaceName] = frozenset()
    if part.section == "round":
        solid = _rod(part, start["x"])
        made = frozenset(("bottom", "top", "outside", "inside"))
    strip = strip_of(plan, part.name)
    others = tuple(each.length for each in strip.pieces if each.part != part.name) if strip is not None else ()
    return Workpiece(part, hand, solid, made, left_on, False, long, blank.length, blank.yields, others)


def strip_of(plan: Plan, part: str) -> Strip | None:
    """The strip that the pieces of a part come out of, if they come out of one."""
    return next((strip for strip in plan.strips if part in strip.parts), None)


def _rod(part: Part, along: tuple[float, float]) -> Solid:
    radius = part.thickness / 2
    return shape_solid(Cone("x", (part.width / 2, radius), along[0], along[0] + along[1], radius, radius))


def _offset(part: Part, face: FaceName, left_on: Mapping[FaceName, float], size: float, sawn: bool) -> float:
    """Where the stock starts along the axis of a true face: that face lies where the part's does, with what is left on there;
    sawn stock has wood on both sides."""
    axis = axis_of(face)
    low, spare = -left_on.get(face_at(axis, False), 0.0), size - part.worked.size(axis)
    if sawn and spare > 0:
        return low - spare / 2
    return low - spare if face == face_at(axis, True) else low
