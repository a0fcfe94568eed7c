"""One order out of the many that the reasons allow: tasks that share a set-up run together where they can.

Equal input gives equal order: ties break by the usual place of the work, then by the drawing's order. A circle of
reasons is refused, spelled out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.findings import Finding, Refused
from sequencer.model.plan import Reason

if TYPE_CHECKING:
    import networkx as nx


@dataclass(frozen=True)
class Orderable:
    """What ordering knows of a task: its set-up, whether staff do it, its usual place, its place in the drawing."""

    id: str
    set_up: str
    staff: bool
    rank: float
    number: int


def reason_graph(tasks: Sequence[str], reasons: Sequence[Reason]) -> nx.DiGraph[str]:
    """The tasks as nodes, in their order, and the reasons as edges with the reason as `reason`."""
    import networkx as nx  # takes as long to load as a small plan to make, and only questions need it

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(tasks)
    for reason in reasons:
        if not graph.has_edge(reason.before, reason.after):
            graph.add_edge(reason.before, reason.after, reason=reason)
    return graph


def put_in_order(tasks: Sequence[Orderable], reasons: Sequence[Reason]) -> tuple[str, ...]:
    """Task names in the order they are done.

    Among the tasks that may come next: go on with the set-up that is mounted; else take up one whose tasks can all be
    done without leaving it, staff's before students', in the usual order of a workshop. Refused if the reasons form a
    circle.
    """
    refuse_circle(reasons)
    by_id = {task.id: task for task in tasks}
    pairs = dict.fromkeys((reason.before, reason.after) for reason in reasons)
    waiting = {task.id: 0 for task in tasks}
    followers: dict[str, list[str]] = {task.id: [] for task in tasks}
    for before, after in pairs:
        waiting[after] += 1
        followers[before].append(after)
    # How many demands of other set-ups on the tasks of a set-up are still open: with none it can be finished in one go.
    awaited = {task.set_up: 0 for task in tasks}
    for before, after in pairs:
        awaited[by_id[after].set_up] += by_id[before].set_up != by_id[after].set_up
    ready = {task.id for task in tasks if waiting[task.id] == 0}
    ready_of: dict[str, set[str]] = {}
    for name in ready:
        ready_of.setdefault(by_id[name].set_up, set()).add(name)
    order: list[str] = []
    mounted = ""
    while ready:
        here = ready_of.get(mounted)
        if not here:
            mounted = _next_set_up(ready_of, awaited, by_id)
            here = ready_of[mounted]
        name = min(here, key=lambda each: (by_id[each].rank, by_id[each].number))
        order.append(name)
        ready.remove(name)
        here.remove(name)
        if not here:
            del ready_of[mounted]
        for follower in followers[name]:
            waiting[follower] -= 1
            awaited[by_id[follower].set_up] -= by_id[follower].set_up != mounted
            if waiting[follower] == 0:
                ready.add(follower)
                ready_of.setdefault(by_id[follower].set_up, set()).add(follower)
    return tuple(order)


def _next_set_up(ready_of: Mapping[str, set[str]], awaited: Mapping[str, int], by_id: Mapping[str, Orderable]) -> str:
    def key(set_up: str) -> tuple[object, ...]:
        tasks = [by_id[name] for name in ready_of[set_up]]
        first = min(tasks, key=lambda task: (task.rank, task.number))
        return (awaited[set_up] > 0, not first.staff, first.rank, first.number, set_up)

    return min(ready_of, key=key)


def find_circle(pairs: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Names that come before each other in a circle, the first again at the end; empty if there is none."""
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for before, after in pairs:
        sorter.add(after, before)
    try:
        sorter.prepare()
    except CycleError as error:
        return tuple(error.args[1])
    return ()


def refuse_circle(every: Sequence[Reason]) -> None:
    """Refused if the reasons go round in a circle, with every reason of one circle."""
    circle = find_circle((reason.before, reason.after) for reason in every)
    if not circle:
        return
    first: dict[tuple[str, str], Reason] = {}
    for reason in every:
        first.setdefault((reason.before, reason.after), reason)
    reasons = [first[pair] for pair in pairwise(circle)]
    chain = "; ".join(f"{reason.before} before {reason.after} ({reason.sentence})" for reason in reasons)
    decided = next((reason for reason in reasons if reason.kind == "decision"), None)
    remedy = (
        f"Take back the decision that {decided.before} comes before {decided.after}."
        if decided
        else "Change the drawing or the joints so that one of these reasons falls away."
    )
    raise Refused(
        [
            Finding(
                "error",
                "circle",
                reasons[0].before,
                f"No order of work exists; these reasons go round in a circle: {chain}.",
                "Each of these must come before the next, so none can be first.",
                remedy,
            )
        ]
    )


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
