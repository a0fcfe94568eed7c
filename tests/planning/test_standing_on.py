"""Outside faces that a part fixed later stands on are cleaned before it is there; where block and plane pass by at the last
cleaning, nothing is added."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.planning.assembling import assembled
from sequencer.planning.order import chain_between, reason_graph
from sequencer.planning.planner import make_plan
from sequencer.planning.standing_on import stood_on
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import EXAMPLES, ROOT, job, knowledge, plan, workshop

DRAWER_FRONT = """
format: 1
job: Front with a peg
sizes: {out: 20, from-end: 140}
stock:
  board: {material: spruce, hardness: softwood, form: board, width: 90, thickness: 20, lengths: [2400], surface: planed}
  strip: {material: spruce, hardness: softwood, form: square, width: 20, thickness: 20, lengths: [2400], surface: planed}
parts:
  front:
    stock: board
    length: 300
    features:
      hole: {kind: mortise, face: outside, at: {left: from-end, bottom: 35}, length: 20, width: 20, depth: 10}
  side: {stock: board, length: 200}
  peg: {stock: strip, length: 10 + out}
joints:
  corner: {part: side, its: left, to: front/inside, flush: [{bottom: bottom}, {inside: left}], fixed: glue}
  peg-in: {part: peg, its: left, into: front/hole, fixed: FIXED, after: corner}
glue: pva
"""


def _front(tmp_path: Path, fixed: str = "glue", out: int = 20) -> Job:
    """A front with a side behind it, and a peg that stands out of it by so much."""
    text = DRAWER_FRONT.replace("FIXED", fixed).replace("out: 20", f"out: {out}")
    file = tmp_path / "job.yaml"
    file.write_text(text, encoding="utf-8")
    return read_job(file)[0]


def _caddy(tmp_path: Path, *changes: tuple[str, str]) -> Job:
    text = (ROOT / "examples" / "herb-caddy" / "job.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file = tmp_path / "job.yaml"
    file.write_text(text, encoding="utf-8")
    return read_job(file)[0]


def _told(drawn: Job) -> set[tuple[str, str, str]]:
    return {(each.piece, each.face, each.by) for each in stood_on(drawn, assembled(drawn).groups)}


def _demanded(made: Plan, before: str, after: str) -> list[str]:
    graph = reason_graph([task.id for task in made.tasks], made.reasons)
    return [reason.kind for reason in chain_between(graph, before, after)]


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_the_ends_of_a_caddy_are_cleaned_between_the_box_and_its_handle(shop: str) -> None:
    """The handle stands 6 mm out of the ends, and wood of them is left all round it."""
    made = plan("herb-caddy", shop)
    assert _demanded(made, "box/cure/wait", "whole/clean-outside/clean") != []
    assert _demanded(made, "whole/clean-outside/clean", "whole/glue/glue") == ["surface"]
    (step,) = (each for each in made.steps if "whole/clean-outside/clean" in each.tasks)
    assert step.title == "Clean the outside face before the handle is fixed: end (B)"
    assert {piece.part: piece.quantity for piece in step.parts} == {"end": 2}


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_what_is_cleaned_early_is_cleaned_as_the_rest_is_at_last(shop: str) -> None:
    """No plane follows the grit of a sander on the same box."""
    made = plan("herb-caddy", shop)
    ways = {task.operation for task in made.tasks if task.id in ("whole/clean-outside/clean", "whole/clean-up/clean")}
    assert len(ways) == 1


def test_why_says_what_stands_in_the_way() -> None:
    (reason,) = (
        each
        for each in plan("herb-caddy").reasons
        if (each.before, each.after) == ("whole/clean-outside/clean", "whole/glue/glue")
    )
    assert reason.sentence == "The outside face is cleaned before the handle stands in the way."
    assert len(reason.sentence.split()) <= 12
    assert reason.harm
    assert reason.source


def test_a_handle_that_ends_flush_stands_in_nobodys_way(tmp_path: Path) -> None:
    flush = _caddy(tmp_path, ("length: long + 2*6", "length: long"), ("{outside: -6}", "{outside: 0}"))
    assert _told(flush) == set()
    made = make_plan(flush, workshop(), knowledge())
    assert not [task.id for task in made.tasks if task.kind == "clean-up" and task.id != "whole/clean-up/clean"]


def test_nothing_is_added_where_the_last_cleaning_reaches_all() -> None:
    """A seat or roof over the top of what it is fixed to, rails between legs that stand out beside them, glass in a frame."""
    for name in {*EXAMPLES} - {"herb-caddy"}:
        assert _told(job(name)) == set(), name


def test_a_peg_in_the_middle_of_a_front_is_put_in_when_the_front_is_clean(tmp_path: Path) -> None:
    drawn = _front(tmp_path)
    assert _told(drawn) == {("front", "outside", "peg")}
    made = make_plan(drawn, workshop(), knowledge())
    cleaning = next(task.id for task in made.tasks if task.id.endswith("/clean-outside/clean"))
    assert _demanded(made, "corner/cure/wait", cleaning)
    assert _demanded(made, cleaning, "peg-in/glue/glue") == ["surface"]


def test_a_peg_that_does_not_stand_out_or_stands_at_the_edge_is_passed_by(tmp_path: Path) -> None:
    """A post as wide as the front, at its end: the block passes along beside it."""
    assert _told(_front(tmp_path, out=0)) == set()
    wide = DRAWER_FRONT.replace("width: 20, thickness: 20, lengths", "width: 90, thickness: 20, lengths")
    wide = wide.replace(
        "at: {left: from-end, bottom: 35}, length: 20, width: 20", "at: {left: 0, bottom: 0}, length: 20, width: 90"
    )
    file = tmp_path / "wide.yaml"
    file.write_text(wide.replace("FIXED", "glue"), encoding="utf-8")
    drawn, _ = read_job(file)
    assert _told(drawn) == set()


def test_what_goes_in_when_the_finish_is_dry_adds_no_cleaning(tmp_path: Path) -> None:
    drawn = _front(tmp_path, "screws")
    assert _told(drawn) == {("front", "outside", "peg")}
    file = tmp_path / "job.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "finish: {what: wax, parts: [front, side]}\n", encoding="utf-8")
    assert _told(read_job(file)[0]) == set()


def test_the_rim_of_a_knife_box_is_cleaned_before_its_partition_stands_over_it() -> None:
    """So does the book, which trues the rims of the glued frame first. The bottom, nailed on below, has nothing to do with it."""
    made = plan("tests/cases/s05-knife-box.yaml")
    assert _demanded(made, "partition-in-place/clean-outside/clean", "partition-in-place/nail/nail") == ["surface"]
    assert _demanded(made, "frame-bottom/nail/nail", "partition-in-place/clean-outside/clean") == []


KNOB = (
    ("  peg: {stock", "  head: {stock: strip, length: 60}\n  peg: {stock"),
    (
        "  peg-in:",
        "  head-on: {part: head, its: inside, to: peg/right, flush: {bottom: bottom}, at: {inside: -20}, fixed: glue}\n  peg-in:",
    ),
    ("after: corner", "after: [corner, head-on]"),
)
"""A head on the peg makes it a knob."""


def _changed(tmp_path: Path, *changes: tuple[str, str], and_: str = "") -> Job:
    text = DRAWER_FRONT
    for old, new in (*changes, ("FIXED", "glue")):
        assert old in text
        text = text.replace(old, new)
    file = tmp_path / "job.yaml"
    file.write_text(text + and_, encoding="utf-8")
    return read_job(file)[0]


@pytest.mark.parametrize("first", ["{drawer: [corner], knob: [head-on]}", "{knob: [head-on], drawer: [corner]}", ""])
def test_what_stands_on_a_face_only_when_two_glue_ups_meet_is_told_there(first: str, tmp_path: Path) -> None:
    """The knob is glued by itself, before or after the front or in one go with it: it stands on the front from the third glue-up
    on."""
    drawn = _changed(tmp_path, *KNOB, and_=f"assemblies: {first}\n" if first else "")
    assert [each.group for each in stood_on(drawn, assembled(drawn).groups)] == ["peg-in"]
    assert _told(drawn) == {("front", "outside", "peg")}
    made = make_plan(drawn, workshop(), knowledge())
    assert _demanded(made, "peg-in/clean-outside/clean", "peg-in/glue/glue") == ["surface"]
    assert carry_out(made, drawn).proof.held


def test_a_face_is_clean_before_what_stands_on_it_goes_in_with_the_same_glue_up(tmp_path: Path) -> None:
    """Cleaned with the inside; where that is left rough, by itself, when the joint has been tried."""
    together = _changed(tmp_path, (", after: corner", ""))
    made = make_plan(together, workshop(), knowledge())
    (step,) = (each for each in made.steps if "whole/clean-inside/clean" in each.tasks)
    assert "Clean the inside face and outside face of A." in step.instructions
    assert _told(together) == set()
    rough = _changed(tmp_path, (", after: corner", ""), and_="rough_inside: yes\n")
    assert _told(rough) == {("front", "outside", "peg")}
    made = make_plan(rough, workshop(), knowledge())
    assert _demanded(made, "whole/dry-fit/try", "whole/clean-outside/clean") == ["surface"]
    assert _demanded(made, "whole/clean-outside/clean", "whole/glue/glue") == ["surface"]
