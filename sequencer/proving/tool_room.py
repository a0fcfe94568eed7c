"""Whether a tool, a blade or a hand comes to its work past the wood that is there. mm, mm3."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.features.base import mm
from sequencer.model.frame import FACES, Axis, FaceName, axis_of, is_high, others, sign_of
from sequencer.model.marks import Edges, Layout, Moulded, Off, Spots, opened_face
from sequencer.model.plan import Bench
from sequencer.model.proof import Looked
from sequencer.proving.cut_places import CLOSE, extents
from sequencer.proving.cuts import Bite, Cut, Span, block_of
from sequencer.proving.workpiece import FLAT, Workpiece
from sequencer.solid.solids import Solid


def threading_looked(layout: Layout, piece: Workpiece, cut: Cut) -> Looked:
    """Whether the waste of an opening has a hole right through that the blade can be threaded through."""
    axis = axis_of(opened_face(layout.marks) or layout.lie.down)
    low, high = piece.spans[axis]
    gone = (cut.body & block_of(piece.spans)) - piece.body
    for hole in gone.pieces():
        box = hole.bounds
        if box.span(axis)[0] <= low + CLOSE and box.span(axis)[1] >= high - CLOSE:
            wide = min(box.size(each) for each in others(axis))
            return Looked("approach", True, f"the blade goes through a hole of {mm(wide)} mm in the waste")
    return Looked("approach", False, "the waste has no hole that the blade can be threaded through")


def approach_looked(layout: Layout, piece: Workpiece, bite: Bite, obstacles: Sequence[Solid], bench: Bench) -> Looked:
    """Whether the tool comes to its work past the pieces joined on."""
    for room in _rooms(layout, piece, bite, bench):
        for other in obstacles:
            blocked = (room & other).volume
            if blocked > 1.0:
                says = f"a piece that is joined on stands in the way of the tool ({blocked:.0f} mm3 of it)"
                return Looked("approach", False, says)
    return Looked("approach", True, "the tool has room")


def _rooms(layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Iterator[Solid]:
    """The room a tool takes: above the face it works; beyond an end that is taken off, with some beside it; in front of an edge
    that is broken; all round a line that is sawn."""
    marks, cut, room = layout.marks, bite.cut, bench.tool_room
    if bite.taken == 0:
        return
    spans = extents(layout, piece, bite)
    if isinstance(marks, Off):
        beside: dict[Axis, Span] = {axis: (low - room / 2, high + room / 2) for axis, (low, high) in spans.items()}
        # What is flush with the line that is cut to stands beside the tool, not in its way.
        yield block_of(beside | {axis_of(marks.face): _outward(piece, marks.face, room, marks.amount - FLAT)})
    elif isinstance(marks, Edges | Moulded):
        for edge in marks.edges:
            yield block_of(spans | {axis_of(face): _outward(piece, face, room) for face in edge})
    elif cut.opened is not None:
        yield block_of(spans | {axis_of(cut.opened): _outward(piece, cut.opened, room)})
        if isinstance(marks, Spots):
            # The chuck is wider than the bit, and follows it down.
            chuck = bench.chuck_radius
            wide: dict[Axis, Span] = {axis: (low - chuck, high + chuck) for axis, (low, high) in spans.items()}
            above = _outward(piece, cut.opened, room, -bench.bit_out)
            yield block_of(wide | {axis_of(cut.opened): above})
    else:
        yield block_of({axis: (low - room, high + room) for axis, (low, high) in spans.items()})


def _outward(piece: Workpiece, face: FaceName, room: float, inside: float = 0.0) -> Span:
    """The room in front of a face, `room` mm from a little inside it if asked."""
    level = piece.spans[axis_of(face)][is_high(face)]
    ends = (level - sign_of(face) * inside, level + sign_of(face) * (room - inside))
    return min(ends), max(ends)


def reach_all_faces(piece: Workpiece, obstacles: Sequence[Solid], hand_room: float) -> Looked:
    """Whether a hand with an abrasive block comes to every face of a piece."""
    for face in FACES:
        axis = axis_of(face)
        spans = dict(piece.spans)
        top = spans[axis][is_high(face)]
        spans[axis] = (top + 0.1, top + hand_room) if is_high(face) else (top - hand_room, top - 0.1)
        room = block_of(spans)
        for other in obstacles:
            if (room & other).volume > 1.0:
                return Looked("approach", False, f"a piece that is joined on stands over its {face} face")
    return Looked("approach", True, "every face can be reached")
