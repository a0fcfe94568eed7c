"""What is cleaned up by itself and too small for a plane, or for the vice, is cleaned in another way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.planning.cleaned_sizes import LARGEST, SMALLEST, buried, sizes_of_things
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
        (80.0, 30.0, "Sand the outside", False),
        (79.0, 30.0, "Sand the outside", True),
    ],
)
def test_a_loose_piece_is_planed_sanded_or_rubbed_by_its_size(
    length: float, width: float, operation: str, rubbed: bool, tmp_path: Path
) -> None:
    """100 mm lie still under a plane; what is shorter than a hand is wide has no room for a block (common practice)."""
    drawn = block(tmp_path, HOLE, length)
    parts = {"block": replace(drawn.parts["block"], width=width)}
    step = cleaning(replace(drawn, parts=parts, stock={"stick": replace(drawn.stock["stick"], width=width)}))
    assert step.operation == operation
    assert (RUB in step.instructions, TIPS in step.method, "flat board" in step.tools) == (rubbed, rubbed, rubbed)


def test_what_is_joined_counts_as_one_thing() -> None:
    """Of the splined frame the splines are 30 mm long and glued in; the frame has sides of 240."""
    drawn = job("tests/assemblies/splined-frame.yaml")
    assert sizes_of_things(drawn, set(drawn.parts)) == {SMALLEST: 240, LARGEST: 240}
    assert sizes_of_things(replace(drawn, joints={}), set(drawn.parts)) == {SMALLEST: 30, LARGEST: 240}


def test_of_loose_pieces_neither_joints_nor_glue_are_told(tmp_path: Path) -> None:
    """A block of 79 mm is rubbed on paper, with nothing that grips it; one of 90 is sanded with the block along the grain."""
    small, large = (cleaning(block(tmp_path, HOLE, length)) for length in (79.0, 90.0))
    assert small.instructions == (
        RUB,
        "Use the papers in this order: P120, then P180.",
        "Take sharp corners off with two light strokes.",
    )
    assert small.guard_line == "Wear your dust mask. Keep your fingertips off the paper."
    assert large.instructions[0] == "Sand with the block, along the grain."
    assert large.guard_line == "Grip the wood firmly in the bench vice."
    for step in (small, large):
        said = " ".join((*step.instructions, *step.method, step.if_wrong, *(each.limit for each in step.checks)))
        assert "glue" not in said
        assert "joint" not in said


def test_joints_and_glue_are_told_of_what_is_glued_together() -> None:
    made = plan("tests/assemblies/splined-frame.yaml")
    step = next(each for each in made.steps if "whole/clean-up/clean" in each.tasks)
    assert step.instructions[0] == "Remove hard glue before you plane."
    assert "Plane with the grain, each corner to the middle." in step.instructions


def test_splines_lie_in_glue_all_over_and_are_not_cleaned_before_it() -> None:
    """The broad faces of a spline are its joint: rubbed, it goes in loose."""
    drawn = job("tests/assemblies/splined-frame.yaml")
    assert [name for name, part in drawn.parts.items() if buried(drawn, part)] == ["spline"]
    for shop in ("full", "hand-tools"):
        inside = [task for task in plan("tests/assemblies/splined-frame.yaml", shop).tasks if task.kind == "clean-inside"]
        assert [task.id for task in inside] == ["frame/clean-inside/clean"]


def test_inside_faces_of_pieces_too_short_for_a_plane_are_not_planed() -> None:
    for shop in ("full", "hand-tools"):
        made = plan("tests/assemblies/splined-frame.yaml", shop)
        inside = [task.operation for task in made.tasks if task.kind == "clean-inside"]
        assert inside
        assert "smooth-inside" not in inside
