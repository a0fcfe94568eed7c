"""How answers about the order name work: by its step in plain words for whoever reads, by names that a job file takes for whoever
decides."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.model.plan import Plan, Task
from sequencer.reading.words import listed
from sequencer.talk import step_of


def called(plan: Plan, tasks: Sequence[Task]) -> str:
    """Some work by its steps: `step 18 (cut the floor groove: side (A))`; of more than one step the numbers only."""
    steps = list({step.number: step for step in (step_of(plan, task) for task in tasks)}.values())
    if len(steps) > 1:
        return f"steps {listed([str(step.number) for step in steps])}"
    whole = {task.id for task in tasks} == set(steps[0].tasks)
    what = steps[0].title if whole else listed(list(dict.fromkeys(small(task.does) for task in tasks)))
    return f"step {steps[0].number} ({small(what)})"


def sentence(text: str) -> str:
    """With a capital at its head."""
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    """Without a capital at its head."""
    return text[:1].lower() + text[1:]


def deciding_names(plan: Plan, given: str, tasks: Sequence[Task]) -> list[str]:
    """Names for a decision about some work: as it was given, or for the number of a step, which another order changes, the
    shortest name of each task in it."""
    if not given.isdecimal():
        return [given]
    return [_shortest(plan, task) for task in tasks]


def _shortest(plan: Plan, task: Task) -> str:
    """`part/feature`, or the whole name where another task is called so too."""
    short = task.id.rpartition("/")[0]
    alike = [other for other in plan.tasks if other.id.startswith(f"{short}/")]
    return short if len(alike) == 1 else task.id


def sets_up(plan: Plan, given: str) -> list[str]:
    """What a step that sets a machine up, or puts its guards back, is there for; nothing where the name means no such step."""
    asked = next((step for step in plan.steps if str(step.number) == given), None)
    if asked is None or asked.kind not in ("set-up", "guards-back"):
        return []
    work = next(step for step in plan.steps if step.kind == "work" and set(step.tasks) == set(asked.tasks))
    told = f"step {work.number} ({small(work.title)})"
    if asked.kind == "set-up":
        return [f"Step {asked.number} sets up what {told} is done with: a set-up comes right before the work that it is for."]
    return [f"Step {asked.number} puts back what was taken off for {told}: that comes right after the work that it was off for."]
