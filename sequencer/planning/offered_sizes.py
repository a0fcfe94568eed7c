"""Whether sizes that students may choose besides the one drawn can be made here, on parts and joined, and in the same way. mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache

from sequencer.design.checking import check_design
from sequencer.features.base import mm
from sequencer.findings import Finding, Refused
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.model.workshop import Workshop
from sequencer.planning.agreeing import works_of
from sequencer.planning.assembling import assembled
from sequencer.planning.choosing import choose_ways
from sequencer.planning.shop import Shop
from sequencer.planning.waiting import most_joints
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.thin_wood import thin_wood


@dataclass(frozen=True)
class _Tried:
    """What stands against a size, most telling first: nothing where it can be made; and the operation chosen for each work."""

    against: tuple[str, ...] = ()
    ways: Mapping[str, str] = field(default_factory=dict)


def offered_findings(
    job: Job, offered: Iterable[tuple[str, float, Job | None]], workshop: Workshop, knowledge: Knowledge
) -> Iterator[Finding]:
    """A warning for each size offered that is no job, that cannot be made or put together here, or that is made in another way
    than the plan says; where the size drawn itself cannot be made, a note for each that can. What stands against it too is not
    said again. `offered`: the name of the size, its value, and the job with it."""

    @cache
    def drawn() -> _Tried:
        return _tried(job, workshop, knowledge)

    for name, value, other in offered:
        size = f"Students may choose {name} {mm(value)} mm"
        if other is None:
            yield Finding(
                "warning", "offered-size", name, f"{size}, and the drawing does not work out with it.", remedy=_TAKE_OUT
            )
            continue
        tried = _tried(other, workshop, knowledge)
        for each in tried.against:
            if each not in drawn().against:
                yield Finding("warning", "offered-size", name, f"{size}, which cannot be made here. {each}", remedy=_TAKE_OUT)
        if not tried.against and drawn().against:
            yield Finding(
                "note",
                "offered-size",
                name,
                f"{size}, and nothing stands against that here, as it does against the {mm(job.sizes[name])} mm drawn.",
                remedy=f"Write {name}: {mm(value)} under `sizes`, and take what cannot be made off the list of choices.",
            )
        elif not tried.against:
            yield from _otherwise(name, size, drawn().ways, tried.ways)


_TAKE_OUT = "Take it off the list of choices, or draw for it what can be made here."


def _otherwise(name: str, size: str, drawn: Mapping[str, str], ways: Mapping[str, str]) -> Iterator[Finding]:
    """A warning for each work that is done in another way than for the size drawn."""
    for work, way in ways.items():
        if drawn.get(work, way) != way:
            yield Finding(
                "warning",
                "offered-size",
                name,
                f"{size}, and then the cards do not hold for {work}: it is not “{drawn[work]}” but “{way}”.",
                "Another station may ask for another guard, another adult and more time.",
                "Plan that size by itself and print its cards, or take it off the list of choices.",
            )


def _tried(job: Job, workshop: Workshop, knowledge: Knowledge) -> _Tried:
    """A size through all that may refuse it: the drawing, thin wood, the pieces put together as solids, the order in which they
    are joined, the ways of all work on parts and on what is joined. What refuses first is all that is said."""
    shop = Shop(job=job, workshop=workshop, knowledge=knowledge)
    checks: tuple[Callable[[], Iterable[Finding]], ...] = (
        lambda: (*check_design(job, knowledge), *thin_wood(job, knowledge.working)),
        lambda: dry_fit(job, knowledge),
        lambda: assembled(job, most_joints(shop)).findings,
    )
    try:
        for check in checks:
            if against := _errors(check()):
                return _Tried(against)
        groups = assembled(job, most_joints(shop)).groups
    except Refused as refused:
        return _Tried(_errors(refused.findings))
    choice = choose_ways(works_of(groups, shop), shop)
    ways = {name: knowledge.stations[way.kind].operations[way.operation].name for name, way in choice.ways.items()}
    return _Tried(_errors(choice.findings), ways)


def _errors(findings: Iterable[Finding]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each.what for each in findings if each.level == "error"))
