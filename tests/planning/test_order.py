"""Order: hand-made tasks whose answer is worked out in the comments."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.findings import Refused
from sequencer.model.plan import Reason
from sequencer.planning.changing import SetUp
from sequencer.planning.order import Orderable, chain_between, put_in_order, reason_graph


def _task(name: str, set_up: str = "", staff: bool = False, rank: float = 0, number: int = 0) -> Orderable:
    return Orderable(name, _set_up(set_up or name), staff, rank, number)


def _set_up(name: str) -> SetUp:
    """A set-up at a station of its own, a minute to get there."""
    return SetUp(name, name, name, 60, 0, {}, 60)


def _order(tasks: list[Orderable], reasons: list[Reason], wish: tuple[str, ...] = ()) -> tuple[str, ...]:
    return put_in_order(tasks, reasons, wish).order


def _reason(before: str, after: str) -> Reason:
    return Reason(before, after, "reference", f"{before} is needed for {after}.")


def test_a_reason_is_kept() -> None:
    assert _order([_task("b"), _task("a")], [_reason("a", "b")]) == ("a", "b")


def test_one_set_up_runs_through_before_the_next() -> None:
    # Two holes of one size and one groove between them in the file: the drill is set once.
    tasks = [_task("hole-1", "drill 6", number=0), _task("groove", "plough", number=1), _task("hole-2", "drill 6", number=2)]
    assert _order(tasks, []) == ("hole-1", "hole-2", "groove")


def test_a_set_up_waits_until_all_its_tasks_can_be_done() -> None:
    # Drilling could start with hole-1, but hole-2 needs the groove: groove first, then both holes with one setting.
    tasks = [_task("hole-1", "drill", number=0), _task("hole-2", "drill", number=1), _task("groove", "plough", number=2)]
    assert _order(tasks, [_reason("groove", "hole-2")]) == ("groove", "hole-1", "hole-2")


def test_a_set_up_with_its_own_inner_order_counts_as_ready() -> None:
    # First end, then length, both on the bench hook: nothing outside is waited for, so they run together.
    tasks = [
        _task("mark", rank=1, number=0),
        _task("first-end", "saw", rank=2, number=1),
        _task("length", "saw", rank=3, number=2),
    ]
    assert _order(tasks, [_reason("first-end", "length")]) == ("mark", "first-end", "length")


def test_staff_work_comes_before_lessons_where_it_can() -> None:
    tasks = [_task("student", rank=0, number=0), _task("staff", staff=True, rank=9, number=1)]
    assert _order(tasks, []) == ("staff", "student")


def test_a_circle_is_refused_and_spelled_out() -> None:
    with pytest.raises(Refused) as refused:
        put_in_order([_task("a"), _task("b")], [_reason("a", "b"), _reason("b", "a")])
    (finding,) = refused.value.findings
    assert finding.what == (
        "No order of work exists; these 2 reasons go round in a circle: "
        "a before b (a is needed for b.); b before a (b is needed for a.)."
    )
    assert finding.code == "circle"


def test_a_circle_made_by_a_decision_says_which_to_take_back() -> None:
    reasons = [_reason("a", "b"), Reason("b", "a", "decision", "Decided by Head: faster.", "decision of Head")]
    with pytest.raises(Refused) as refused:
        put_in_order([_task("a"), _task("b")], reasons)
    assert refused.value.findings[0].remedy == "Take back the decision that b comes before a."


def test_of_many_circles_a_smallest_is_spelled_out() -> None:
    # a > b > c > d > a is a circle of four; c > d > c one of two.
    reasons = [_reason("a", "b"), _reason("b", "c"), _reason("c", "d"), _reason("d", "a"), _reason("d", "c")]
    with pytest.raises(Refused) as refused:
        put_in_order([_task(name) for name in "abcd"], reasons)
    assert refused.value.findings[0].what == (
        "No order of work exists; these 2 reasons go round in a circle: "
        "c before d (c is needed for d.); d before c (d is needed for c.)."
    )


def test_what_may_yield_is_the_remedy_of_a_circle() -> None:
    reasons = [_reason("a", "b"), Reason("b", "a", "surface", "Faces of b are cleaned before a.")]
    with pytest.raises(Refused) as refused:
        put_in_order([_task("a"), _task("b")], reasons)
    assert refused.value.findings[0].remedy == "Decide that a comes before b."


def test_an_earlier_order_is_kept_where_it_changes_as_little() -> None:
    tasks = [_task("saw", number=0), _task("drill", number=1), _task("plane", number=2)]
    assert _order(tasks, []) == ("saw", "drill", "plane")
    assert _order(tasks, [], ("plane", "saw", "drill")) == ("plane", "saw", "drill")
    # A new task stands behind what usually comes before it.
    assert _order([*tasks, _task("glue", number=3)], [], ("plane", "saw", "drill")) == ("plane", "glue", "saw", "drill")


def test_an_earlier_order_yields_where_another_changes_less() -> None:
    tasks = [_task("hole-1", "drill", number=0), _task("groove", "plough", number=1), _task("hole-2", "drill", number=2)]
    assert _order(tasks, [], ("hole-1", "groove", "hole-2")) == ("hole-1", "hole-2", "groove")


def test_the_chain_between_two_tasks_is_the_shortest() -> None:
    graph = reason_graph(["a", "b", "c"], [_reason("a", "b"), _reason("b", "c"), _reason("a", "c")])
    assert [reason.after for reason in chain_between(graph, "a", "c")] == ["c"]
    assert chain_between(graph, "c", "a") == ()


@st.composite
def _jobs(draw: st.DrawFn) -> tuple[list[Orderable], list[Reason]]:
    number = draw(st.integers(1, 14))
    tasks = [
        _task(f"t{i}", draw(st.sampled_from(("saw", "drill", "plane"))), draw(st.booleans()), draw(st.integers(0, 3)), i)
        for i in range(number)
    ]
    pairs = draw(st.lists(st.tuples(st.integers(0, number - 1), st.integers(0, number - 1)), max_size=20))
    return tasks, [_reason(f"t{min(pair)}", f"t{max(pair)}") for pair in pairs if pair[0] != pair[1]]


@given(_jobs(), st.randoms())
def test_every_reason_holds_and_the_order_of_reasons_does_not_matter(
    made: tuple[list[Orderable], list[Reason]], random: object
) -> None:
    tasks, reasons = made
    order = _order(tasks, reasons)
    assert sorted(order) == sorted(task.id for task in tasks)
    assert all(order.index(reason.before) < order.index(reason.after) for reason in reasons)
    shuffled = list(reasons)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert _order(tasks, shuffled) == order


def test_waiting_is_no_set_up_and_nothing_is_saved_by_it() -> None:
    # Glue, wait, saw: two set-ups of a minute each; after the wait the saw is gone to as from nothing, though it stands there.
    saw, wait = _set_up("saw"), replace(_set_up("wait"), station="saw", waits=True)
    tasks = [_task("glue"), Orderable("cure", wait, False, 0, 1), Orderable("cut", saw, False, 0, 2)]
    arranged = put_in_order(tasks, [_reason("glue", "cure"), _reason("cure", "cut")])
    assert arranged.order == ("glue", "cure", "cut")
    assert (arranged.changing.changes, arranged.changing.minutes, arranged.changing.least) == (2, 2.0, 2.0)


def test_a_set_up_that_a_wait_breaks_is_gone_to_again() -> None:
    tasks = [_task("cut", "saw"), Orderable("cure", replace(_set_up("wait"), waits=True), False, 0, 1), _task("trim", "saw")]
    arranged = put_in_order(tasks, [_reason("cut", "cure"), _reason("cure", "trim")])
    assert (arranged.changing.changes, arranged.changing.minutes) == (2, 2.0)
