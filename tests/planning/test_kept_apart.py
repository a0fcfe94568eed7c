"""Orders that parts worked in one strip do not allow: two strips, or one part piece by piece, whichever costs least."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Aim, Decision, Job
from sequencer.model.plan import Plan
from sequencer.planning.agreeing import agree
from sequencer.planning.grouping import joint_groups
from sequencer.planning.order import Circle
from sequencer.planning.planner import make_plan, ways_asked
from sequencer.planning.shop import Shop
from sequencer.planning.work import part_work
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop
from tests.planning.test_student_strips import RAILS, furrow_of

SHARED = ("rail/length", "post/furrow")
"""An order that one strip of both does not allow, and two strips do."""
BACK = ("post/length", "rail/furrow")
"""With the other an order that two strips do not allow either."""


@pytest.fixture(scope="module")
def rails(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """Four rails of 120 mm and two posts of 150 with the same groove; in one strip if nothing is decided."""
    file: Path = tmp_path_factory.mktemp("rails") / "job.yaml"
    file.write_text(RAILS, encoding="utf-8")
    return read_job(file)[0]


def ordered(drawn: Job, *orders: tuple[str, str], aim: Aim = "most-by-students") -> Job:
    decisions = tuple(Decision(about, "Head", "as we always do", before=before) for about, before in orders)
    return replace(drawn, decisions=decisions, aim=aim)


def planned(drawn: Job) -> Plan:
    return make_plan(drawn, workshop(), knowledge())


def long(made: Plan) -> tuple[bool, bool]:
    """Whether the furrow of the rails, and that of the posts, is ploughed in the long."""
    return furrow_of(made)[1], furrow_of(made, "post")[1]


@pytest.mark.parametrize("order", [SHARED, BACK, ("rail/hole", "post/furrow")])
def test_an_order_across_two_parts_of_one_strip_gives_each_its_own(rails: Job, order: tuple[str, str]) -> None:
    """Cut apart first, the rails take 143 minutes more and the posts 31: neither is asked for."""
    made = planned(ordered(rails, order))
    assert long(made) == (True, True)
    assert [strip.name for strip in made.strips] == ["rail", "post"]
    place = {task.id: number for number, task in enumerate(made.tasks)}
    before, after = (max(place[name] for name in place if name.startswith(f"{asked}/")) for asked in order)
    assert before < after
    assert made.decisions[0].cost == "costs 13 min of changing set-ups and costs 10 min of work on each thing"
    for strip, other in zip(made.strips, "BA", strict=True):
        assert strip.why.endswith(f" No strip with {other}: Decided by Head: as we always do.") or order[0] == "rail/hole"
    assert carry_out(made, ordered(rails, order)).proof.held


def test_where_two_strips_do_not_do_the_part_that_costs_less_is_worked_piece_by_piece(rails: Job) -> None:
    drawn = ordered(rails, SHARED, BACK)
    made = planned(drawn)
    assert long(made) == (True, False)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["rail/furrow/cut"] < place["rail/length/cut"] < place["post/furrow/cut"]
    assert place["post/length/cut"] < place["post/furrow/cut"]
    assert carry_out(made, drawn).proof.held


def test_an_order_within_one_part_leaves_the_other_in_its_strip(rails: Job) -> None:
    assert long(planned(ordered(rails, ("rail/length", "rail/furrow")))) == (False, True)
    assert long(planned(ordered(rails, ("post/length", "post/furrow")))) == (True, False)


def test_what_staff_work_in_the_long_is_kept_out_of_it_by_an_order_too(rails: Job) -> None:
    """A post of 150 mm is ploughed by itself; the router table, which takes less time, asks for a longer one."""
    drawn = ordered(rails, ("post/length", "post/furrow"), aim="least-time")
    made = planned(drawn)
    assert (furrow_of(made), furrow_of(made, "post")) == (("rout-groove", True), ("plough-groove", False))
    (asked,) = ways_asked("post/furrow", drawn, workshop(), knowledge())
    said = {(way.operation, way.in_the_long): why for way, why in zip(asked.ways, asked.why, strict=True) if way.possible}
    assert said["rout-groove", True] == "In one strip it would come too early. Decided by Head: as we always do."


def test_an_order_that_no_way_of_cutting_them_allows_is_refused_with_why(rails: Job) -> None:
    drawn = ordered(rails, ("rail/furrow", "rail/rough-length"))
    with pytest.raises(Circle) as refused:
        planned(drawn)
    assert {reason.after for reason in refused.value.reasons} >= {"rail/furrow/cut"}


def test_many_parts_in_many_circles_come_to_an_end(rails: Job) -> None:
    """Four kinds of part in one strip, each ordered behind the one before it and before the one after: beyond so many tries all
    that stands in a circle is kept apart at once."""
    post = rails.parts["post"]
    parts = {f"post-{number}": replace(post, name=f"post-{number}", letter=chr(65 + number)) for number in range(4)}
    names = [*parts]
    orders = [(f"{one}/length", f"{other}/furrow") for one, other in zip(names, names[1:] + names[:1], strict=True)]
    drawn = ordered(replace(rails, parts=parts), *orders)
    shop = Shop(job=drawn, workshop=workshop(), knowledge=knowledge())
    found = agree(part_work(drawn, knowledge().working), joint_groups(drawn), shop)
    assert found.circle is None
    place = {name: number for number, name in enumerate(found.arranged.order)}
    assert all(place[f"{one}/cut"] < place[f"{other}/cut"] for one, other in orders)
    kept = found.choice.long.kept
    assert len(kept.own_strips) + len(kept.by_the_piece) > 1
