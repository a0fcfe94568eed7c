"""Which steps stand together on a job card, and what they say together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.model.plan import Step
from sequencer.paper import wording

_MOST_PARTS = 5
"""Parts that one block shows side by side."""


def is_marker(step: Step) -> bool:
    """Whether a step stands on the card as one line only: the work of staff, or waiting."""
    return step.card == "staff" or step.kind == "wait"


def _runs(steps: Sequence[Step]) -> Iterator[tuple[Step, ...]]:
    """Steps that stand in one block: those of others in a row, or the same work on one part after another."""
    run: list[Step] = []
    for step in steps:
        if run and not (is_marker(step) if is_marker(run[0]) else _goes_with(step, run)):
            yield tuple(run)
            run = []
        run.append(step)
    if run:
        yield tuple(run)


def in_turn(steps: Sequence[Step]) -> Iterator[tuple[tuple[Step, ...], frozenset[str]]]:
    """The runs of steps, each with the letters of the parts that students have had in hand before it."""
    begun: set[str] = set()
    for run in _runs(steps):
        yield run, frozenset(begun)
        begun |= {work.letter for step in run if not is_marker(step) for work in step.parts}


def _goes_with(step: Step, run: Sequence[Step]) -> bool:
    """Whether a step is the same work as those before, on another part: only sizes and the part's letter differ."""
    first, steps = run[0], (*run, step)
    if is_marker(step) or len(steps) > _MOST_PARTS or any(len(each.parts) != 1 for each in steps):
        return False
    if len({each.parts[0].letter for each in steps}) < len(steps):
        return False

    def same(each: Step) -> tuple[object, ...]:
        return (
            each.operation,
            each.guard_line,
            each.hazard_line,
            each.wear,
            each.stop,
            each.if_wrong,
            each.notes,
            stem_of(each),
        )

    if same(step) != same(first) or len(step.instructions) != len(first.instructions) or _on_card(step) != _on_card(first):
        return False
    return None not in (*instructions_of(steps), *(text for check in checks_of(steps) for text in check))


def _on_card(step: Step) -> list[bool]:
    return [check.card for check in step.checks]


def stem_of(step: Step) -> str:
    return step.title.rpartition(": ")[0]


def letters_of(steps: Sequence[Step]) -> tuple[str, ...]:
    return tuple(step.parts[0].letter if step.parts else "" for step in steps)


def instructions_of(steps: Sequence[Step]) -> list[str | None]:
    rows = zip(*(step.instructions for step in steps), strict=True)
    return [wording.for_each_part(letters_of(steps), texts) for texts in rows]


def checks_of(steps: Sequence[Step]) -> list[tuple[str | None, str | None, str | None]]:
    letters, found = letters_of(steps), []
    for checks in zip(*([check for check in step.checks if check.card] for step in steps), strict=True):
        what, how, limit = zip(*((check.what, check.how, check.limit) for check in checks), strict=True)
        found.append(
            (
                wording.for_each_part(letters, what),
                wording.for_each_part(letters, how),
                wording.for_each_part(letters, limit),
            )
        )
    return found
