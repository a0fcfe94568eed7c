"""Whether the faces that a cut is measured and worked from are true, and there along it."""

from __future__ import annotations

from sequencer.model.frame import Axis, FaceName, axis_of, others
from sequencer.model.marks import (
    Coped,
    Datum,
    Edges,
    Layout,
    Level,
    Marks,
    Moulded,
    Off,
    Profile,
    Shoulders,
    Spots,
    measured_faces,
    opened_face,
)
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.cut_places import end_of, extents, first_end, is_rod, measured_along, runs_out
from sequencer.proving.cuts import Bite, Span, spot_at
from sequencer.proving.workpiece import Workpiece

_WORKED_FROM = "it is worked from"


def faces_looked(task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Looked:
    """The faces it is measured from, and those its operation needs, are true and there along the cut; the one it opens is level
    enough to press it down by."""
    marks = layout.marks
    wanted: dict[FaceName, str] = {}
    if not isinstance(marks, Datum):
        for face in measured_faces(marks):
            wanted[face] = "it is measured from"
    if task.kind == "rough-length" or isinstance(marks, Off):
        return Looked("reference", True, "it is only cut over size")
    needed: dict[str, FaceName] = {
        "face-side": piece.part.face_side,
        "face-edge": piece.part.face_edge,
        "first-end": first_end(layout),
    }
    for guide, says in ((layout.lie.against, "lies against the fence"), (layout.lie.stop, "stands against the stop")):
        if guide is not None and not (isinstance(marks, Datum) and axis_of(guide) == axis_of(marks.face) == "x"):
            wanted.setdefault(guide, says)
    for name in task.needs:
        needs = needed.get(name)
        if needs is not None and not (isinstance(marks, Datum) and marks.face == needs):
            wanted.setdefault(needs, _WORKED_FROM)
    ends = end_of(marks)
    along = task.in_the_long and not measured_along(marks)
    free = {face for face in wanted if axis_of(face) == "x" and (along or face == ends)} | piece.laid_out
    spans = extents(layout, piece, bite)
    for face in wanted:
        if face in free:
            continue
        if face not in piece.made:
            return Looked("reference", False, f"the {face} face, which {wanted[face]}, is not true yet")
        if is_rod(task, piece) and axis_of(face) != "x":
            # A rod has no flat face: it lies in a cradle and is measured from its middle.
            continue
        anywhere = face == opened_face(marks) or wanted[face] == _WORKED_FROM or ends is not None
        anywhere = anywhere or runs_out(bite, piece, face)
        anywhere = anywhere or isinstance(marks, Datum | Level | Shoulders | Edges | Moulded | Coped | Profile)
        share = 1.0 if anywhere else _share_along(piece, face, spans, marks)
        if share < bench.fence_share:
            return Looked(
                "reference",
                False,
                f"of the {face} face, which {wanted[face]}, only {share * 100:.0f} % is left along the cut",
            )
        longest = max(others(axis_of(face)), key=piece.size)
        left = piece.surfaces[face].reach(longest) / piece.size(longest)
        if left < bench.face_share and ends is None and axis_of(face) != "x":
            if face == opened_face(marks):
                # Its depth is measured at its mouth; what is missing is a level face to press it down by.
                says = (
                    f"only {left * 100:.0f} % of the {face} face is left to press it down level by; "
                    f"{bench.face_share * 100:.0f} % is needed, or it rocks"
                )
                return Looked("held", False, says)
            return Looked("reference", False, f"of the {face} face, which {wanted[face]}, only {left * 100:.0f} % is still true")
    says = f"measured from {' and '.join(wanted)}, true along the cut" if wanted else "this cut makes a true face"
    return Looked("reference", True, says)


def _share_along(piece: Workpiece, face: FaceName, spans: dict[Axis, Span], marks: Marks) -> float:
    """How much of a face is there along a cut: over the axis of the face that the cut is longest on, but not into the wood
    from the face it is set out on."""
    surface = piece.surfaces[face]
    if surface.area <= 0:
        return 0.0
    if axis_of(face) == "x":
        # A rule is hooked over an end: any of it will do.
        return 1.0
    opened = opened_face(marks)
    over = [axis for axis in others(axis_of(face)) if opened is None or axis != axis_of(opened)]
    run = max(over, key=lambda axis: spans[axis][1] - spans[axis][0])
    if isinstance(marks, Spots):
        # Each hole is measured by itself, whatever is cut between them.
        centres, half = (spot_at(piece, place)[run] for place in marks.places), marks.diameter / 2
        return min(surface.covered(run, centre - half, centre + half) for centre in centres)
    return surface.covered(run, *spans[run])
