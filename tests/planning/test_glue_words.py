"""A card says where glue is brushed, by what the joints are, and how a student knows what is waste on an end."""

from __future__ import annotations

import pytest

from sequencer.planning.glue_words import BESIDE, EVERYWHERE, ONLY, SHORT
from tests.made import plan


def _said(name: str, task: str) -> list[str]:
    (step,) = (each for each in plan(name).steps if f"{task}" in each.tasks)
    return [each for each in step.instructions if each.startswith("Brush glue thinly")]


@pytest.mark.parametrize(
    ("name", "task", "where"),
    [
        ("herb-caddy", "box/glue/glue", "in each rebate and on what goes in"),
        ("herb-caddy", "whole/glue/glue", "in housings and inside rod holes"),
        ("step-stool", "end-frame/glue/glue", "on tenon cheeks, with little inside mortises"),
        ("step-stool", "spine-in-place/glue/glue", "on the floor and sides of each lap"),
        ("tests/assemblies/finger-box.yaml", "walls/glue/glue", "on all sides of the fingers"),
        ("tests/cases/s06-table-drawer.yaml", "body/glue/glue", "between pins and tails and in housings"),
        ("tests/assemblies/dowelled-rail.yaml", "rail-in-place/glue/glue", "on both faces that meet"),
    ],
)
def test_a_card_says_where_the_glue_goes(name: str, task: str, where: str) -> None:
    assert _said(name, task) == [f"Brush glue thinly {where}."]


def test_no_way_of_saying_it_is_too_long() -> None:
    assert ONLY.keys() == BESIDE.keys()
    assert all(len(said.split()) <= SHORT for said in (*ONLY.values(), *BESIDE.values(), EVERYWHERE))


@pytest.mark.parametrize(("task", "dry"), [("end-frame/glue/glue", True), ("spine-in-place/glue/glue", False)])
def test_little_glue_goes_to_the_bottom_of_a_blind_mortise(task: str, *, dry: bool) -> None:
    """The stool's mortises are blind; a lap is open, so that the glue gets out."""
    (step,) = (each for each in plan("step-stool").steps if task in each.tasks)
    assert ("Leave the bottom of blind holes and mortises nearly dry." in step.method) == dry


def test_waste_on_an_end_is_hatched_and_sawn_off_on_a_line_above_the_part_it_is_flush_with() -> None:
    (step,) = (each for each in plan("step-stool").steps if "leg/right-allowance/trim" in each.tasks)
    assert step.instructions == (
        "Draw pencil hatching on what stands above B.",
        "Square a line all round, 2 mm above B.",
        "Saw the hatched end off on that line.",
        "Plane from each outside edge to the middle.",
        "Stop when the plane touches B.",
    )
    assert "Plane a sloping end level the same way" in step.if_wrong


def test_an_end_between_several_parts_is_trimmed_to_the_next_piece() -> None:
    """The door's stile has a horn at each end, above another rail each."""
    (step,) = (each for each in plan("tests/cases/s07-glass-door-frame.yaml").steps if "stile/left-allowance/trim" in each.tasks)
    assert step.instructions[-1] == "Stop when the plane touches the next piece."
