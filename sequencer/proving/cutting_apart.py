"""What is looked at when parts are cut to length, off a long piece above all. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.frame import axis_of, opposite
from sequencer.model.marks import Layout, Level
from sequencer.model.plan import Task
from sequencer.model.proof import Looked
from sequencer.model.stock_lists import Strip
from sequencer.proving.cut_places import end_of, ends_part, measured_along
from sequencer.proving.cuts import FAR, Bite
from sequencer.proving.workpiece import Workpiece


def strip_lasts(piece: Workpiece, figures: Mapping[str, float]) -> Looked:
    """Whether a long piece gives all the parts it is to give, with the kerf of this saw between them."""
    number = piece.yields + len(piece.others)
    if number < 2:
        return Looked("there", True, "one part is cut from it")
    kerf = figures.get("kerf")
    if kerf is None:
        return Looked("setting", False, "the kerf of the saw is not known, and several parts come out of one piece")
    taken = piece.yields * piece.part.worked.length + sum(piece.others) + (number - 1) * kerf
    there = piece.size("x")
    says = f"{number} parts and the kerfs of {mm(kerf)} mm between them take {mm(taken)} of {mm(there)} mm"
    return Looked("there", taken <= there + 0.5, says)


def stands_at_an_end(layout: Layout, piece: Workpiece) -> Iterator[Looked]:
    """What is cut into several parts of one piece has its place by the lines of each: a stop at the end fits the first alone."""
    guides = (layout.lie.against, layout.lie.stop)
    if piece.long and piece.yields > 1 and measured_along(layout.marks) and any(face and axis_of(face) == "x" for face in guides):
        yield Looked("setting", False, "its place is set by a stop at the end, where only the first of its parts lies")


def stays_in_its_part(layout: Layout, piece: Workpiece, bite: Bite, strip: Strip | None) -> Iterator[Looked]:
    """What is cut into one of several parts of a stick keeps clear of its neighbours: no further than the room for the saw
    between them. What runs right along the stick, or parts it, is in all of them."""
    if strip is None or not piece.long or len(strip.pieces) < 2 or not measured_along(layout.marks):
        return
    gap = min(after.start - before.stop for before, after in zip(strip.pieces, strip.pieces[1:], strict=False))
    low, high = bite.cut.body.bounds.span("x")
    over = max(-low, high - piece.part.block.length, 0.0)
    far = "right on" if over > FAR / 2 else f"{mm(over)} mm"
    says = f"the cut runs {far} beyond its part on the stick, and the next part lies {mm(gap)} mm off"
    yield Looked("strip", over <= gap, says if over > 0 else "the cut stays within its part of the stick")


def _last_aslant(task: Task, layout: Layout, piece: Workpiece) -> bool:
    """Whether a mitre cuts a part off its long piece: the other end is made, so that the part is held by nothing else after."""
    end = end_of(layout.marks)
    return ends_part(task) and end is not None and opposite(end) in piece.made


def last_held(
    task: Task,
    layout: Layout,
    piece: Workpiece,
    figures: Mapping[str, float],
    machine: Mapping[str, float] | None,
    strip: Strip | None,
) -> Iterator[Looked]:
    """Sawn to length by hand, square or aslant, one side of the last cut must be long enough to hold: the part, or what stays
    behind it where the last part of the `strip` ends. At a machine this is looked at beside the blade."""
    square, aslant = task.cut == "crosscut" and task.kind in ("length", "separate"), _last_aslant(task, layout, piece)
    if machine is not None or not (square or aslant) or "shortest" not in figures:
        return
    kerf, least = figures.get("kerf", 0.0), figures["shortest"]
    part = layout.marks.distance if isinstance(layout.marks, Level) else piece.part.worked.length
    apart = strip is not None and (aslant or task.kind == "separate")
    rest = piece.size("x") - (strip.pieces[-1].stop - strip.trim if strip is not None and apart else part) - kerf
    which, there = ("the part", part) if part >= rest else ("what stays behind the last part", rest)
    says = f"{which} is held beside the cut, {mm(there)} mm; at least {mm(least)} mm is asked"
    yield Looked("remnant", there >= least - 0.5, says)
