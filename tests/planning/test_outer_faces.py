"""A plane that cleans what is joined runs over faces that the card names; the walls of a box lie on a board inside it."""

from __future__ import annotations

import pytest

from sequencer.model.plan import Step
from tests.made import plan

HELD = "Put it over a stout board cramped to the bench."


def _cleaned(name: str, task: str = "whole/clean-up/clean") -> Step:
    return next(step for step in plan(name).steps if task in step.tasks)


@pytest.mark.parametrize(
    ("name", "faces"),
    [
        # The end has the handle on its outside, which is cleaned before, and curves on top; floor and divider lie inside.
        ("herb-caddy", ["Plane the outside face and bottom edge of A.", "Plane the bottom edge of B."]),
        (
            "tests/assemblies/finger-box.yaml",
            ["Plane the outside face, bottom edge and top edge of A.", "Plane the outside face, bottom edge and top edge of B."],
        ),
        ("tests/assemblies/wedged-stool.yaml", ["Plane the upper face, bottom edge and top edge of A."]),
    ],
)
def test_a_card_names_the_faces_that_are_planed_and_then_says_how(name: str, faces: list[str]) -> None:
    said = _cleaned(name).instructions
    at = said.index(faces[0])
    assert [*said[at : at + len(faces)]] == faces
    assert said[at + len(faces)] == "Plane with the grain, each corner to the middle."
    assert not [each for each in said if "nothing stands out" in each]


def test_the_walls_of_a_box_lie_on_a_board_inside_it() -> None:
    for task in ("whole/clean-up/clean", "whole/clean-outside/clean"):
        assert _cleaned("herb-caddy", task).instructions[0] == HELD
    assert _cleaned("tests/assemblies/finger-box.yaml").instructions[0] == HELD


@pytest.mark.parametrize("name", ["panel-door", "splined-frame", "wedged-stool", "dowelled-rail", "two-blocks"])
def test_what_is_no_open_box_is_not_put_over_a_board(name: str) -> None:
    """Frames that lie flat, a seat on legs, two legs with one rail, walls on a base."""
    step = _cleaned(f"tests/assemblies/{name}.yaml")
    assert step.station_kind == "hand-planing"
    assert HELD not in (*step.instructions, *step.method)


def test_one_board_has_no_faces_named() -> None:
    assert not [each for each in _cleaned("tests/cases/s03-chopping-board.yaml").instructions if each.startswith("Plane the ")]


@pytest.mark.parametrize("name", ["herb-caddy", "tests/assemblies/captured-handle.yaml", "tests/cases/s06-table-drawer.yaml"])
def test_no_face_is_sanded_before_the_glue_and_planed_after_it(name: str) -> None:
    """Grit that stays in the wood takes the edge off the plane."""
    made = plan(name)
    sanded, planed = (
        {
            (letter, face)
            for step in made.steps
            if step.station_kind == kind and any(part in task for task in step.tasks)
            for each in step.instructions
            if each.startswith(verb) and " of " in each
            for faces, _, letters in [each.removeprefix(verb).rstrip(".").partition(" of ")]
            for letter in letters.replace(" and ", ", ").split(", ")
            for face in faces.replace(" and ", ", ").split(", ")
        }
        for kind, part, verb in (("abrasive", "clean-inside", "Clean the "), ("hand-planing", "clean-up", "Plane the "))
    )
    assert sanded
    assert planed
    assert not sanded & planed
