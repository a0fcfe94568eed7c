"""Whether the base of a cutter that is plunged in stands on wood and against something, so that it does not tip. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high, sign_of
from sequencer.model.marks import Marks, Plunges, Window
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.model.shapes import Bounds
from sequencer.proving.cuts import Cut, Span, block_of
from sequencer.proving.workpiece import Workpiece

SKIN = 0.5
"""How deep below a face wood is looked for that something stands on, mm."""
BATTEN = "batten-width"
FIGURES = ("fence-reach", BATTEN, "base-rim")
"""What the card of such a machine says."""


def base_stands(task: Task, marks: Marks, cut: Cut, piece: Workpiece, figures: Mapping[str, float], bench: Bench) -> list[Looked]:
    """A slot cutter's base: it is pressed to wood on both sides of each slot, and stands against a batten that lies on the
    piece, or its fence rests on a face that is near enough."""
    if cut.opened is None or not isinstance(marks, Plunges | Window) or "fence-reach" not in figures:
        return []
    missing = [name for name in FIGURES if name not in figures]
    if missing:
        return [Looked("held", False, f"the card of the station does not say its {missing[0]}")]
    return list(_looked(task, marks, cut, piece, figures, bench))


def _looked(
    task: Task, marks: Plunges | Window, cut: Cut, piece: Workpiece, figures: Mapping[str, float], bench: Bench
) -> Iterator[Looked]:
    assert cut.opened is not None
    across = _across(marks, cut.opened)
    guide = _guide(marks, across)
    if guide is None:
        yield Looked("held", False, "nothing says which face the base is guided from")
        return
    rim = figures["base-rim"]
    slots = [slot.bounds for slot in cut.body.pieces()]
    for slot in slots:
        runs = {axis: slot.span(axis) for axis in AXES if axis not in (axis_of(cut.opened), across)}
        low, high = slot.span(across)
        share = min(_on_wood(piece, cut.opened, runs | {across: beside}) for beside in ((low - rim, low), (high, high + rim)))
        if share < bench.fence_share:
            says = f"beside a slot the base bears on wood along {share * 100:.0f} % of it only, and tips"
            yield Looked("held", False, says)
            return
    along = {axis: _all_along(axis, slots) for axis in AXES if axis not in (axis_of(cut.opened), across)}
    batten = next((setting.value for setting in task.settings if setting.name == "batten" and setting.value), None)
    if batten is None:
        level, inward = piece.level(guide), -sign_of(guide)
        near = max(min((edge - level) * inward for edge in slot.span(across)) for slot in slots)
        says = f"the base is guided from the {guide} face, {mm(near)} mm from the cutter"
        fits = near <= figures["fence-reach"]
        yield Looked("held", fits, says if fits else f"{says}, where no fence reaches and no batten stands: it tips")
        return
    share = _on_wood(piece, cut.opened, along | {across: piece.inside(guide, batten - figures[BATTEN], batten)})
    says = f"the batten lies on wood over {share * 100:.0f} % of the stretch that the base stands against"
    yield Looked("held", share >= bench.fence_share, says)


def _across(marks: Plunges | Window, opened: FaceName) -> Axis:
    """The axis across the slots, in the face they are cut in."""
    if isinstance(marks, Plunges):
        return next(axis for axis in AXES if axis not in (axis_of(opened), marks.along))
    narrow = min(marks.sides, key=lambda lines: lines.far - lines.near)
    return axis_of(narrow.face)


def _guide(marks: Plunges | Window, across: Axis) -> FaceName | None:
    """The face that the place across is measured from."""
    if isinstance(marks, Window):
        return next(lines.face for lines in marks.sides if axis_of(lines.face) == across)
    return next((face for face, _ in marks.places[0] if axis_of(face) == across), None)


def _all_along(axis: Axis, slots: list[Bounds]) -> Span:
    return min(slot.span(axis)[0] for slot in slots), max(slot.span(axis)[1] for slot in slots)


def _on_wood(piece: Workpiece, face: FaceName, spans: Mapping[Axis, Span]) -> float:
    """The share of a stretch of a face, as spans of its two axes, under which there is wood."""
    level = piece.spans[axis_of(face)][is_high(face)]
    deep = sorted((level, level - sign_of(face) * SKIN))
    stretch = block_of({**spans, axis_of(face): (deep[0], deep[1])})
    return (stretch & piece.body).volume / stretch.volume if stretch.volume > 0 else 0.0
