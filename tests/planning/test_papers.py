"""Which papers a plan prints: from what the tool left to what the finish on the parts asks for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.job import Finish, Job
from sequencer.model.plan import Step
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop


def sanded(drawn: Job) -> list[Step]:
    """The steps that set papers."""
    made = make_plan(drawn, workshop(), knowledge())
    return [step for step in made.steps if any(setting.name == "papers" for setting in step.settings)]


# lists/finishes.yaml: shellac asks for P220, oil for P180; without a finish P180, as settings of sanding say.
@pytest.mark.parametrize(
    ("finishes", "papers"),
    [
        ((), "P120, then P180"),
        ((Finish("danish-oil"),), "P120, then P180"),
        ((Finish("shellac"),), "P120, then P180, then P220"),
        ((Finish("danish-oil"), Finish("shellac")), "P120, then P180, then P220"),
    ],
)
def test_the_finest_paper_that_a_finish_on_the_work_asks_for_comes_last(finishes: tuple[Finish, ...], papers: str) -> None:
    steps = sanded(replace(job("nest-box"), finish=finishes))
    assert steps
    for step in steps:
        assert [setting.text for setting in step.settings] == [papers]
        assert f"abrasive paper {papers}" in step.tools
        assert any(papers in line for line in step.instructions)


def test_a_finish_elsewhere_asks_nothing_of_a_part() -> None:
    drawn = replace(job("nest-box"), rough_inside=False)
    first = sanded(replace(drawn, finish=(Finish("shellac", parts=("floor",)),)))
    reached = [step for step in first if any(piece.part == "floor" for piece in step.parts)]
    others = [step for step in first if step not in reached]
    assert {setting.text for step in reached for setting in step.settings} == {"P120, then P180, then P220"}
    assert {setting.text for step in others for setting in step.settings} == {"P120, then P180"}
