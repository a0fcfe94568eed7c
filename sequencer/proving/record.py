"""The proof as part of the plan, and as findings where it does not hold."""

from __future__ import annotations

from dataclasses import replace

from sequencer.findings import Finding
from sequencer.model.plan import Plan
from sequencer.proving.making import Making


def with_record(plan: Plan, making: Making) -> Plan:
    """The plan with the record of its proof, and an error finding for everything that did not hold."""
    proof = making.proof
    found = [
        _finding(f"Step {task.step}, {task.task}, on {task.piece}: {look.says}.", task.task, look.check)
        for task in proof.tasks
        for look in task.looked
        if not look.held
    ]
    found += [_finding(f"At the end: {look.says}.", "the whole", look.check) for look in proof.assembled if not look.held]
    return replace(plan, proof=proof, findings=(*plan.findings, *found))


def _finding(what: str, about: str, check: str) -> Finding:
    return Finding(
        "error",
        f"not-proved-{check}",
        about,
        what,
        "Made on solids as the cards say, the thing does not come out as drawn.",
        "Do not use the sheets: they are drafts. Change the drawing or the decision behind this step; if neither is wrong, it is "
        "a fault of the tool and should be reported.",
    )
