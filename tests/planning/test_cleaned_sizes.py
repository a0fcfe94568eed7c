"""What is cleaned up by itself and too small for a plane, or for the vice, is cleaned in another way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.planning.cleaned_sizes import smallest_thing
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, plan, workshop
from tests.planning.test_on_a_stick import HOLE, block

RUB = "Rub each small piece along the grain on paper laid flat."
TIPS = "Keep your fingertips off the paper."


def cleaning(drawn: Job) -> Step:
    made = make_plan(drawn, workshop("well-equipped"), knowledge())
    return next(step for step in made.steps if "whole/clean-up/clean" in step.tasks and step.kind == "work")


@pytest.mark.parametrize(
    ("length", "width", "operation", "rubbed"),
    [
        (100.0, 40.0, "Clean up the outside with the smoothing plane", False),
        (99.0, 40.0, "Sand the outside", False),
        (40.0, 30.0, "Sand the outside", False),
        (39.0, 30.0, "Sand the outside", True),
    ],
)
def test_a_loose_piece_is_planed_sanded_or_rubbed_by_its_size(
    length: float, width: float, operation: str, rubbed: bool, tmp_path: Path
) -> None:
    """100 mm lie still under a plane and 40 are held for sanding (common practice)."""
    drawn = block(tmp_path, HOLE, length)
    parts = {"block": replace(drawn.parts["block"], width=width)}
    step = cleaning(replace(drawn, parts=parts, stock={"stick": replace(drawn.stock["stick"], width=width)}))
    assert step.operation == operation
    assert (RUB in step.instructions, TIPS in step.method, "flat board" in step.tools) == (rubbed, rubbed, rubbed)


def test_what_is_joined_counts_as_one_thing() -> None:
    """Of the splined frame the splines are 30 mm long and glued in; the frame has sides of 240."""
    drawn = job("tests/assemblies/splined-frame.yaml")
    assert smallest_thing(drawn, set(drawn.parts)) == 240
    assert smallest_thing(replace(drawn, joints={}), set(drawn.parts)) == 30


def test_inside_faces_of_pieces_too_short_for_a_plane_are_not_planed() -> None:
    for shop in ("full", "hand-tools"):
        made = plan("tests/assemblies/splined-frame.yaml", shop)
        inside = [task.operation for task in made.tasks if task.kind == "clean-inside"]
        assert inside
        assert "smooth-inside" not in inside
