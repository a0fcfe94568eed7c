"""The wood at a cut: what it takes away is there, and enough stays under it. mm, mm3."""

from __future__ import annotations

from sequencer.features.base import mm
from sequencer.model.frame import AXES, FACES, FaceName, axis_of, face_at, is_high, mirrored, opposite, sign_of
from sequencer.model.marks import Coped, Datum, Layout, Level, Off, Spots, Trough
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.model.shapes import Bounds
from sequencer.proving.cuts import Bite, Cut
from sequencer.proving.workpiece import FLAT, Workpiece
from sequencer.solid.solids import box

SOME_WOOD = 0.1
"""Share of a kerf that must find wood."""


def wood_looked(task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Looked:
    """What the cut takes away is there to be taken. What is cut when the parts are joined may find waste trimmed already."""
    block = piece.part.worked
    feature = piece.part.features.get(task.feature)
    late = feature is not None and feature.when == "assembled"
    over = {face: piece.left_on.get(face, 0.0) if late else _left_on(piece, face) for face in FACES}
    low, high = ([piece.part.block.level(face) + sign_of(face) * over[face] for face in faces] for faces in _SIDES)
    whole = box(low, high)
    if isinstance(layout.marks, Datum | Level | Off):
        taken = bite.taken
        if task.kind == "rough-length" and taken == 0:
            return Looked("there", True, "the board is the blank")
        return Looked("there", taken > 0, f"{taken:.0f} mm3 come off" if taken > 0 else "there is nothing to take off")
    # A piece that has its size lies within its block: then all that is removed counts.
    oversize = any(piece.size(axis) > block.size(axis) + FLAT for axis in AXES)
    taken = (bite.removed & whole).volume if oversize else bite.taken
    marks = layout.marks
    need = bench.hole_share if isinstance(marks, Spots) else bench.wood_share
    if isinstance(marks, Coped) or (isinstance(marks, Trough) and marks.width <= bench.hand_kerf):
        # A kerf is sawn through what there is, such as the cheeks of a tenon, and a cope through what moulding and mortise have
        # left of the edge; any wood will do.
        need = SOME_WOOD
    if taken >= need * _box_in(whole.bounds, bite.cut.body.bounds):
        return Looked("there", True, f"the wood it cuts is there, {taken:.0f} mm3")
    # What it would take is no square block, or is not all there: measured exactly.
    asked = (whole & bite.cut.body).volume
    share = taken / asked if asked else 0.0
    return Looked("there", share >= need, f"{share * 100:.0f} % of what it would cut is there, {taken:.0f} mm3")


_SIDES = tuple(tuple(face_at(axis, high) for axis in AXES) for high in (False, True))
"""The faces at the low and at the high end of each axis."""


def _left_on(piece: Workpiece, face: FaceName) -> float:
    """What is drawn to be left on at a face until later, on the hand of the piece."""
    drawn = mirrored(face) if piece.hand == "right" else face
    return sum(allowance.amount for allowance in piece.part.allowances if allowance.face == drawn)


def _box_in(whole: Bounds, cut: Bounds) -> float:
    """The volume two boxes share, mm3."""
    sizes = [min(whole.high[i], cut.high[i]) - max(whole.low[i], cut.low[i]) for i in range(3)]
    return max(sizes[0], 0.0) * max(sizes[1], 0.0) * max(sizes[2], 0.0)


def thickness_looked(piece: Workpiece, cut: Cut, bench: Bench) -> Looked:
    """What remains under a cut that does not go through."""
    assert cut.opened is not None
    assert cut.floor is not None
    axis = axis_of(cut.opened)
    far = piece.spans[axis][is_high(opposite(cut.opened))]
    left = (cut.floor - far) * sign_of(cut.opened)
    says = f"{mm(left)} mm of wood stay under it" if left > 0 else "it comes through on the other side"
    return Looked("thickness", left >= bench.least_under - 1e-6, says)
