"""The order of a plan against graph theory and against the orders two old books give."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from itertools import product

import networkx as nx
import pytest
import yaml

from sequencer.model.plan import Plan
from tests.made import EXAMPLES, ROOT, WORKSHOPS, plan
from tests.orders import test_orders

# Job file, order file, author, title and year of the book, read in a copy at Project Gutenberg (numbers 43574 and 37447).
FOSTER = ("tests/cases/s01-bench-hook.yaml", "tests/cases/orders/s01.yaml", "Edwin W. Foster, Carpentry and Woodwork, 1911")
SUTCLIFFE = ("tests/cases/s02-flower-pot-cross.yaml", "tests/cases/orders/s02.yaml", "John D. Sutcliffe, Hand-Craft, 1890")
BOOKS = [(*book, shop) for book, shop in product((FOSTER, SUTCLIFFE), WORKSHOPS)]


@pytest.mark.parametrize(("made", "order", "book", "shop"), BOOKS)
def test_what_the_book_does_first_the_plan_does_first(made: str, order: str, book: str, shop: str) -> None:
    assert yaml.safe_load((ROOT / order).read_text(encoding="utf-8"))["by"] == book
    test_orders.test_most_pairs_are_judged(made, order, shop)
    test_orders.test_what_must_come_first_does(made, order, shop)


@pytest.mark.parametrize(("made", "order", "book", "shop"), BOOKS)
def test_what_the_book_leaves_free_the_plan_does_not_call_necessary(made: str, order: str, book: str, shop: str) -> None:
    test_orders.test_what_is_free_is_not_called_necessary(made, order, shop)


PLANS = [*product(EXAMPLES, WORKSHOPS), *product((FOSTER[0], SUTCLIFFE[0]), WORKSHOPS)]


def sorter(made: Plan) -> TopologicalSorter[str]:
    found: TopologicalSorter[str] = TopologicalSorter({task.id: () for task in made.tasks})
    for reason in made.reasons:
        found.add(reason.after, reason.before)
    return found


# An order of work is a topological order of its reasons: at each act, everything it waits for is done (A. B. Kahn, 1962,
# from memory). Judged by the sorter of Python's standard library, which the tool does not use.
@pytest.mark.parametrize(("name", "shop"), PLANS)
def test_every_task_is_ready_when_its_turn_comes(name: str, shop: str) -> None:
    made = plan(name, shop)
    waiting = sorter(made)
    waiting.prepare()
    ready: set[str] = set()
    for task in made.tasks:
        ready |= set(waiting.get_ready())
        assert task.id in ready, task.id
        waiting.done(task.id)
    assert not waiting.is_active()


# The same in the words of graph theory: no circle, and the order agrees with every reason and all that follows from them.
@pytest.mark.parametrize(("name", "shop"), PLANS)
def test_the_reasons_form_no_circle_and_their_closure_holds(name: str, shop: str) -> None:
    made = plan(name, shop)
    graph: nx.DiGraph[str] = nx.DiGraph((reason.before, reason.after) for reason in made.reasons)
    assert nx.is_directed_acyclic_graph(graph)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    closure = nx.transitive_closure_dag(graph)
    assert closure.number_of_edges() > graph.number_of_edges()
    assert all(place[before] < place[after] for before, after in closure.edges)


def test_both_judges_would_see_a_circle() -> None:
    made = plan("herb-caddy")
    reason = made.reasons[0]
    backwards = sorter(made)
    backwards.add(reason.before, reason.after)
    with pytest.raises(CycleError):
        backwards.prepare()
    assert not nx.is_directed_acyclic_graph(nx.DiGraph([(reason.before, reason.after), (reason.after, reason.before)]))


# common practice, no source: everything tried dry and cleaned inside before glue, finish after the last joint.
@pytest.mark.parametrize(("name", "shop"), list(product(EXAMPLES, WORKSHOPS)))
def test_fit_dry_then_clean_inside_then_glue_then_finish(name: str, shop: str) -> None:
    made = plan(name, shop)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    by_kind: dict[str, list[int]] = {}
    for task in made.tasks:
        by_kind.setdefault(task.kind, []).append(place[task.id])
    joined = sorted(by_kind.get("glue", []) + by_kind.get("screw", []))
    assert joined
    # What a bird nests in stays rough inside.
    assert ("clean-inside" in by_kind) == (name != "nest-box")
    for kind in {"dry-fit", "clean-inside"} & set(by_kind):
        assert min(by_kind[kind]) < joined[0]
    assert all(joined[-1] < coat for coat in by_kind.get("coat", []))
