"""Whether a tool can get into its cut at all: a plane or a fenced cutter runs in at one end and out at the other, a blade comes
in from an edge. Seen from the wood that stands round the cut, not from what the drawing calls it. mm, mm3.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, axis_of, others
from sequencer.model.marks import Layout, Trough, Window, opened_face
from sequencer.model.plan import Task
from sequencer.model.proof import Looked
from sequencer.model.shapes import Bounds
from sequencer.proving.cut_places import CLOSE, extents
from sequencer.proving.cuts import FAR, OVER, Bite, Span, block_of
from sequencer.proving.workpiece import Workpiece

SPLINTER = 1.0
"""Wood in the way below this, mm3, is rounding."""


def getting_in_looked(task: Task, layout: Layout, piece: Workpiece, bite: Bite) -> Iterator[Looked]:
    """Whether the tool of a task that is not driven in gets into its channel or opening. What is cut along a line on the piece or
    round it has the waste side open."""
    if bite.taken == 0 or task.way_in == "anywhere" or "start-hole" in task.needs:
        return
    if isinstance(layout.marks, Trough):
        yield _along(layout.marks, extents(layout, piece, bite), piece, bite, sawn=task.way_in == "edge")
    elif isinstance(layout.marks, Window):
        yield _from_an_edge(layout, piece, bite)


def _along(marks: Trough, spans: Mapping[Axis, Span], piece: Workpiece, bite: Bite, sawn: bool) -> Looked:
    """Whether both ends of a channel are free, so that what is straight runs along it. What is `sawn` needs only one of them free
    where it goes right through from face to face: sockets are sawn in from an end."""
    depth = axis_of(marks.face)
    run = next(axis for axis in AXES if axis not in (depth, axis_of(marks.beside)))
    closed = _closed(spans, run, bite)
    if not closed:
        free = "the blade goes right through, its two ends free" if sawn else "the tool runs in at one end and out at the other"
        return Looked("approach", True, free)
    if sawn and len(closed) == 1 and not _closed(spans, depth, bite):
        return Looked("approach", True, "the blade goes right through from face to face and comes in from an end")
    low, high = piece.spans[run]
    left = [mm(spans[run][0] - low) if side == "low" else mm(high - spans[run][1]) for side in closed]
    where = "both ends" if len(closed) == 2 else "one end"
    what = "a blade is as long as its cut and more" if sawn else "the tool must run in and out there"
    return Looked("approach", False, f"it is closed at {where}: {' and '.join(left)} mm of wood stand before it, and {what}")


def _closed(spans: Mapping[Axis, Span], along: Axis, bite: Bite) -> list[str]:
    """The ends of a channel along an axis that have wood straight on from them."""
    low, high = spans[along]
    beyond = {"low": (low - FAR, low), "high": (high, high + FAR)}
    return [side for side, room in beyond.items() if (block_of({**spans, along: room}) & bite.left).volume > SPLINTER]


def _from_an_edge(layout: Layout, piece: Workpiece, bite: Bite) -> Looked:
    """Whether a blade that stands right through the piece comes from outside into every stretch of an opening."""
    face = opened_face(layout.marks)
    assert face is not None
    through = axis_of(face)
    pieces = [waste.bounds for waste in bite.removed.pieces() if waste.volume > SPLINTER]
    shut = [waste for waste in pieces if not _at_an_edge(piece, waste, through)]
    shut = [waste for waste in shut if not _reached(piece, bite, waste, through)] if shut else []
    if not shut:
        return Looked("approach", True, "the blade comes in from an edge")
    sizes = " x ".join(mm(shut[0].size(axis)) for axis in others(through))
    return Looked("approach", False, f"there is wood all round an opening of {sizes} mm: no blade comes in from an edge")


def _at_an_edge(piece: Workpiece, waste: Bounds, through: Axis) -> bool:
    """Whether waste reaches as far out as the piece does."""
    for axis in others(through):
        (low, high), (start, stop) = piece.spans[axis], waste.span(axis)
        if start <= low + CLOSE / 100 or stop >= high - CLOSE / 100:
            return True
    return False


def _reached(piece: Workpiece, bite: Bite, waste: Bounds, through: Axis) -> bool:
    """Whether the air round the piece goes on into the place of some waste, by way of what was cut before."""
    spans: dict[Axis, Span] = {axis: (low - OVER, high + OVER) for axis, (low, high) in piece.spans.items()}
    spans[through] = piece.spans[through]
    outside = {axis: spans[axis][0] + CLOSE for axis in others(through)}
    for air in (block_of(spans) - bite.left).pieces():
        box = air.bounds
        if any(box.span(axis)[0] < level for axis, level in outside.items()):
            return (air & block_of({axis: waste.span(axis) for axis in AXES})).volume > SPLINTER
    return False
