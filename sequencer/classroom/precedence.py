"""Which steps come before which, as the reasons of a plan say, with the waits between: a wait is no step of a class.

A wait holds the wood too. What nothing orders against a gluing or a coat, and takes up what that leaves wet, comes where the
plan has it: before it, or when all is dry.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from sequencer.model.plan import Plan, Step
from sequencer.model.work import JOINS, NO_WOOD


def befores(plan: Plan) -> dict[str, dict[str, int]]:
    """Of each step of work, by id, the steps of work that it comes after, and the minutes of real time between."""
    kinds = {step.id: step.kind for step in plan.steps}
    found = {name: before for name, before in _all(plan).items() if kinds[name] == "work"}
    for before, after, wait in _left_alone(plan):
        found[after][before] = max(wait, found[after].get(before, 0))
    return found


def waits_after(plan: Plan) -> dict[str, int]:
    """The longest wait, in minutes of real time, for what a step of work leaves wet: glue sets, finish dries. What else only
    comes before a wait, such as putting rags away, leaves nothing that wants a place."""
    return {name: max(map(_long, steps)) for name, steps in _waits(plan).items()}


def _waits(plan: Plan) -> dict[str, list[Step]]:
    """The waits of each step of work that leaves something wet."""
    step_of = {task: step for step in plan.steps if step.kind in ("work", "wait") for task in step.tasks}
    found: dict[str, list[Step]] = {}
    for reason in plan.reasons:
        before, after = step_of.get(reason.before), step_of.get(reason.after)
        if reason.kind == "cure" and before and after and before.kind == "work" and after.kind == "wait":
            found.setdefault(before.id, []).append(after)
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


def _left_alone(plan: Plan) -> Iterator[tuple[str, str, int]]:
    """What is added so that wet wood is left alone: a step of work, the one that comes after it, and the minutes between. What is
    done while the glue is wet, such as driving screws, leads to the wait and has no minutes before it."""
    leads, waits = _leads(plan), {name: [step.id for step in steps] for name, steps in _waits(plan).items()}
    work = [step for step in plan.steps if step.kind == "work"]
    wood = {step.id: _wood(plan, step) for step in work}
    place = {step.id: number for number, step in enumerate(work)}
    for name, wait in waits_after(plan).items():
        own = waits[name]
        wet = _hanging_together(plan, work[: place[name] + 1], wood[name])
        for step in work:
            if step.id == name or wood[step.id].isdisjoint(wet):
                continue
            if place[step.id] < place[name]:
                if name not in leads[step.id]:
                    yield step.id, name, 0
            elif not any(each in leads[step.id] or step.id in leads[each] for each in own):
                yield name, step.id, wait


def _hanging_together(plan: Plan, steps: Iterable[Step], parts: Iterable[str]) -> set[str]:
    """Parts, and all that some steps have joined to them."""
    kinds = {task.id: task for task in plan.tasks}
    joined = [set(task.parts) for step in steps for task in map(kinds.__getitem__, step.tasks) if task.kind in JOINS]
    found = set(parts)
    while more := {part for each in joined if each & found for part in each} - found:
        found |= more
    return found


def _wood(plan: Plan, step: Step) -> set[str]:
    """The parts that a step takes up."""
    return {part for task in plan.tasks if task.id in step.tasks and task.kind not in NO_WOOD for part in task.parts}


def _leads(plan: Plan) -> dict[str, set[str]]:
    """Of each step of work or waiting, all that must come after it."""
    step_of = {task: step.id for step in plan.steps if step.kind in ("work", "wait") for task in step.tasks}
    follow: dict[str, set[str]] = {name: set() for name in step_of.values()}
    for reason in plan.reasons:
        before, after = step_of.get(reason.before), step_of.get(reason.after)
        if before and after and before != after:
            follow[before].add(after)
    for name in reversed([step.id for step in plan.steps if step.id in follow]):
        follow[name] |= {late for each in follow[name] for late in follow[each]}
    return follow


def _long(step: Step) -> int:
    return ceil(step.minutes)
