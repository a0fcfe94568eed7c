"""Why one step comes before another, as few arrows as say it all, and the chain of steps that takes longest. min.

A step waits for another if a reason joins their tasks. An arrow that follows from others is left out (transitive reduction).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.model.plan import Plan, Reason, ReasonKind, Step

if TYPE_CHECKING:
    import networkx as nx


@dataclass(frozen=True)
class Link:
    """An arrow between two steps, by their numbers. `reasons` is empty where it only ties staff's setting of a machine, or the
    putting back of its guards, to the work it is for."""

    before: int
    after: int
    reasons: tuple[Reason, ...] = ()

    @property
    def tie(self) -> bool:
        """Whether it joins a set-up or guards put back to the work, which no reason of the plan does."""
        return not self.reasons

    @property
    def kinds(self) -> tuple[ReasonKind, ...]:
        """The kinds of its reasons, each once; the tool's own choice only where nothing demands the order."""
        kinds = tuple(dict.fromkeys(reason.kind for reason in self.reasons))
        return tuple(kind for kind in kinds if kind != "choice") or kinds

    @property
    def sayings(self) -> tuple[tuple[ReasonKind, str], ...]:
        """One sentence for each kind."""
        said: dict[ReasonKind, str] = {}
        for reason in self.reasons:
            if reason.kind in self.kinds:
                said.setdefault(reason.kind, reason.sentence)
        return tuple(said.items())


@dataclass(frozen=True)
class Chain:
    """The chain of steps that takes longest: their numbers, the minutes of work and of waiting for one finished thing."""

    steps: tuple[int, ...]
    work: float
    waiting: float

    @property
    def pairs(self) -> frozenset[tuple[int, int]]:
        """The arrows it runs along."""
        return frozenset(pairwise(self.steps))


def step_minutes(step: Step) -> float:
    """What a step takes for one finished thing with its own setting up, min; for a wait the time by the clock."""
    return step.minutes + step.set_up_minutes


def step_graph(plan: Plan) -> nx.DiGraph[int]:
    """Step numbers as nodes in the order of the plan; as edges every reason between tasks of two steps, and the ties."""
    import networkx as nx

    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(step.number for step in plan.steps)
    of = _steps_of_tasks(plan.steps)
    for reason in plan.reasons:
        before, after = of[reason.before], of[reason.after]
        if before != after:
            graph.add_edge(before, after)
    graph.add_edges_from(_ties(plan.steps))
    return graph


def step_links(plan: Plan) -> tuple[Link, ...]:
    """The fewest arrows that say all the reasons between steps, in the order of the steps they lead to."""
    import networkx as nx

    of = _steps_of_tasks(plan.steps)
    reasons: dict[tuple[int, int], list[Reason]] = {}
    for reason in plan.reasons:
        reasons.setdefault((of[reason.before], of[reason.after]), []).append(reason)
    kept = nx.transitive_reduction(step_graph(plan)).edges
    return tuple(
        Link(before, after, tuple(reasons.get((before, after), ())))
        for before, after in sorted(kept, key=lambda pair: (pair[1], pair[0]))
    )


def longest_chain(plan: Plan) -> Chain:
    """The chain that takes longest, waiting included: however the work is shared out, the thing takes no less."""
    import networkx as nx

    graph = step_graph(plan)
    minutes = {step.number: step_minutes(step) for step in plan.steps}
    timed: nx.DiGraph[int] = nx.DiGraph()
    start = 0  # no step has this number
    timed.add_weighted_edges_from((start, number, minutes[number]) for number in graph.nodes)
    timed.add_weighted_edges_from((before, after, minutes[after]) for before, after in graph.edges)
    steps = tuple(nx.dag_longest_path(timed)[1:])
    waits = {step.number for step in plan.steps if step.kind == "wait"}
    waiting = sum(minutes[number] for number in steps if number in waits)
    return Chain(steps, sum(minutes[number] for number in steps) - waiting, waiting)


def _steps_of_tasks(steps: Sequence[Step]) -> Mapping[str, int]:
    return {task: step.number for step in steps if step.kind in ("work", "wait") for task in step.tasks}


def _ties(steps: Sequence[Step]) -> list[tuple[int, int]]:
    """A set-up comes before the work whose name it bears, the guards back after it."""
    of = {step.id: step.number for step in steps}
    ties = []
    for step in steps:
        if step.kind in ("set-up", "guards-back"):
            work = of[step.id.removesuffix(f"/{step.kind}")]
            ties.append((step.number, work) if step.kind == "set-up" else (work, step.number))
    return ties
