"""Hardware that is screwed or pressed on is there before a sheet lies loose in the work, but for what goes on to the sheet's own
backing; and what cleaning steps name is what is cleaned."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.model.plan import Plan
from sequencer.paper.pictured import Pictured
from sequencer.planning.order import chain_between, reason_graph
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import ROOT, job, knowledge, making, plan, workshop

HANGER, SHEET = "whole/hanger/fix", "backing-in/nail/nail"


def _frame(tmp_path: Path, fixed_to: str) -> Plan:
    """The picture frame, its hanger fixed to something else; to what nobody says, if that is nothing."""
    text = (ROOT / "examples" / "picture-frame" / "job.yaml").read_text(encoding="utf-8")
    assert "fixed_to: long-piece.2, on: rear, " in text
    file = tmp_path / "job.yaml"
    file.write_text(
        text.replace("fixed_to: long-piece.2, on: rear, ", f"fixed_to: {fixed_to}, " if fixed_to else ""), encoding="utf-8"
    )
    return make_plan(read_job(file)[0], workshop(), knowledge())


def _kinds(made: Plan, before: str, after: str) -> list[str]:
    graph = reason_graph([task.id for task in made.tasks], made.reasons)
    return [reason.kind for reason in chain_between(graph, before, after)]


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_a_hanger_on_the_frame_is_screwed_on_before_the_sheet_is_laid_in(shop: str) -> None:
    made = plan("picture-frame", shop)
    assert _kinds(made, HANGER, SHEET) == ["splitting"]
    assert _kinds(made, "whole/coat-2/wait", HANGER) == ["surface"]
    (reason,) = (each for each in made.reasons if (each.before, each.after) == (HANGER, SHEET))
    assert len(reason.sentence.split()) <= 12
    assert "cracks" in reason.harm


def test_hardware_of_which_nobody_says_where_it_goes_is_on_before_the_sheet_too(tmp_path: Path) -> None:
    made = _frame(tmp_path, "")
    assert _kinds(made, HANGER, SHEET) == ["splitting"]
    (step,) = (each for each in made.steps if HANGER in each.tasks)
    assert {piece.part for piece in step.parts} == {"long-piece", "short-piece"}


def test_a_hanger_on_the_backing_waits_for_no_sheet(tmp_path: Path) -> None:
    made = _frame(tmp_path, "backing")
    assert _kinds(made, HANGER, SHEET) == []
    (step,) = (each for each in made.steps if HANGER in each.tasks)
    assert step.title == "Fix the hanger: backing (D)"


def test_the_card_of_a_hanger_names_its_piece_and_claims_nothing_of_the_drawing() -> None:
    (step,) = (each for each in plan("picture-frame").steps if HANGER in each.tasks)
    assert step.title == "Fix the hanger: long piece (A)"
    assert [(piece.part, piece.quantity) for piece in step.parts] == [("long-piece", 1)]
    said = " ".join((*step.instructions, *step.method, *(f"{check.what} {check.how}" for check in step.checks)))
    assert "drawn" not in said
    assert "drawing" not in said


def test_a_cleaning_step_shows_what_is_cleaned_and_no_handle() -> None:
    """The handle goes in with the divider; it has no inside faces."""
    made = plan("herb-caddy", "well-equipped")
    (step,) = (each for each in made.steps if "whole/clean-inside/clean" in each.tasks)
    assert step.title == "Clean the inside faces: divider (C)"
    pictured = Pictured(made, job("herb-caddy"), making("herb-caddy", "well-equipped"))
    assert [(piece.letter, piece.quantity) for piece in pictured.shown_parts(step)] == [("C", 1)]


def test_what_is_cleaned_before_a_seat_is_screwed_on_is_named_with_its_face() -> None:
    made = plan("step-stool", "well-equipped")
    (step,) = (each for each in made.steps if "seat-in-place/clean-inside/clean" in each.tasks)
    assert step.title == "Clean the inside faces: seat (D)"
    assert step.instructions[0] == "Clean the under face of D."
