"""What a lesson asks to be careful of because of who works at the same time, not because of one step."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from sequencer.model.class_plan import Stint
from sequencer.model.plan import Plan

SAND_FIRST = (
    "Some sand and some put finish on in this lesson: sand before the finish is opened, keep the finish at a place of its own "
    "with its own air, and leave the extraction on. Dust spoils wet finish, and dust and vapour are breathed together."
)


def cautions(stints: Iterable[Stint], plan: Plan) -> dict[int, tuple[str, ...]]:
    """Of each lesson in which students sand and put finish on, what to be careful of."""
    steps = {step.id: set(step.tasks) for step in plan.steps}
    found: dict[int, set[str]] = defaultdict(set)
    for stint in stints:
        tasks = [task for task in plan.tasks if task.id in steps[stint.step]]
        does = {"sand"} & {task.cut for task in tasks} | {"coat"} & {task.kind for task in tasks}
        for span in stint.spans if stint.kind == "step" else ():
            found[span.session] |= does
    return {lesson: (SAND_FIRST,) for lesson, does in found.items() if does == {"sand", "coat"}}
