"""Ways in that are no single move along an axis: the proof tries what planning tries, on the pieces as they were made."""

from __future__ import annotations

from functools import cache

from sequencer.model.job import Job, Stock
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.design.jobs import feature, joint, part
from tests.design.jobs import job as made_job
from tests.made import knowledge, workshop
from tests.proving import damage

BEECH = Stock("board", "European beech", "board", 90, 20, (2000,), hardness="hardwood")


@cache
def keyhole() -> tuple[Job, Plan]:
    """An arm whose dovetail is let down into a recess and then pushed along a housing that is stopped at both ends."""
    slot = feature(
        "slot",
        "dovetail-housing",
        face="inside",
        from_="left",
        distance=140,
        width=20,
        depth=8,
        slope=6,
        stops={"bottom": 44, "top": 16},
    )
    opening = feature(
        "opening", "recess", face="inside", at={"left": 136, "bottom": 12}, length=28, along="length", width=34, depth=8
    )
    base = part("base", "board", 300, 90, 20, slot, opening)
    arm = part("arm", "board", 120, 28, 20, feature("tail", "dovetail-end", end="left", length=8, slope=6))
    slides = joint(
        "slides", "arm/tail", "base/slot", align={"bottom": "bottom"}, at={"bottom": 46}, fit="sliding", fixed=("dry",)
    )
    drawn = made_job([base, arm], [slides], stock=(BEECH,))
    return drawn, make_plan(drawn, workshop(), knowledge())


def test_what_goes_in_round_a_corner_is_planned_and_proved() -> None:
    drawn, plan = keyhole()
    making = carry_out(plan, drawn)
    assert [look.says for look in making.proof.failures] == []
    looked = [look for task in making.proof.tasks for look in task.looked if look.check == "way-in"]
    assert looked
    assert {look.says for look in looked} == {"each can be brought to its place by straight moves"}


def test_without_the_recess_it_is_let_down_through_nothing_goes_in() -> None:
    drawn, plan = keyhole()
    (cut,) = [task.id for task in plan.tasks if task.id.startswith("base/opening/cut")]
    failures = carry_out(damage.without(plan, cut), drawn).proof.failures
    said = [look.says for look in failures if look.check == "way-in"]
    assert said
    assert set(said) == {"nothing of arm, base can be moved away from the rest: the last one cannot go in"}
