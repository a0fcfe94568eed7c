"""What is looked at when parts are cut off a long piece. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.plan import Task
from sequencer.model.proof import Looked
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


def last_held(
    task: Task, piece: Workpiece, figures: Mapping[str, float], machine: Mapping[str, float] | None
) -> Iterator[Looked]:
    """Sawn by hand, the last piece that is cut off a long one must still be long enough to hold, with what stays behind it. At a
    machine this is looked at beside the blade."""
    if machine is not None or task.kind != "separate" or "shortest" not in figures:
        return
    kerf, least = figures.get("kerf", 0.0), figures["shortest"]
    taken = (piece.yields - 1) * (piece.part.worked.length + kerf) + sum(length + kerf for length in piece.others)
    there = piece.size("x") - taken
    says = f"the last part is cut off a piece of {mm(there)} mm; at least {mm(least)} mm is asked"
    yield Looked("remnant", there >= least - 0.5, says)
