"""Left and right pieces that come out of one stick: nothing on it is said or drawn as if they were apart already."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.paper.drawing import picture
from sequencer.paper.pictured import Pictured
from sequencer.paper.step_pictures import scenes_of
from sequencer.paper.strip_pictures import hand_in
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

RAILS = """format: 1
job: Short grooved
stock:
  strip: {material: Scots pine, hardness: softwood, form: board, width: 30, thickness: 20, lengths: [2400], surface: planed}
parts:
  rail:
    count: 2
    handed: true
    stock: strip
    length: 100
    features:
      furrow: {kind: groove, face: inside, from: bottom, distance: 8, width: 6, depth: 6}
      house: {kind: housing, face: inside, from: left, distance: 30, width: 12, depth: 8}
"""


@cache
def rails() -> Pictured:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "job.yaml"
        file.write_text(RAILS, encoding="utf-8")
        drawn: Job = read_job(file)[0]
    plan = make_plan(drawn, workshop(), knowledge())
    return Pictured(plan, drawn, carry_out(plan, drawn))


def step(task: str) -> Step:
    return next(each for each in rails().plan.steps if each.kind == "work" and task in each.tasks)


def words(svg: str, kind: str) -> list[str]:
    return re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', svg)


def test_both_hands_lie_in_the_one_stick() -> None:
    (strip,) = rails().plan.strips
    assert [piece.part for piece in strip.pieces] == ["rail", "rail"]
    assert rails().making.proof.held


def test_faces_are_marked_on_the_stick_and_nothing_is_laid_together() -> None:
    marked = step("rail/face-marks/mark")
    assert marked.instructions[0] == "Leave the stick whole; do not cut it up yet."
    assert not any("each pair" in line for line in marked.instructions)
    assert marked.instructions[-1] == "Write left, right and first end as the picture shows."
    (shown,) = scenes_of(marked, rails())
    assert [thing.name for thing in shown.scene.things if "hand" in thing.name] == []


@pytest.mark.parametrize("task", ["rail/face-marks/mark", "rail/furrow/cut", "rail/length/cut"])
def test_first_ends_are_named_at_the_outside_ends_of_the_stick(task: str) -> None:
    drawn = picture(step(task), rails(), 110.0, 90.0)
    assert words(drawn.svg, "piece") == ["A 1 left", "A 2 right"]
    ends = [(float(x), anchor) for x, anchor in re.findall(r'<text class="end" x="([\d.]+)"[^>]*text-anchor="(\w+)"', drawn.svg)]
    assert len(words(drawn.svg, "end")) == 2
    if ends:
        assert [anchor for _, anchor in sorted(ends)] == ["start", "end"]
    for number, one in enumerate(drawn.texts):
        assert not any(one.overlaps(other, -0.05) for other in drawn.texts[number + 1 :])


def test_what_is_ploughed_along_the_stick_is_shown_once() -> None:
    (shown,) = scenes_of(step("rail/furrow/cut"), rails())
    assert "hand" not in shown.caption


def test_the_other_hand_is_measured_from_its_own_end() -> None:
    """Its first end is the far end of the stick: the end that the saw has left is its other one."""
    said = step("rail/length/cut").instructions
    assert "Measure the other of a pair from its own first end." in said
    assert "Measure any further part from the new end." not in said


def test_which_hand_lies_first_follows_from_the_faces() -> None:
    (strip,) = rails().plan.strips
    one, other = strip.pieces
    assert (hand_in(strip, one, "left"), hand_in(strip, other, "left")) == ("left", "right")
    assert (hand_in(strip, one, "right"), hand_in(strip, other, "right")) == ("right", "left")
