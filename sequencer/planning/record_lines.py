"""What is printed of who decided what: decisions with what they cost, rules, changes of the knowledge, notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sequencer.features.base import mm
from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.model.record import ChangeLine, DecisionLine
from sequencer.planning.chosen_figures import chosen_lines
from sequencer.planning.shop import Shop
from sequencer.planning.work import words


def decision_lines(shop: Shop, costs: Sequence[str]) -> tuple[DecisionLine, ...]:
    """The teacher's decisions, each with what it costs, the school's own rules and the figures it has loosened, with who and
    why."""
    lines = []
    for decision, cost in zip(shop.job.decisions, costs, strict=True):
        asked = [
            text
            for text in (
                decision.way and f"way: {_operation_name(decision.way, shop)}",
                decision.station and f"station {decision.station}",
                decision.before and f"before {decision.before}",
                f"{mm(decision.minutes)} minutes" if decision.minutes is not None else "",
            )
            if text
        ]
        lines.append(DecisionLine(decision.about, ", ".join(asked), decision.by, decision.why, cost))
    for rule in shop.workshop.rules:
        answers = ", ".join(text for text in (rule.operator, rule.supervision, rule.gate) if text)
        lines.append(
            DecisionLine(
                rule.about, answers, rule.by or "the school's policy", rule.why or "As strict as the default, or stricter"
            )
        )
    return (*lines, *chosen_lines(shop))


def _operation_name(way: str, shop: Shop) -> str:
    """What an operation is called on paper, in quotation marks."""
    kinds = shop.knowledge.stations.values()
    return next((f"“{kind.operations[way].name}”" for kind in kinds if way in kind.operations), way)


def change_lines(shop: Shop) -> tuple[ChangeLine, ...]:
    """What the school has changed in the shipped knowledge, with who and why as recorded."""
    return tuple(ChangeLine(each.about, each.text, "; ".join(each.looser), each.by, each.why) for each in shop.knowledge.changes)


def note_lines(job: Job) -> tuple[str, ...]:
    """The notes of the job and of its parts, the parts' with their letter."""
    parts = tuple(f"{part.letter} {words(part.name)}: {part.note}" for part in job.parts.values() if part.note)
    things = tuple(f"{thing.what}: {thing.note}" for thing in job.hardware.values() if thing.note)
    return tuple(note for note in (job.note, *parts, *things, job.before_use) if note)


def with_marking_notes(steps: Sequence[Step], job: Job) -> tuple[Step, ...]:
    """The steps with what the drawing says of marking a feature out: where its part is marked out, or else where it is first
    worked."""
    said: dict[str, list[str]] = {}
    for part in job.parts.values():
        for feature in part.features.values():
            places = (f"{part.name}/mark-out/", f"{part.name}/{feature.name}/") if feature.marking else ()
            found = (step for place in places for step in steps if any(task.startswith(place) for task in step.tasks))
            if (step := next(found, None)) is not None:
                several = len({work.letter for work in step.parts}) > 1
                said.setdefault(step.id, []).append(f"{part.letter}: {feature.marking}" if several else feature.marking)
    return tuple(replace(step, notes=(*step.notes, *said.get(step.id, ()))) for step in steps)


def with_part_notes(steps: Sequence[Step], job: Job) -> tuple[Step, ...]:
    """The steps with the notes of the parts where the maker must see them: with the first work of a student on the part, or of
    anybody where students do none on it by itself, and where it is first joined to others."""
    said: dict[str, list[str]] = {}
    for part in job.parts.values():
        alone = [step for step in steps if [work.letter for work in step.parts] == [part.letter]]
        joining = [step for step in steps if step.together and part.letter in [work.letter for work in step.parts]]
        first = next((step for step in alone if step.card == "student"), next(iter(alone), None))
        for step in dict.fromkeys((first, next(iter(joining), None))) if part.note else ():
            if step is not None:
                said.setdefault(step.id, []).append(part.note if step is first else f"{part.letter}: {part.note}")
    return tuple(replace(step, notes=(*step.notes, *said.get(step.id, ()))) for step in steps)
