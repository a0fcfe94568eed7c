"""The size of a piece against what its card says and what a machine can hold. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.frame import AXES, AXIS_WORDS, Axis
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.cut_places import CLOSE, SIZED, ends_by_features, ends_part
from sequencer.proving.workpiece import Workpiece

Figures = Mapping[str, float]
"""A station's own figures by name."""


def piece_looked(task: Task, piece: Workpiece, bench: Bench, figures: Figures | None = None) -> Looked:
    """The piece against what the card says it is, and against what a machine can hold; `figures`: the machine's own."""
    if task.piece is None:
        return Looked("piece", False, "the card does not say how large the piece is")
    asked = dict(zip(AXES, task.piece, strict=True))
    actual = {axis: piece.size(axis) for axis in AXES}
    wrong = [*_unlike(task, piece, asked, actual, bench), *_too_small(actual, figures)]
    size = " x ".join(mm(actual[axis]) for axis in AXES)
    if wrong:
        return Looked("piece", False, f"the piece is {'; '.join(wrong)}")
    return Looked("piece", True, f"{size} mm; the card has {' x '.join(mm(asked[axis]) for axis in AXES)}")


def _unlike(task: Task, piece: Workpiece, asked: dict[Axis, float], actual: dict[Axis, float], bench: Bench) -> Iterator[str]:
    """Where the piece is not as the card has it. Blanks are only near to size; finished pieces are not larger."""
    if task.kind == "rough-length":
        return

    def says(axis: Axis, size: float) -> str:
        return f"{mm(size)} mm in {AXIS_WORDS[axis]} where the card has {mm(asked[axis])}"

    worked = piece.part.worked
    blank = task.in_the_long or task.kind in SIZED
    # An end that a mitre makes is not there before the mitre is cut, and a long piece has its length by itself.
    sized = AXES if not (task.in_the_long or ends_by_features(piece)) else ("y", "z")
    if not blank:
        for axis in sized:
            if abs(asked[axis] - worked.size(axis)) > CLOSE:
                yield f"on the card {mm(asked[axis])} mm in {AXIS_WORDS[axis]}, and drawn {mm(worked.size(axis))}"
            elif actual[axis] > asked[axis] + CLOSE or (task.kind == "mark-out" and actual[axis] < asked[axis] - CLOSE):
                yield says(axis, actual[axis])
        return
    trimmed = (worked.length < asked["x"] and task.kind in ("length", "separate")) or ends_part(task)
    # A stick whose first end is squared is shorter by that.
    trimmed = trimmed or (task.in_the_long and ("right" if piece.hand == "right" else "left") in piece.made)
    slack = 2 * bench.first_end_trim if trimmed else CLOSE
    if not asked["x"] - slack <= actual["x"] <= asked["x"] + bench.blank_over:
        yield says("x", actual["x"])


_LEAST: tuple[tuple[str, Axis], ...] = (("shortest", "x"), ("narrowest", "y"), ("thinnest", "z"))
_OF_EVERY_MACHINE = ("shortest", "narrowest")
"""Without these nothing is held to a size at a machine; how thin a piece may be is no question at every one."""


def _too_small(actual: dict[Axis, float], figures: Figures | None) -> Iterator[str]:
    """Where a piece is smaller than a machine can hold, or nobody has said how small that is."""
    if figures is None:
        return
    for name, axis in _LEAST:
        if name in _OF_EVERY_MACHINE and name not in figures:
            yield f"worked on a machine whose card does not say its {name} piece: staff must decide"
        if name in figures and actual[axis] < figures[name] - CLOSE:
            yield f"{mm(actual[axis])} mm in {AXIS_WORDS[axis]}, and the machine asks at least {mm(figures[name])}"
