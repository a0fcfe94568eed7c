"""Whether an order that cannot be had with the way that is planned can be had with another way of doing one piece of the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sequencer.findings import Refused
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.pipeline import Checked, Say, plan, prove
from sequencer.planning.planner import ways_of

SUPPOSED = ("whoever asks about ways", "to see what comes of it")
"""Who decides what is only tried, and why."""


@dataclass(frozen=True)
class OtherWay:
    """Another way of the work `about` with which an order can be had, its title and that of the way planned, what is planned with
    it, and the orders that must be decided besides; none where they follow by themselves."""

    about: str
    way: str
    title: str
    instead_of: str
    plan: Plan
    orders: tuple[tuple[str, str], ...]


def by_another_way(checked: Checked, pairs: Sequence[tuple[str, str]], say: Say) -> OtherWay | None:
    """The first other possible way with which the job is planned, and proved on solids, in the orders (later, earlier) asked
    for. Only where each name means one piece of work on one part; None where there is no such way."""
    names = list(dict.fromkeys(name for pair in pairs for name in pair))
    for about in names if len(pairs) == 1 else ():
        for way, title, instead_of in _others(about, checked):
            asked = Decision(about, *SUPPOSED, way=way)
            for orders in ((), tuple(pairs)):
                ordered = (Decision(later, *SUPPOSED, before=earlier) for later, earlier in orders)
                job = replace(checked.job, decisions=(*checked.job.decisions, asked, *ordered))
                try:
                    then = plan(replace(checked, job=job), say)
                except Refused:
                    break
                if _so_ordered(then, *pairs[0]):
                    if prove(then, job, say)[1].proof.held:
                        return OtherWay(about, way, title, instead_of, then, orders)
                    break
    return None


def _others(about: str, checked: Checked) -> Iterator[tuple[str, str, str]]:
    """The other possible ways of one work that a name means: name, title, title of the way taken."""
    found = ways_of(about, checked.job, checked.workshop, checked.knowledge)
    if len(found) != 1 or not found[0][0].part:
        return
    _, ways, taken = found[0]
    if taken is not None:
        possible = {way.operation: way.title for way in ways if way.possible and way.operation != taken.operation}
        yield from ((way, title, taken.title) for way, title in possible.items())


def _so_ordered(then: Plan, later: str, earlier: str) -> bool:
    """Whether all work that one name means comes before all that another means."""
    place = {task.id: number for number, task in enumerate(then.tasks)}

    def meant(name: str) -> list[int]:
        return [number for task, number in place.items() if task == name or task.startswith(f"{name}/")]

    first, second = meant(later), meant(earlier)
    return bool(first and second) and max(first) < min(second)
