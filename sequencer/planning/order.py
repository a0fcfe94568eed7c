"""One order out of the many that the reasons allow: the one with the least changing of set-ups.

Among orders that change as little, the one nearest to the usual order of a workshop is taken: staff's work first, then the usual
place of the work, then the drawing's order. Equal input gives equal order. A circle of reasons is refused, spelled out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.findings import Finding, Refused
from sequencer.model.plan import Changing, Reason, ReasonKind
from sequencer.ordering.least import LARGE, as_wished, least_changing
from sequencer.ordering.problem import Steps, set_of
from sequencer.ordering.quick import quick_order
from sequencer.planning.changing import SECONDS, SetUp

if TYPE_CHECKING:
    import networkx as nx


@dataclass(frozen=True)
class Orderable:
    """What ordering knows of a task: its set-up, whether staff do it, its usual place, its place in the drawing."""

    id: str
    set_up: SetUp
    staff: bool
    rank: float
    number: int


@dataclass(frozen=True)
class Arranged:
    """Task names in the order they are done, and what changing set-ups takes in it."""

    order: tuple[str, ...]
    changing: Changing


def reason_graph(tasks: Sequence[str], reasons: Sequence[Reason]) -> nx.DiGraph[str]:
    """The tasks as nodes, in their order, and the reasons as edges with the reason as `reason`."""
    import networkx as nx  # takes as long to load as a small plan to make, and only questions need it

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(tasks)
    for reason in reasons:
        if not graph.has_edge(reason.before, reason.after):
            graph.add_edge(reason.before, reason.after, reason=reason)
    return graph


def put_in_order(tasks: Sequence[Orderable], reasons: Sequence[Reason], wish: Sequence[str] = ()) -> Arranged:
    """The order of least changing; among equals the one nearest to `wish`, names of tasks in the order of an earlier plan, and to
    the usual order for what it does not name. Refused if the reasons form a circle."""
    refuse_circle(reasons)
    if not tasks:
        return Arranged((), Changing(0, 0.0, 0.0))
    wished = _as_wished(sorted(tasks, key=lambda task: (not task.staff, task.rank, task.number)), wish)
    number = {task.id: at for at, task in enumerate(wished)}
    before = [set_of(earlier) for earlier in _earlier(number, reasons)]
    set_ups = list({task.set_up.name: task.set_up for task in wished}.values())
    place = {set_up.name: at for at, set_up in enumerate(set_ups)}
    own = [place[task.set_up.name] for task in wished]
    if len(wished) > LARGE:

        def changing(order: Sequence[int]) -> int:
            first = set_ups[own[order[0]]].after(None)
            return first + sum(set_ups[own[step]].after(set_ups[own[at]]) for at, step in pairwise(order))

        order = min(as_wished(before), quick_order(own, before), key=changing)
        cost = changing(order)
        least = sum(min(set_up.piece, set_up.coming + set_up.ready) for set_up in set_ups if not set_up.waits)
    else:
        stations = list(dict.fromkeys(set_up.station for set_up in set_ups))
        answer = least_changing(
            Steps(
                tuple(own),
                tuple(before),
                tuple(tuple(other.after(set_up) for other in set_ups) for set_up in set_ups),
                tuple(set_up.after(None) for set_up in set_ups),
                tuple(stations.index(set_up.station) for set_up in set_ups),
            )
        )
        order, cost, least = answer.order, answer.cost, answer.least
    changes = sum(own[one] != own[step] and not set_ups[own[step]].waits for one, step in pairwise(order))
    changes += not set_ups[own[order[0]]].waits
    names = tuple(wished[step].id for step in order)
    return Arranged(names, Changing(changes, round(cost / SECONDS, 1), round(least / SECONDS, 1)))


def _as_wished(usual: list[Orderable], wish: Sequence[str]) -> list[Orderable]:
    """The tasks as an earlier plan had them; what it had not, behind what usually comes before it."""
    place = {name: at for at, name in enumerate(wish)}
    last, keyed = -1, []
    for at, task in enumerate(usual):
        last = place.get(task.id, last)
        keyed.append((last, task.id not in place, at, task))
    return [task for *_, task in sorted(keyed, key=lambda each: each[:3])]


def _earlier(number: dict[str, int], reasons: Sequence[Reason]) -> list[set[int]]:
    """For each task the numbers of those it demands."""
    earlier: list[set[int]] = [set() for _ in number]
    for reason in reasons:
        earlier[number[reason.after]].add(number[reason.before])
    return earlier


def find_circle(pairs: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """The fewest names that come before each other in a circle, the first again at the end; empty if there is none."""
    found = sorted(set(pairs))
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for before, after in found:
        sorter.add(after, before)
    try:
        sorter.prepare()
    except CycleError:
        return _shortest_circle(found)
    return ()


def _shortest_circle(pairs: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    import networkx as nx

    graph: nx.DiGraph[str] = nx.DiGraph(pairs)
    home = {name: number for number, many in enumerate(nx.strongly_connected_components(graph)) for name in many}
    circles: Iterator[tuple[str, ...]] = (
        (before, *nx.shortest_path(graph, after, before)) for before, after in pairs if home[before] == home[after]
    )
    return min(circles, key=lambda circle: (len(circle), circle))


YIELDING: tuple[ReasonKind, ...] = ("surface", "break-out", "splitting", "fit", "holding")
"""Reasons that a teacher's decision may overrule; the proof still looks at what comes of it. The others say that a cut would
lose its support, its size or its room, that the thing could not be put together, or that somebody could be hurt. That a face is
cleaned, or hardware fixed, while it is easily got at is workmanship, and yields; what hands no longer get at does not."""


def yields(reason: Reason) -> bool:
    """Whether a decision may overrule a reason. What must be cut for a joint to fit never yields where solids show it: made so,
    the thing would not go together."""
    return reason.kind in YIELDING and (reason.kind != "fit" or bool(reason.harm))


def may_yield(reason: Reason) -> bool:
    """Whether a decision may set a reason aside: it yields, or it is the plan's own choice."""
    return reason.kind == "choice" or yields(reason)


_REMEDIES: Mapping[str, str] = {
    "decision": "take back the decision that {before} comes before {after}",
    "choice": "decide that {after} comes before {before}",
    "drawing": "change what the drawing or its joints say of {after}",
    **dict.fromkeys(YIELDING, "decide that {after} comes before {before}"),
}
"""What takes a reason out of a circle."""


class Circle(Refused):
    """No order exists. `reasons`: a smallest circle of them, each from the task that the one before it leads to; `nor`: why none
    exists either where parts are worked in a strip; `does`: what each task in it does, by its name, as no plan holds them all."""

    def __init__(
        self, finding: Finding, reasons: Sequence[Reason], nor: Sequence[str] = (), does: Mapping[str, str] | None = None
    ) -> None:
        super().__init__([finding])
        self.reasons, self.nor, self.does = tuple(reasons), tuple(nor), dict(does or {})


def refuse_circle(every: Sequence[Reason]) -> None:
    """Refused if the reasons go round in a circle, with every reason of a smallest one and what to give up."""
    circle = find_circle((reason.before, reason.after) for reason in every)
    if not circle:
        return
    first: dict[tuple[str, str], Reason] = {}
    for reason in every:
        first.setdefault((reason.before, reason.after), reason)
    reasons = [first[pair] for pair in pairwise(circle)]
    chain = "; ".join(f"{reason.before} before {reason.after} ({reason.sentence})" for reason in reasons)
    remedy = _given_up(reasons)
    raise Circle(
        Finding(
            "error",
            "circle",
            reasons[0].before,
            f"No order of work exists; these {len(reasons)} reasons go round in a circle: {chain}.",
            "Each of these must come before the next, so none can be first.",
            remedy or "Change the drawing so that one of these reasons falls away.",
        ),
        reasons,
    )


def _given_up(reasons: Sequence[Reason]) -> str:
    """What takes a circle of reasons apart, as a sentence: first of all to take a decision back. Empty if nothing does."""
    remedies = sorted(
        {
            _REMEDIES[reason.kind].format(before=reason.before, after=reason.after)
            for reason in reasons
            if reason.kind in _REMEDIES and (yields(reason) or reason.kind not in YIELDING)
        }
    )
    text = " or ".join([each for each in remedies if each.startswith("take back")] or remedies)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def chain_between(graph: nx.DiGraph[str], before: str, after: str) -> tuple[Reason, ...]:
    """The shortest chain of reasons that demand one task before another; empty if nothing demands it. Choices demand
    nothing."""
    import networkx as nx

    demanded = nx.subgraph_view(graph, filter_edge=lambda a, b: graph.edges[a, b]["reason"].kind != "choice")
    return _chain(demanded, before, after)


def chosen_between(graph: nx.DiGraph[str], before: str, after: str) -> tuple[Reason, ...]:
    """The shortest chain from one task to another, choices of the tool included."""
    return _chain(graph, before, after)


def _chain(graph: nx.DiGraph[str], before: str, after: str) -> tuple[Reason, ...]:
    import networkx as nx

    try:
        path = nx.shortest_path(graph, before, after)
    except nx.NetworkXNoPath:
        return ()
    return tuple(graph.edges[a, b]["reason"] for a, b in pairwise(path))
