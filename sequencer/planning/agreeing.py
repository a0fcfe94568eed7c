"""Ways and an order that agree: which ways are possible depends on the order, and which orders are possible depends on the ways.
min.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from heapq import heappop, heappush
from math import inf

from sequencer.findings import has_errors
from sequencer.model.job import Job
from sequencer.model.plan import Changing, Reason, Task
from sequencer.planning.changing import set_ups_of
from sequencer.planning.choice import Choice, KeptApart
from sequencer.planning.choosing import choose_ways
from sequencer.planning.decided import located, time_decided
from sequencer.planning.group_work import group_work
from sequencer.planning.groups import Group
from sequencer.planning.order import Arranged, Circle, Orderable, put_in_order
from sequencer.planning.out_of_strips import kept_apart, kept_at_once
from sequencer.planning.reasons.finding import find_reasons
from sequencer.planning.sanding import sanding_work
from sequencer.planning.shapes_left import shapes_met
from sequencer.planning.shop import Shop
from sequencer.planning.strip_times import minutes_for
from sequencer.planning.tasks import make_tasks
from sequencer.planning.work import Work, part_work

NOTHING = Arranged((), Changing(0, 0.0, 0.0))
MOST = 12
"""So many ways of keeping parts apart are tried one by one; from then on the cheapest is followed, and all in a circle is kept
apart at once."""


@dataclass(frozen=True)
class Agreed:
    """Ways and an order that agree: every piece is held by what the order leaves of it. `shaped`: by work the features that have
    taken faces of its part before. `circle`: why there is no order."""

    choice: Choice
    shaped: Mapping[str, tuple[str, ...]]
    reasons: tuple[Reason, ...] = ()
    tasks: Mapping[str, Task] = field(default_factory=dict)
    arranged: Arranged = NOTHING
    circle: Circle | None = None


def works_of(groups: tuple[Group, ...], shop: Shop) -> list[Work]:
    """Everything that is to be done, on each part and on what is joined."""
    return [
        *part_work(shop.job, shop.knowledge.working),
        *sanding_work(shop),
        *group_work(shop.job, groups, shop.self_heating, shop.knowledge),
    ]


def agree(works: Sequence[Work], groups: tuple[Group, ...], shop: Shop, earlier: Sequence[str] = ()) -> Agreed:
    """A way for every work, and their order. `earlier`: the tasks of an earlier plan in their order.

    Only the order says what comes on a piece that a shape has left round, tapered, curved or bevelled; such work is then given a
    way that grips it, until the order brings nothing new. And only the order says what can be worked in one strip: where that
    leaves none, parts have strips of their own or are worked piece by piece, whichever costs least.
    """
    waiting = _Waiting(shop)
    waiting.put(Agreed(choose_ways(works, shop), {}))
    met: list[KeptApart] = []
    failed: Agreed | None = None
    while waiting:
        one = _in_order(waiting.cheapest(), groups, shop, earlier)
        if one.circle is not None:
            many = len(met) >= MOST
            apart = (kept_at_once if many else kept_apart)(one.circle.reasons, one.choice)
            kept = [each for each in apart if each not in met]
            met += kept
            more = [Agreed(choose_ways(works, shop, one.shaped, each), one.shaped) for each in kept]
            more = [each for each in more if not has_errors(each.choice.findings)]
            if many and more:
                waiting = _Waiting(shop)
        else:
            shaped = _shaped(one, shop)
            if shaped == one.shaped:
                return one
            more = [Agreed(choose_ways(works, shop, shaped, one.choice.long.kept), shaped)]
        for each in more:
            waiting.put(each)
        failed = failed or (None if more else one)
    assert failed is not None
    return failed


class _Waiting:
    """Ways that are still to be put in order: the cheapest first, of equals the one that was found first."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.heap: list[tuple[tuple[float, ...], int, Agreed]] = []
        self.count = 0

    def put(self, one: Agreed) -> None:
        self.count += 1
        heappush(self.heap, (_cost(one.choice, self.shop), self.count, one))

    def cheapest(self) -> Agreed:
        return heappop(self.heap)[-1]

    def __bool__(self) -> bool:
        return bool(self.heap)


def _cost(choice: Choice, shop: Shop) -> tuple[float, ...]:
    """What ways are ranked by as a whole, as each of them is: guards that come off, what the aim asks for, minutes
    for one thing."""
    if has_errors(choice.findings):
        return (inf,)
    ways = [(choice.works[name], way) for name, way in choice.ways.items()]
    off = sum(way.guards_off for _, way in ways)
    staff = sum(way.who.operator == "staff" for work, way in ways if work.kind != "rough-length")
    setting = sum(way.set_up for _, way in ways)
    minutes = setting + sum(minutes_for(part, choice.works, choice.ways, choice.blanks, shop) for part in shop.job.parts)
    aim = {"most-by-students": staff, "least-time": 0, "fewest-set-ups": setting}[shop.job.aim]
    return off, aim, minutes


def _in_order(one: Agreed, groups: tuple[Group, ...], shop: Shop, earlier: Sequence[str]) -> Agreed:
    """Ways with their reasons and their order, or with the circle that leaves none; as they are where some have none."""
    choice = one.choice
    if has_errors(choice.findings):
        return one
    reasons = find_reasons(shop.job, choice.works, choice.ways, groups, shop.knowledge.bench)
    tasks = {task.id: _timed(task, choice.works, shop.job) for task in make_tasks(choice, shop)}
    set_ups = set_ups_of(tuple(tasks.values()), shop.knowledge)
    orderable = [
        Orderable(task.id, set_ups[task.set_up], task.who.operator == "staff", choice.works[task.id].rank, number)
        for number, task in enumerate(tasks.values())
    ]
    try:
        arranged = put_in_order(orderable, reasons, earlier)
    except Circle as circle:
        return replace(one, circle=_told(circle, choice, tasks, shop.job))
    return replace(one, reasons=reasons, tasks=tasks, arranged=arranged)


def _told(circle: Circle, choice: Choice, tasks: Mapping[str, Task], job: Job) -> Circle:
    """A circle with what its work does, why no piece by piece either, and where the decisions in it are written."""
    parts = {choice.works[reason.after].part for reason in circle.reasons}
    nor = [said for part, said in choice.long.kept.by_the_piece.items() if part in parts]
    does = {reason.before: tasks[reason.before].does for reason in circle.reasons}
    return located(Circle(circle.findings[0], circle.reasons, nor, does), job, choice.works)


def _shaped(one: Agreed, shop: Shop) -> Mapping[str, tuple[str, ...]]:
    """By work the features that have taken faces of its part before, with those that this order brings."""
    met = shapes_met(one.arranged.order, one.tasks, shop.job.parts, shop.knowledge.bench)
    return {**one.shaped, **{name: tuple(dict.fromkeys((*one.shaped.get(name, ()), *shapes))) for name, shapes in met.items()}}


def _timed(task: Task, works: Mapping[str, Work], job: Job) -> Task:
    """A time the teacher has settled wins over the knowledge's."""
    decision = time_decided(works[task.id], job, works.values())
    return task if decision is None or decision.minutes is None else replace(task, minutes=decision.minutes)
