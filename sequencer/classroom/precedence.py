"""Which steps come before which, as the reasons of a plan say, with the waits between: a wait is no step of a class."""

from __future__ import annotations

from math import ceil

from sequencer.model.plan import Plan, Step


def befores(plan: Plan) -> dict[str, dict[str, int]]:
    """Of each step of work, by id, the steps of work that it comes after, and the minutes of real time between."""
    kinds = {step.id: step.kind for step in plan.steps}
    return {name: found for name, found in _all(plan).items() if kinds[name] == "work"}


def waits_after(plan: Plan) -> dict[str, int]:
    """The longest wait, in minutes of real time, for what a step of work leaves wet: glue sets, finish dries. What else only
    comes before a wait, such as putting rags away, leaves nothing that wants a place."""
    step_of = {task: step for step in plan.steps if step.kind in ("work", "wait") for task in step.tasks}
    found: dict[str, int] = {}
    for reason in plan.reasons:
        before, after = step_of.get(reason.before), step_of.get(reason.after)
        if reason.kind == "cure" and before and after and before.kind == "work" and after.kind == "wait":
            found[before.id] = max(found.get(before.id, 0), _long(after))
    return found


def _all(plan: Plan) -> dict[str, dict[str, int]]:
    """Of each step of work or waiting, the steps of work that it comes after and the waits between, its own left out."""
    own = {step.id: step for step in plan.steps if step.kind in ("work", "wait")}
    step_of = {task: step.id for step in own.values() for task in step.tasks}
    pairs = dict.fromkeys(
        (step_of[reason.before], step_of[reason.after])
        for reason in plan.reasons
        if reason.before in step_of and reason.after in step_of
    )
    found: dict[str, dict[str, int]] = {name: {} for name in own}
    for name in own:
        for before, after in pairs:
            if after != name or before == name:
                continue
            earlier = own[before]
            sources = found[before] if earlier.kind == "wait" else {before: 0}
            for source, wait in sources.items():
                over = wait + (_long(earlier) if earlier.kind == "wait" else 0)
                found[name][source] = max(found[name].get(source, 0), over)
    return found


def _long(step: Step) -> int:
    return ceil(step.minutes)
