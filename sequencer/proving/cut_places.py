"""Where a cut lies on its piece: the end it makes, its place along the piece, how far it runs. mm."""

from __future__ import annotations

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high
from sequencer.model.marks import (
    Coped,
    Datum,
    Edges,
    Layout,
    Level,
    Line,
    Marks,
    Moulded,
    Off,
    Profile,
    Shoulders,
    measured_faces,
)
from sequencer.model.plan import Task
from sequencer.proving.cuts import Bite, Span
from sequencer.proving.workpiece import Workpiece

CLOSE = 0.5
"""A piece is as long, wide or thick as the card says if it is so within this, mm: what a rule shows."""

SIZED = frozenset({"thickness", "width", "length", "separate", "first-end", "face-side", "face-edge", "rough-length"})


def ends_by_features(piece: Workpiece) -> bool:
    """Whether features make ends of the part."""
    return any(feature.ends_part() for feature in piece.part.features.values())


def ends_part(task: Task) -> bool:
    """Whether the task cuts a part off its long piece by the shape of its end."""
    return task.in_the_long and any(end_of(layout.marks) is not None for layout in task.layouts)


def runs_out(bite: Bite, piece: Workpiece, face: FaceName) -> bool:
    """Whether a cut is sawn in from an end: it starts at the outermost point there, which a mitre leaves, and a rule is laid on
    that."""
    if axis_of(face) != "x":
        return False
    (low, high), (start, stop) = piece.spans["x"], bite.cut.body.bounds.span("x")
    return stop >= high - CLOSE if is_high(face) else start <= low + CLOSE


def end_of(marks: Marks) -> FaceName | None:
    """The end that a line makes; None for marks that make none."""
    ends = marks.edges[:1] if isinstance(marks, Line) else ()
    return next((face for face in ends if axis_of(face) == "x"), None)


def extents(layout: Layout, piece: Workpiece, bite: Bite) -> dict[Axis, Span]:
    """Where a cut runs within the wood there is, by axis."""
    if bite.taken == 0:
        return dict(piece.spans)
    if isinstance(layout.marks, Line | Edges | Moulded | Coped | Shoulders | Profile):
        return {axis: bite.removed.bounds.span(axis) for axis in AXES}
    # A square cut or a hole lies in the box that it and the piece share: no solid need be worked out to know it.
    spans = {axis: _shared(piece.spans[axis], bite.cut.body.bounds.span(axis)) for axis in AXES}
    return dict(piece.spans) if any(low >= high for low, high in spans.values()) else spans


def _shared(one: Span, other: Span) -> Span:
    return max(one[0], other[0]), min(one[1], other[1])


def measured_along(marks: Marks) -> bool:
    """Whether a cut has its place along the piece, from an end: then that end must be there, on a longer stick too. What runs
    right along a stick, or makes the end itself, has none."""
    if end_of(marks) is not None or isinstance(marks, Datum | Level | Off | Profile):
        return False
    return any(axis_of(face) == "x" for face in measured_faces(marks))


def is_rod(task: Task, piece: Workpiece) -> bool:
    """Whether a piece is round all along, by its stock or made so while it was long: it has no flat face, and is looked at in its
    V (`grips_looked`)."""
    return piece.part.section == "round" or any(grip.shape == "round" and grip.face is None for grip in task.grips)


def first_end(layout: Layout) -> FaceName:
    """The end that is squared first, on the hand of the layout."""
    return "right" if layout.hand == "right" else "left"
