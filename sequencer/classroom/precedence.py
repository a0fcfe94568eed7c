"""Which steps come before which, as the reasons of a plan say, with the waits between: a wait is no step of a class."""

from __future__ import annotations

from math import ceil

from sequencer.model.plan import Plan, Step


def befores(plan: Plan) -> dict[str, dict[str, int]]:
    """Of each step of work, by id, the steps of work that it comes after, and the minutes of real time between."""
    return {name: found for name, found in _all(plan).items() if _kinds(plan)[name] == "work"}


def waits_after(plan: Plan) -> dict[str, int]:
    """The longest wait, in minutes of real time, that begins when a step of work is over: glue sets, finish dries."""
    kinds, found = _kinds(plan), dict[str, int]()
    for name, earlier in _all(plan).items():
        for before, wait in earlier.items():
            own = wait + (_minutes(plan)[name] if kinds[name] == "wait" else 0)
            if own:
                found[before] = max(found.get(before, 0), own)
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
    for name, step in own.items():
        for before, after in pairs:
            if after != name or before == name:
                continue
            earlier = own[before]
            sources = found[before] if earlier.kind == "wait" else {before: 0}
            for source, wait in sources.items():
                over = wait + (_long(earlier) if earlier.kind == "wait" else 0)
                found[name][source] = max(found[name].get(source, 0), over)
        del step
    return found


def _long(step: Step) -> int:
    return ceil(step.minutes)


def _minutes(plan: Plan) -> dict[str, int]:
    return {step.id: _long(step) for step in plan.steps}


def _kinds(plan: Plan) -> dict[str, str]:
    return {step.id: step.kind for step in plan.steps}
