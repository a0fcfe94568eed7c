"""The teacher's notes where the maker sees them: on the card, at the head, with the work they are about, and last."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sequencer.model.plan import Plan
from sequencer.paper.job_card import CardEntry, job_card
from sequencer.paper.sheets import render
from sequencer.planning.planner import make_plan
from sequencer.planning.record_lines import with_marking_notes
from tests.made import drawings, job, knowledge, plan, workshop


def card(name: str, made: Plan) -> list[CardEntry]:
    pages = job_card(made, drawings(name), "a4")
    return [entry for page in pages for entry in page.entries if isinstance(entry, CardEntry)]


def test_the_last_word_of_the_stool_s_card_is_to_have_it_loaded_by_staff() -> None:
    made = plan("step-stool")
    entries = card("step-stool", made)
    assert entries[-1].markers == ("STOP. Show the finished stool to staff. Let staff load it before anybody stands on it.",)
    assert len([entry for entry in entries if not entry.steps]) == 1
    assert made.before_use in made.notes
    without = card("step-stool", replace(made, before_use=""))
    assert all(entry.steps for entry in without)
    assert without == entries[:-1]


@pytest.mark.parametrize("name", ["nest-box", "picture-frame"])
def test_the_note_on_the_job_stands_at_the_head_of_the_card(name: str) -> None:
    made = plan(name)
    printed = render("job-card", made, drawings(name), date(2024, 5, 6), "a4")
    assert made.note
    head = printed[: printed.index("</h3>")]
    assert head.count(made.note) == 1
    assert made.note in made.notes


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_what_is_scored_inside_the_nest_box_stands_where_its_front_is_marked_out(shop: str) -> None:
    (step,) = (step for step in plan("nest-box", shop).steps if any("Scribe deep lines" in note for note in step.notes))
    assert "front/mark-out/mark" in step.tasks
    assert step.card == "student"
    assert "marking knife" in step.tools
    (note,) = (note for note in step.notes if "Scribe deep lines" in note)
    assert note.startswith("C: ") == (len(step.parts) > 1), "whose lines they are, among several"


def test_what_is_said_of_marking_stands_at_the_cut_where_nothing_is_marked_out() -> None:
    made = plan("nest-box")
    unmarked = [step for step in made.steps if not any("/mark-out/" in task for task in step.tasks)]
    bare = [replace(step, notes=()) for step in unmarked]
    (step,) = (step for step in with_marking_notes(bare, job("nest-box")) if step.notes)
    assert any(task.startswith("front/entrance-hole/") for task in step.tasks)


def test_the_note_of_a_part_stands_with_its_first_work_and_where_it_is_joined() -> None:
    drawn = job("nest-box")
    noted = replace(drawn.parts["front"], note="Keep the best face outside.")
    made = make_plan(replace(drawn, parts={**drawn.parts, "front": noted}), workshop(), knowledge())
    letter = drawn.parts["front"].letter
    told = [step for step in made.steps if any("best face" in note for note in step.notes)]
    assert len(told) == 2
    first, joined = told
    assert [work.letter for work in first.parts] == [letter]
    assert first.card == "student"
    assert first.notes[-1] == "Keep the best face outside."
    assert joined.together
    assert joined.notes[-1] == f"{letter}: Keep the best face outside."
    earlier = [step for step in made.steps if step.number < first.number and step.card == "student"]
    assert all([work.letter for work in step.parts] != [letter] for step in earlier)
