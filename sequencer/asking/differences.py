"""What changed from one plan to another, step by step."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import SequenceMatcher

from sequencer.model.plan import Plan, Step, Task
from sequencer.talk import step_of, wrapped


def differences_text(earlier: Plan, now: Plan) -> str:
    """The differences as plain text."""
    lines = differences(earlier, now)
    if not lines:
        return wrapped("Nothing changed against the earlier plan.")
    return "\n".join([wrapped("Against the earlier plan:"), *(wrapped(f"- {line}", 0, 2) for line in lines)])


def differences(earlier: Plan, now: Plan) -> list[str]:
    """What is new, what is gone, what is done otherwise, what has moved: a sentence each, in the order of the plans."""
    was = {task.id: task for task in earlier.tasks}
    names = {task.id for task in now.tasks}
    lines = [
        f"Gone: {task.does} (it was in step {step_of(earlier, task).number})." for task in earlier.tasks if task.id not in names
    ]
    moved = _moved([task.id for task in earlier.tasks if task.id in names], [task.id for task in now.tasks if task.id in was])
    for task in now.tasks:
        step = step_of(now, task)
        number = step.number
        if task.id not in was:
            lines.append(f"New in step {number}: {task.does}.")
            continue
        old = was[task.id]
        lines += (f"Step {number}, {task.does}: {text}." for text in _otherwise(old, task))
        if task.id in moved:
            lines += _from_to(step_of(earlier, old), step, task)
    return list(dict.fromkeys(lines))


def _from_to(before: Step, after: Step, task: Task) -> Iterator[str]:
    """Where a task has moved to; nothing where only what stands around its step has moved, which is told of that."""
    if before.number != after.number:
        yield f"Moved: {task.does}, from step {before.number} to step {after.number}."
    elif before.tasks != after.tasks and set(before.tasks) == set(after.tasks):
        yield f"Moved within step {after.number}: {task.does}."


def _otherwise(old: Task, new: Task) -> Iterator[str]:
    """How a task is done otherwise than before."""
    if (old.operation, old.station) != (new.operation, new.station):
        yield f"made by {new.operation} at {new.station}, no longer by {old.operation} at {old.station}"
        return
    if old.who != new.who:
        yield (
            f"done by {new.who.operator}, no longer by {old.who.operator}"
            if old.who.operator != new.who.operator
            else ("watched or signed off otherwise")
        )
    before = {setting.name: setting for setting in old.settings}
    for setting in new.settings:
        text = before[setting.name].text if setting.name in before else "not set"
        if text != setting.text:
            yield f"{setting.label} {text} is now {setting.text}"
    kept = {setting.name for setting in new.settings}
    yield from (f"{setting.label} is no longer set" for setting in old.settings if setting.name not in kept)
    if old.minutes != new.minutes:
        yield f"{old.minutes:g} min is now {new.minutes:g} min"


def _moved(before: list[str], after: list[str]) -> set[str]:
    """The names outside the longest runs that both orders share."""
    kept = set()
    for block in SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks():
        kept |= set(after[block.b : block.b + block.size])
    return set(after) - kept
