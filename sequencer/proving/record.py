"""The proof as part of the plan, and as findings where it does not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sequencer.findings import Finding
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.proving.making import Making

DRAFTS = "Do not use the sheets: they are drafts."


def with_record(plan: Plan, making: Making, decisions: Sequence[Decision] = ()) -> Plan:
    """The plan with the record of its proof, and an error finding for everything that did not hold: where a decision of the job
    asks for the step or its place, that is named, with its place in the file."""
    proof = making.proof
    found = [
        _finding(
            f"Step {task.step}, {task.task}, on {task.piece}: {look.says}.",
            task.task,
            look.check,
            [each for each in decisions if _names(plan, each.about, task.task) or _names(plan, each.before, task.task)],
            plan.job_file,
        )
        for task in proof.tasks
        for look in task.looked
        if not look.held
    ]
    found += [_finding(f"At the end: {look.says}.", "the whole", look.check, (), "") for look in proof.assembled if not look.held]
    return replace(plan, proof=proof, findings=(*plan.findings, *found))


def _names(plan: Plan, name: str, task: str) -> bool:
    """Whether a name of a decision means a task."""
    joints = next((*each.joints, *each.folded) for each in plan.tasks if each.id == task)
    return bool(name) and (task == name or task.startswith(f"{name}/") or name in joints)


def _finding(what: str, about: str, check: str, behind: Sequence[Decision], file: str) -> Finding:
    if behind:
        place = next((each.place for each in behind if each.place is not None), None)
        return Finding(
            "error",
            f"not-proved-{check}",
            about,
            what,
            "Made on solids as it is decided, the thing does not come out as drawn.",
            f"{DRAFTS} Take back {' or '.join(map(_words, behind))}, or change the drawing.",
            None if place is None else replace(place, file=file),
        )
    return Finding(
        "error",
        f"not-proved-{check}",
        about,
        what,
        "Made on solids as the cards say, the thing does not come out as drawn.",
        f"{DRAFTS} Change the drawing or the decision behind this step; if neither is wrong, it is a fault of the tool and "
        "should be reported.",
    )


def _words(decision: Decision) -> str:
    if decision.before:
        return f"the decision that {decision.about} comes before {decision.before}"
    return f"the decision about {decision.about}"
