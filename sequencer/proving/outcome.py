"""What is looked at when all is made: the cards against what was done, each piece against its drawing. mm, mm3."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from sequencer.features.base import mm
from sequencer.model.plan import Plan, Setting, Step, Task
from sequencer.model.proof import Looked, PartProof
from sequencer.proving.workpiece import Workpiece

SAME = 0.5
"""A part equals its drawing if no more than this differs beyond declared residue, mm3."""


def cards_agree(plan: Plan) -> Iterator[Looked]:
    """What is carried out is what the cards print: the same tasks in the same order, with the same figures."""
    printed = [task for step in plan.steps if step.kind in ("work", "wait") for task in step.tasks]
    same = printed == [task.id for task in plan.tasks]
    says = f"the cards print all {len(printed)} tasks in this order" if same else "the cards print other tasks, or another order"
    yield Looked("order", same, says)
    tasks = {task.id: task for task in plan.tasks}
    wrong = [step for step in plan.steps if step.kind == "work" and _figures(step.settings) != _asked(step, tasks)]
    numbers = ", ".join(str(step.number) for step in wrong)
    says = f"the card of step {numbers} prints other figures than its work is set by" if wrong else "the cards print its figures"
    yield Looked("setting", not wrong, says)


def _figures(settings: Iterable[Setting]) -> set[tuple[str, float]]:
    """Names and values; what is set to nothing is not printed."""
    return {(setting.name, setting.value) for setting in settings if setting.value}


def _asked(step: Step, tasks: Mapping[str, Task]) -> set[tuple[str, float]]:
    return {each for name in step.tasks if name in tasks for each in _figures(tasks[name].settings)}


def run_out_looked(piece: Workpiece) -> Looked | None:
    """Planed ends that are not to size must have been cut off since."""
    if piece.sound is None:
        return None
    (low, high), (start, stop) = piece.spans["x"], piece.sound
    left = max(start - low, high - stop, 0.0)
    name = piece.part.name
    if left > 0.01:
        return Looked("drawing", False, f"a plane may dip at the ends of {name}, and {mm(left)} mm of them are still there")
    return Looked("drawing", True, f"a plane may dip at the ends of {name}: they have been sawn off")


def drawing_looked(part: PartProof) -> Looked:
    says = f"{part.piece} differs from its drawing by {part.difference:.2f} mm3"
    if part.left_on > SAME or part.cut_too_far > SAME:
        says = (
            f"{part.piece} is not as drawn: {part.left_on:.0f} mm3 of wood too much is left, {part.cut_too_far:.0f} mm3 too much "
            "is cut away"
        )
    return Looked("drawing", part.difference <= SAME, says)
