"""Narrow strips of thin sheet that students are to cut by hand: who had better cut them. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.plan import Step
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import words

CUT_OUT = ("rough-length", "first-end", "width", "length", "separate")
"""Kinds of work that cut a part out of its sheet."""


def narrow_sheet_findings(shop: Shop, ways: Mapping[str, Way], steps: Sequence[Step]) -> Iterator[Finding]:
    """A note for each part of thin sheet that is narrower than `narrow_sheet` and that students cut out by hand: it is staff's to
    judge whether they cut it, or buy it as a strip."""
    thin, narrow = shop.knowledge.bench.thin_sheet, shop.knowledge.working.narrow_sheet
    for part in shop.job.parts.values():
        across = min(part.worked.length, part.worked.width)
        if shop.job.stock[part.stock].form != "sheet" or part.thickness >= thin or across >= narrow:
            continue
        own = {f"{part.name}/{kind}/" for kind in CUT_OUT}
        by_hand = [
            step
            for step in steps
            if step.kind == "work" and step.who.operator == "student"
            if any(task.startswith(tuple(own)) and task in ways and ways[task].by_hand for task in step.tasks)
        ]
        if by_hand:
            yield Finding(
                "note",
                "narrow-sheet",
                part.name,
                f"The {words(part.name)} ({part.letter}) is a strip of sheet {mm(across)} mm wide and {mm(part.thickness)} mm "
                f"thick; at step {by_hand[0].number} students begin to cut it out by hand.",
                "A strip so narrow splits and bends under a saw, and the hand that steadies it is close to the cut.",
                "Think of cutting it yourselves before the lesson, or of buying it as a strip to be sawn to length only.",
                part.place,
                shop.knowledge.working_figures["narrow-sheet"].source,
            )
