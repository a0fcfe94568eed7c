"""Whether sizes that students may choose besides the one drawn can be made here, and in the same way. mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.workshop import Workshop
from sequencer.planning.choosing import choose_ways
from sequencer.planning.shop import Shop
from sequencer.planning.work import part_work
from sequencer.solid.thin_wood import thin_wood


def offered_findings(
    job: Job, offered: Iterable[tuple[str, float, Job | None]], workshop: Workshop, knowledge: Knowledge
) -> Iterator[Finding]:
    """A warning for each size offered that is no job, that nothing here makes, or that is made in another way than the plan
    says. `offered`: the name of the size, its value, and the job with it."""
    drawn: Mapping[str, str] | None = None
    for name, value, other in offered:
        subject, size = name, f"Students may choose {name} {mm(value)} mm"
        if other is None:
            yield Finding(
                "warning", "offered-size", subject, f"{size}, and the drawing does not work out with it.", remedy=_TAKE_OUT
            )
            continue
        drawn = _ways(job, workshop, knowledge)[0] if drawn is None else drawn
        ways, refused = _ways(other, workshop, knowledge)
        refused += [each.what for each in thin_wood(other, knowledge.working) if each.level == "error"]
        for each in refused:
            yield Finding("warning", "offered-size", subject, f"{size}, which cannot be made here. {each}", remedy=_TAKE_OUT)
        for work, way in ways.items():
            if not refused and drawn.get(work, way) != way:
                yield Finding(
                    "warning",
                    "offered-size",
                    subject,
                    f"{size}, and then the cards do not hold for {work}: it is not “{drawn[work]}” but “{way}”.",
                    "Another station may ask for another guard, another adult and more time.",
                    "Plan that size by itself and print its cards, or take it off the list of choices.",
                )


_TAKE_OUT = "Take it off the list of choices, or draw for it what can be made here."


def _ways(job: Job, workshop: Workshop, knowledge: Knowledge) -> tuple[dict[str, str], list[str]]:
    """The operation chosen for each work on a part, by name, and what cannot be made."""
    shop = Shop(job=job, workshop=workshop, knowledge=knowledge)
    choice = choose_ways(part_work(job, knowledge.working), shop, {})
    ways = {name: knowledge.stations[way.kind].operations[way.operation].name for name, way in choice.ways.items()}
    return ways, [each.what for each in choice.findings if each.level == "error"]
