"""Tongues off the middle: each face is cut to its own shoulder, and the proof reads what the card sets for each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.plan import Plan, Task
from sequencer.proving.making import carry_out
from tests.features.samples import make
from tests.outside.bench import board
from tests.proving import damage
from tests.proving.forced import forced

OFF_CENTRE = {"length": 8, "thickness": 8, "from_outside": 2}
"""In 18 mm of wood: a shoulder 8 deep in the inside face, 2 deep in the outside face."""
NEAR_INSIDE = {"length": 8, "thickness": 6, "from_inside": 3}
CENTRED = {"length": 8, "thickness": 6}
BARE_INSIDE = {"length": 8, "thickness": 8, "from_inside": 0}
BARE_OUTSIDE = {"length": 8, "thickness": 8, "from_outside": 0}
SIZES: dict[str, dict[str, Any]] = {
    "off the middle": OFF_CENTRE,
    "near the inside": NEAR_INSIDE,
    "in the middle": CENTRED,
    "level with the inside": BARE_INSIDE,
    "level with the outside": BARE_OUTSIDE,
}
WAYS = [("rout-tongue", "top"), ("plane-tongue", "bottom"), ("saw-and-chisel-tongue", "left")]


def made(way: str, edge: str, fields: dict[str, Any]) -> tuple[Any, Plan, Task]:
    """The job, its plan by a way, which is carried out and drawn, and its task."""
    tongue = make("tongue", name="feather", edge=edge, **fields)
    return forced(way, "rail/feather", board(tongue, length=450, thick=18, stock=18))


def texts(task: Task) -> dict[str, str]:
    return {each.name: f"{each.label}: {each.text}" for each in task.settings}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("way", "edge"), WAYS, ids=[way for way, _ in WAYS])
def test_a_tongue_comes_out_as_drawn_and_a_millimetre_off_for_either_face_does_not(way: str, edge: str, size: str) -> None:
    drawn, plan, task = made(way, edge, SIZES[size])
    for name, changed in damage.shifted_settings(task):
        # A rebate's cutter may be wider; the rest of it is in the fence.
        if name != "cutter":
            assert not carry_out(damage.with_task(plan, changed), drawn).proof.held, name


def test_the_router_is_set_for_each_face_and_one_height_for_both_is_found() -> None:
    drawn, plan, task = made("rout-tongue", "top", OFF_CENTRE)
    said = texts(task)
    assert said["height"] == "height, inside face down: 2.7 mm, 5.3 mm, then 8 mm"
    assert said["height-behind"] == "height, outside face down: 2 mm"
    (step,) = (each for each in plan.steps if task.id in each.tasks and each.kind == "work")
    assert "Lay the inside face down for heights 2.7 mm, 5.3 mm, then 8 mm." in step.instructions
    assert "Lay the outside face down for heights 2 mm." in step.instructions
    both = tuple(replace(each, value=8.0) if each.name == "height-behind" else each for each in task.settings)
    assert not carry_out(damage.with_task(plan, replace(task, settings=both)), drawn).proof.held
    first_only = tuple(each for each in task.settings if each.name != "height-behind")
    assert not carry_out(damage.with_task(plan, replace(task, settings=first_only)), drawn).proof.held


def test_the_plane_has_a_depth_for_each_face() -> None:
    _, plan, task = made("plane-tongue", "top", NEAR_INSIDE)
    said = texts(task)
    assert (said["depth"], said["depth-behind"]) == (
        "depth stop for the inside face: 3 mm",
        "depth stop for the outside face: 9 mm",
    )
    (step,) = (each for each in plan.steps if task.id in each.tasks and each.kind == "work")
    assert {"Plane the inside face 3 mm deep.", "Plane the outside face 9 mm deep."} <= set(step.instructions)


@pytest.mark.parametrize(
    ("fields", "first"),
    [(OFF_CENTRE, "2 mm from the outside face"), (BARE_INSIDE, "level with the face side"), (CENTRED, "6 mm from the face side")],
)
def test_the_gauge_says_where_the_first_cheek_lies(fields: dict[str, Any], first: str) -> None:
    assert texts(made("saw-and-chisel-tongue", "left", fields)[2])["cheek"] == f"first cheek: {first}"


@pytest.mark.parametrize(("fields", "whole"), [(BARE_INSIDE, "inside"), (BARE_OUTSIDE, "outside")])
def test_a_bare_faced_tongue_is_never_turned_over(fields: dict[str, Any], whole: str) -> None:
    _, plan, task = made("rout-tongue", "top", fields)
    assert "height-behind" not in texts(task)
    (step,) = (each for each in plan.steps if task.id in each.tasks and each.kind == "work")
    assert not [line for line in step.instructions if whole in line]
