"""Orders with costs of any kind, against every order there is."""

from __future__ import annotations

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from sequencer.ordering.exchange import exchanged
from sequencer.ordering.general import arrange, cheapest_next
from sequencer.ordering.layers import best_order
from sequencer.ordering.problem import Nodes, closed, faults, set_of


@st.composite
def nodes(draw: st.DrawFn) -> Nodes:
    """Up to six nodes between a first and a last."""
    count = draw(st.integers(2, 8))
    cost = tuple(tuple(draw(st.integers(0, 20)) for _ in range(count)) for _ in range(count))
    rank = [0, *(1 + each for each in draw(st.permutations(range(count - 2)))), count - 1]
    pairs = draw(st.sets(st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)), max_size=count))
    wished = {(one, other) for one, other in pairs if rank[one] < rank[other]}
    ends = {(0, node) for node in range(1, count)} | {(node, count - 1) for node in range(count - 1)}
    before = [set_of(one for one, other in wished | ends if other == node and one != node) for node in range(count)]
    before[0] = 0
    return Nodes(cost, closed(before))


def _best(given_: Nodes) -> int:
    inner = range(1, len(given_.before) - 1)
    orders = ((0, *middle, len(given_.before) - 1) for middle in permutations(inner))
    return min(given_.of(order) for order in orders if not faults(order, given_.before))


@given(nodes())
def test_no_order_is_cheaper(given_: Nodes) -> None:
    found = arrange(given_, rounds=5, effort=100_000)
    assert faults(found.order, given_.before) == ()
    assert found.proved
    assert found.cost == given_.of(found.order) == _best(given_)


@given(nodes())
def test_exchanging_keeps_the_demands_and_never_makes_it_dearer(given_: Nodes) -> None:
    start = cheapest_next(given_)
    found = exchanged(given_, start, 20)
    assert faults(found, given_.before) == ()
    assert _best(given_) <= given_.of(found) <= given_.of(start)


@given(nodes())
def test_a_proof_gives_up_when_it_may_not_look_further(given_: Nodes) -> None:
    known = given_.of(cheapest_next(given_)) + 1
    assert best_order(given_, known, 0) is None
    assert best_order(given_, _best(given_), 100_000) == ()


def test_equal_input_gives_an_equal_answer() -> None:
    cost = tuple(tuple((7 * one + 3 * other) % 11 for other in range(9)) for one in range(9))
    problem = Nodes(cost, closed([0, *(1 for _ in range(7)), 255]))
    assert arrange(problem, rounds=50, effort=0) == arrange(problem, rounds=50, effort=0)
