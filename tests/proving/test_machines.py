"""Small parts made on solids by the ways of pull-over saw, spindle moulder, held router, jigsaw, held circular saw and laser."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Decision
from sequencer.paper.drawing import picture
from sequencer.paper.step_pictures import Pictured
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.made import knowledge, workshop
from tests.outside.bench import board

SIZES = [
    ("rough-cut-on-pull-over-saw", "rough-length", {}),
    ("crosscut-on-pull-over-saw", "first-end", {}),
    ("crosscut-on-pull-over-saw", "length", {}),
]
"""Ways of work that is no feature of the drawing."""


@pytest.mark.parametrize(("way", "kind", "sizes"), SIZES, ids=[f"{way}-{kind}" for way, kind, _ in SIZES])
def test_a_part_sized_this_way_is_the_part_that_is_drawn(way: str, kind: str, sizes: dict[str, float]) -> None:
    made(way, f"rail/{kind}", board(length=450, **sizes))  # type: ignore[arg-type]


def made(way: str, about: str, drawn: Any) -> None:
    """Plans a job by a way, carries it out on solids, and draws the step."""
    drawn = replace(drawn, decisions=(Decision(about, "Head of technology", "for this check", way=way),))
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    making = carry_out(plan, drawn)
    proof = with_record(plan, making).proof
    assert proof is not None
    assert proof.held, [look for look in proof.looks if not look.held]
    task = next(task for task in plan.tasks if task.id.startswith(f"{about}/"))
    step = next(step for step in plan.steps if task.id in step.tasks and step.kind == "work")
    assert step.operation == next(each.operations[way].name for each in knowledge().stations.values() if way in each.operations)
    assert picture(step, Pictured(plan, drawn, making)).readable
