"""Least changing against every order there is, tried one by one on problems small enough for that."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.ordering.bound import bound_of
from sequencer.ordering.exact import beam, search
from sequencer.ordering.least import least_changing
from sequencer.ordering.problem import Steps, any_order, closed, faults, members, set_of
from sequencer.ordering.quick import quick_order
from sequencer.ordering.states import least_changes, moves_of


@st.composite
def problems(draw: st.DrawFn, most: int = 7) -> Steps:
    """Some steps in a few set-ups at one to three stations, with demands that go from smaller to larger numbers or back."""
    count = draw(st.integers(1, most))
    set_ups = draw(st.integers(1, 4))
    station = draw(st.lists(st.integers(0, 2), min_size=set_ups, max_size=set_ups))
    cost = st.integers(1, 9)
    change = [[0 if a == b else draw(cost) for b in range(set_ups)] for a in range(set_ups)]
    rank = draw(st.permutations(range(count)))
    pairs = draw(st.sets(st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)), max_size=2 * count))
    before = [set_of(one for one, other in pairs if other == step and rank[one] < rank[step]) for step in range(count)]
    own = draw(st.lists(st.integers(0, set_ups - 1), min_size=count, max_size=count))
    first = tuple(draw(cost) for _ in range(set_ups))
    return Steps(tuple(own), tuple(before), tuple(map(tuple, change)), first, tuple(station))


def every_order(before: tuple[int, ...], done: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Every order the demands allow."""
    if len(done) == len(before):
        yield done
    for step in range(len(before)):
        if step not in done and set(members(before[step])) <= set(done):
            yield from every_order(before, (*done, step))


@given(problems())
def test_no_order_changes_less(steps: Steps) -> None:
    answer = least_changing(steps)
    eased = least_changes(steps)
    assert faults(answer.order, steps.before) == ()
    assert answer.cost == eased.cost(answer.order) == min(eased.cost(order) for order in every_order(steps.before))
    assert answer.proved


def test_an_order_that_nothing_found_beats_is_kept_where_no_proof_was_taken() -> None:
    """As many steps as are not proved: numbered in the order of the answer, the answer is the numbers."""
    random = Random(5)
    count, set_ups = 90, 18
    before = [set_of(random.sample(range(step), min(step, 2))) for step in range(count)]
    own = [random.randrange(set_ups) for _ in range(count)]
    change = tuple(tuple(0 if a == b else 3 + 4 * (a % 5 != b % 5) for b in range(set_ups)) for a in range(set_ups))
    problem = Steps(tuple(own), tuple(before), change, (7,) * set_ups, tuple(each % 5 for each in range(set_ups)))
    first = least_changing(problem)
    assert not first.proved
    place = {step: number for number, step in enumerate(first.order)}
    again = Steps(
        tuple(own[step] for step in first.order),
        tuple(set_of(place[earlier] for earlier in members(before[step])) for step in first.order),
        change,
        problem.first,
        problem.station,
    )
    second = least_changing(again)
    assert second.cost <= first.cost
    assert second.order == tuple(range(count)) or second.cost < first.cost


@given(problems())
def test_of_the_best_orders_the_one_nearest_to_the_numbers_is_taken(steps: Steps) -> None:
    eased = least_changes(steps)
    answer = least_changing(steps)

    def smallest_of_runs(order: tuple[int, ...]) -> list[int]:
        runs: list[list[int]] = [[order[0]]]
        for one, step in pairwise(order):
            if eased.set_up[one] == eased.set_up[step]:
                runs[-1].append(step)
            else:
                runs.append([step])
        return [min(run) for run in runs]

    greedy = [order for order in every_order(steps.before) if eased.cost(order) == answer.cost and _leaves_nothing(eased, order)]
    assert smallest_of_runs(answer.order) == min(smallest_of_runs(order) for order in greedy)


def _leaves_nothing(steps: Steps, order: tuple[int, ...]) -> bool:
    """Whether a set-up is left only when nothing more can be done in it."""
    done = 0
    for step, following in pairwise(order):
        done |= 1 << step
        if steps.set_up[following] != steps.set_up[step] and any(
            own == steps.set_up[step] and not done >> other & 1 and not steps.before[other] & ~done
            for other, own in enumerate(steps.set_up)
        ):
            return False
    return True


@given(problems())
def test_the_bound_is_never_above_the_best(steps: Steps) -> None:
    eased = least_changes(Steps(steps.set_up, closed(steps.before), steps.change, steps.first, steps.station))
    moves, bound = moves_of(eased), bound_of(eased)
    best = search(eased, moves, bound, None, 10_000)
    for done, set_up in best.path[1:]:
        order = [step for one, other in pairwise(best.path) for step in moves.done_between(one[0], other[0], other[1])]
        rest = [step for step in order if not done >> step & 1]
        at = eased.station[set_up]
        to_come = sum(eased.change[one][other] for one, other in pairwise([set_up, *(eased.set_up[step] for step in rest)]))
        assert bound.of(eased.all & ~done, at) <= to_come


@given(problems(12))
def test_a_search_that_gives_up_still_says_what_no_order_beats(steps: Steps) -> None:
    best = least_changing(steps)
    hasty = least_changing(steps, effort=len(steps.set_up))
    assert faults(hasty.order, steps.before) == ()
    assert hasty.least <= best.cost <= hasty.cost


@given(problems(12))
def test_a_beam_gives_an_order_that_is_allowed(steps: Steps) -> None:
    eased = least_changes(Steps(steps.set_up, closed(steps.before), steps.change, steps.first, steps.station))
    moves = moves_of(eased)
    path = beam(eased, moves, bound_of(eased), 1)
    order = [step for one, other in pairwise(path) for step in moves.done_between(one[0], other[0], other[1])]
    assert faults(order, steps.before) == ()


@given(problems())
def test_the_quick_order_is_allowed_and_leaves_nothing_behind(steps: Steps) -> None:
    order = quick_order(steps.set_up, steps.before)
    assert faults(order, steps.before) == ()
    assert _leaves_nothing(steps, order)


def test_a_circle_has_no_order() -> None:
    with pytest.raises(ValueError, match="circle"):
        any_order((0b10, 0b01))


def test_faults_are_seen() -> None:
    assert faults((0, 0), (0, 0)) == ("not every step comes once",)
    assert faults((1, 0), (0, 1)) == ("0 must come before 1",)
