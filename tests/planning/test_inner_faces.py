"""What is cleaned inside is named face by face, and why it comes before the glue is true of a box and of a flat frame."""

from __future__ import annotations

import pytest

from sequencer.model.plan import Plan
from sequencer.planning.assembling import assembled
from sequencer.planning.group_work import group_work
from sequencer.planning.inner_faces import inner_faces, only_edges
from tests.made import job, plan


def _told(name: str, task: str) -> tuple[str, list[str]]:
    step = next(each for each in plan(name).steps if f"{task}/clean-inside/clean" in each.tasks)
    return step.title, [each for each in step.instructions if each.startswith("Clean ")]


@pytest.mark.parametrize(
    ("name", "task", "faces"),
    [
        # A floor that is let in has a corner below it too; the end stands up above the top edge of the lower side.
        (
            "herb-caddy",
            "box",
            [
                "Clean the inside face and top edge of A.",
                "Clean the inside face of B.",
                "Clean the upper face and under face of D.",
            ],
        ),
        # Its top edge is level with that of the sides, which is sanded before the glue: no plane runs over both.
        ("herb-caddy", "whole", ["Clean the inside face, outside face and top edge of C."]),
        # The rail is level with the legs at its top edge only.
        (
            "step-stool",
            "end-frame",
            ["Clean the joint face of A.", "Clean the inside face, outside face and bottom edge of B."],
        ),
        ("step-stool", "spine-in-place", ["Clean the inside face, outside face and bottom edge of C."]),
        ("step-stool", "seat-in-place", ["Clean the under face of D."]),
        ("picture-frame", "frame", ["Clean the sight edge and rebate of A and B."]),
        (
            "tests/assemblies/dowelled-rail.yaml",
            "rail-in-place",
            ["Clean the inside face of A.", "Clean all four long faces of B."],
        ),
        # The edges of stiles and rails are cleaned beside their groove; what lies in the groove is not.
        (
            "tests/assemblies/panel-door.yaml",
            "frame",
            ["Clean the inner edge of A, B and C.", "Clean the inside face and outside face of D."],
        ),
    ],
)
def test_the_faces_that_are_cleaned_are_named(name: str, task: str, faces: list[str]) -> None:
    assert _told(name, task)[1] == faces


def test_a_flat_frame_has_edges_and_rebates_inside_and_no_face() -> None:
    assert _told("picture-frame", "frame")[0] == "Clean the sight edges and rebates: long piece and short piece (A, B)"
    assert _told("tests/assemblies/splined-frame.yaml", "frame")[0].startswith("Clean the inner edges: ")
    assert _told("herb-caddy", "box")[0] == "Clean the inside faces: side, end and floor (A, B, D)"


def test_a_rebate_that_is_glued_is_a_joint_face() -> None:
    """The rebates of the box's sides are its corners."""
    assert not [each for each in _told("herb-caddy", "box")[1] if "rebate" in each]


def _why(made: Plan, task: str) -> str:
    return next(
        each.sentence
        for each in made.reasons
        if each.kind == "reach" and each.before == f"{task}/clean-inside/clean" and each.after == f"{task}/glue/glue"
    )


def test_why_a_frame_is_cleaned_inside_before_the_glue_is_not_why_a_box_is() -> None:
    assert _why(plan("herb-caddy"), "box") == (
        "Neither plane nor sanding block gets into inner corners once the parts are joined."
    )
    assert _why(plan("picture-frame"), "frame") == (
        "Nothing sands up to the inner corners of a glued frame: strokes end across the grain of the next piece."
    )


@pytest.mark.parametrize("name", ["herb-caddy", "step-stool", "picture-frame", "tests/assemblies/drawer.yaml"])
def test_no_end_that_is_joined_is_called_an_inner_face(name: str) -> None:
    """What is cleaned must not be a face that lies in a joint: cleaned, it is loose."""
    drawn = job(name)
    works = [work for work in group_work(drawn, assembled(drawn).groups) if work.kind == "clean-inside"]
    found = [(each, faces) for work in works for each, faces in inner_faces(drawn, work).items()]
    assert found
    assert not [each for each, faces in found if {"left", "right"} & {*faces}]
    assert not [work.id for work in works if only_edges(drawn, work) and name == "herb-caddy"]
