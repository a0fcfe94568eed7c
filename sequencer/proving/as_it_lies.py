"""How a piece lies for its cut: what it rests on, what grips it, whether its marks look up."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from sequencer.model.frame import AXES, AXIS_WORDS, FACES, Axis, FaceName, axis_of, face_at, mirrored, opposite, others
from sequencer.model.marks import Datum, Layout, Level, Line, Off, Profile, Shoulders, Trough
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.cradle import lies_in_cradle
from sequencer.proving.cut_places import SIZED, extents
from sequencer.proving.cuts import Bite, Cut
from sequencer.proving.workpiece import Workpiece


def lies_looked(task: Task, layout: Layout, piece: Workpiece, cut: Cut, bench: Bench) -> Iterator[Looked]:
    """It rests on the face that is down, and there are two faces to grip it by. What the holding of the step makes good counts as
    whole."""
    lie = layout.lie
    packed = {mirrored(face) if layout.hand == "right" else face for face in task.packed}
    down = piece.surfaces[lie.down]
    longest = max(others(axis_of(lie.down)), key=piece.size)
    share = 1.0 if lie.down in packed else down.reach(longest) / piece.size(longest)
    grip = _grip(piece, axis_of(lie.down), bench.vice_opens, packed)
    # By hand, along a line, a piece may stand in the vice, whatever is left of the face below.
    held = grip >= bench.face_share
    in_vice = share < bench.face_share and held and cut.opened is None and lie.tool == "above"
    says = f"it rests on the {lie.down} face over {share * 100:.0f} % of its {AXIS_WORDS[longest]}"
    if lie.down in packed:
        says = f"the {lie.down} face, on which it rests, is packed"
    yield Looked("lies", in_vice or share >= bench.face_share, "it stands in the vice" if in_vice else says)
    if lie.tool in ("below", "fence") or task.kind in SIZED or (cut.opened is None and lie.tool == "beside"):
        return
    says = f"it can be gripped by two faces over {grip * 100:.0f} % of their length"
    beside = sorted(face for face in packed if face != lie.down)
    yield Looked("held", held, f"{says}, packed at the {' and '.join(beside)}" if beside else says)


def grips_looked(
    task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench, holding: frozenset[str], *, by_hand: bool
) -> Iterator[Looked]:
    """Round stock, and what a shape has taken, is held by something that the card names; what is round really lies in its V. A
    hand with abrasive paper turns a rod as it likes, and a lathe turns it."""
    sanded = task.cut == "sand" and by_hand
    if piece.part.section == "round" and not sanded and not any(grip.shape == "round" for grip in task.grips):
        yield Looked("held", False, "its stock is round, and nothing keeps it from rolling")
    missing = [f"{grip.by or 'what holds it'} ({grip.shape})" for grip in task.grips if grip.by not in holding]
    if missing:
        yield Looked("held", False, f"the card does not name the {' and the '.join(missing)}, by which it is held")
    if bite.taken and task.cut != "turn" and any(grip.shape == "round" for grip in task.grips):
        span = extents(layout, piece, bite)["x"]
        through = isinstance(layout.marks, Datum | Level | Off) or task.kind == "rough-length"
        yield lies_in_cradle(piece, layout.lie.down, span, through, bench.v_length, bench.face_share)


def _grip(piece: Workpiece, depth: Axis, opens: float, packed: Collection[FaceName]) -> float:
    """The share of their length over which the better of the two pairs of faces beside an axis can be gripped; a packed face all
    along. What is larger than a vice opens is cramped down flat."""
    pairs = [axis for axis in others(depth) if piece.size(axis) <= opens]
    best = 0.0 if pairs else 1.0
    for axis in pairs:
        run = next(other for other in AXES if other not in (axis, depth))
        pair = (face_at(axis, False), face_at(axis, True))
        whole = (1.0 if face in packed else piece.surfaces[face].covered(run, *piece.spans[run]) for face in pair)
        best = max(best, min(whole))
    return best


def marks_looked(task: Task, layout: Layout, piece: Workpiece) -> Looked:
    """The line is there, on a face that looks at whoever cuts."""
    if not piece.marked:
        return Looked("marks", False, "it has not been marked out")
    marks, lie = layout.marks, layout.lie
    if lie.tool not in ("below", "fence") and not isinstance(marks, Shoulders | Profile):
        up = opposite(lie.down)
        seen = {layout.marked, *(marks.edges if isinstance(marks, Line) else ())}
        if isinstance(marks, Trough) and lie.tool == "beside":
            # What a blade saws right through is marked on the faces it comes out at.
            stopped = {face for face, gap in marks.stops if gap}
            seen |= {face for face in FACES if axis_of(face) not in (axis_of(marks.face), axis_of(marks.beside))} - stopped
        if up not in seen:
            return Looked("marks", False, f"its marks are on the {layout.marked} face, and the {up} face looks up")
    return Looked("marks", True, "it is marked, and the marks look up")
