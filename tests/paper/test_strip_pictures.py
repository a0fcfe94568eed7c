"""The picture of a strip names every piece and says where it begins."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from html import unescape

import pytest

from sequencer.model.plan import Step
from sequencer.model.stock_lists import Strip, StripPiece
from sequencer.paper.drawing import picture
from sequencer.paper.job_card import ROOMS
from sequencer.paper.pages import Drawings
from sequencer.paper.pictured import Pictured, Stick
from sequencer.paper.sheets import render
from sequencer.paper.step_pictures import scenes_of
from sequencer.paper.step_pictures import shown as scenes
from sequencer.paper.strip_pictures import from_first_piece, strip_picture
from sequencer.paper.svg import text_width
from sequencer.proving.strips import cuts_apart
from tests.made import drawings, job, making, plan, proved
from tests.planning.test_strips import grooved_by_staff


def texts(svg: str, kind: str) -> list[str]:
    return re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', svg)


def test_pieces_are_named_with_their_lengths_and_begin_where_the_plan_lays_them() -> None:
    (strip,) = plan("picture-frame").strips
    drawn = strip_picture(strip, 160.0)
    assert drawn.readable
    assert texts(drawn.svg, "piece") == ["A 1: 246", "A 2: 246", "B 1: 196", "B 2: 196"]
    assert texts(drawn.svg, "size") == ["25", "276", "527", "728", "949"]


@pytest.mark.parametrize("width", [60.0, 90.0, 160.0])
def test_no_word_lies_over_another_and_all_stay_inside(width: float) -> None:
    for strip in (*plan("picture-frame").strips, *grooved_by_staff()[0].strips):
        drawn = strip_picture(strip, width)
        for number, one in enumerate(drawn.texts):
            assert one.left >= 0
            assert one.right <= width
            assert one.top >= 0
            assert one.bottom <= drawn.height
            assert not any(one.overlaps(other) for other in drawn.texts[number + 1 :])


def test_the_waste_is_hatched_within_its_bounds() -> None:
    (strip,) = plan("picture-frame").strips
    drawn = strip_picture(strip, 160.0)
    paths = re.findall(r'<path class="waste" d="([^"]*)"', drawn.svg)
    assert len(paths) == len(strip.pieces) + 1
    for path in paths:
        numbers = [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]
        assert all(0.5 - 0.01 <= y <= 7.5 + 0.01 for _, y in numbers)


SPLINES = "tests/assemblies/splined-frame.yaml"


def pictured(name: str) -> Pictured:
    return Pictured(plan(name), job(name), making(name))


def work(given: Pictured, task: str) -> Step:
    return next(step for step in given.plan.steps if step.kind == "work" and task in step.tasks)


def test_what_is_done_along_the_whole_stick_is_shown_on_one_stick_with_its_pieces_in_it() -> None:
    given = pictured("picture-frame")
    step = work(given, "long-piece/rebate/cut")
    assert "short-piece/rebate/cut" in step.tasks
    drawn = picture(step, given, *ROOMS["beside"])
    assert drawn.readable
    assert texts(drawn.svg, "stick") == ["the whole stick"]
    assert texts(drawn.svg, "piece") == ["A 1", "A 2", "B 1", "B 2"]
    # Each piece is bounded by two dashed lines; nothing of the stick is hatched, as nothing is sawn off it yet.
    apart = re.findall(r'<path class="apart" d="([^"]*)"[^>]*stroke-dasharray', drawn.svg)
    assert "".join(apart).count("M") == 2 * 4
    assert 'class="waste"' not in drawn.svg
    # The rebate is shown once, and no part is there by its letter.
    assert len(scenes_of(step, given)) == 1
    assert texts(drawn.svg, "letter") == []


def test_the_step_that_cuts_the_stick_apart_shows_it_whole_with_its_waste() -> None:
    given = pictured("picture-frame")
    drawn = picture(work(given, "long-piece/left-mitre/cut"), given, *ROOMS["under"])
    assert texts(drawn.svg, "piece") == ["A 1", "A 2", "B 1", "B 2"]
    assert len(re.findall('<path class="waste"', drawn.svg)) == 5


def test_face_marks_are_made_on_the_stick_and_on_what_is_no_stick() -> None:
    given = pictured("picture-frame")
    step = work(given, "backing/face-marks/mark")
    drawn = picture(step, given, *ROOMS["across"])
    assert texts(drawn.svg, "piece") == ["A 1", "A 2", "B 1", "B 2"]
    assert texts(drawn.svg, "letter") == ["D"]
    assert len(scenes_of(step, given)) == 2


@pytest.mark.parametrize("name", ["picture-frame", SPLINES])
def test_once_it_is_cut_apart_no_step_shows_a_stick(name: str) -> None:
    given = pictured(name)
    for strip in given.plan.strips:
        cut = [step.id for step in given.plan.steps if any(map(cuts_apart, (given.tasks[task] for task in step.tasks)))]
        mine = [step for step in given.plan.steps if {given.tasks[task].part for task in step.tasks} & {*strip.parts}]
        first = next(number for number, step in enumerate(mine) if step.id in cut)
        assert given.sticks[mine[first].id].cut
        assert not [step.id for step in mine[first + 1 :] if step.id in given.sticks]
        assert [step.id for step in mine[:first] if step.id in given.sticks]


@pytest.mark.parametrize("name", ["picture-frame", SPLINES])
def test_every_picture_of_a_stick_can_be_read_on_its_card_and_no_word_lies_over_another(name: str) -> None:
    given = pictured(name)
    for step in given.plan.steps:
        if step.id not in given.sticks or any(given.tasks[task].kind == "mark-out" for task in step.tasks):
            continue  # marking out shows the strip in views of its own
        drawn = next((each for room in ROOMS.values() if (each := picture(step, given, *room)).readable), None)
        assert drawn is not None, step.id
        for number, one in enumerate(drawn.texts):
            assert not any(one.overlaps(other, -0.05) for other in drawn.texts[number + 1 :]), step.id


def test_the_card_counts_one_stick_and_the_staff_sheet_has_its_test_piece() -> None:
    def said(sheet: str) -> str:
        text = render(sheet, proved("picture-frame"), drawings("picture-frame"), date(2026, 1, 5), "a4")
        return " ".join(unescape(re.sub(r"<[^>]*>", " ", text)).split())

    step = work(pictured("picture-frame"), "long-piece/rebate/cut")
    marked = work(pictured("picture-frame"), "backing/face-marks/mark")
    card = said("job-card")
    assert f" {step.number} 1 stick with A × 2 B × 2 " in card
    assert f" {marked.number} 1 stick with A × 2 B × 2 and D × 1 " in card
    assert "With each saw one more piece of this section, 150 mm long: the test piece." in said("staff-sheet")


class OfTwo(Drawings):
    """Drawings whose sticks are two, as of a thing with sticks of two sections."""

    def stick(self, step: Step) -> Stick | None:
        found = super().stick(step)
        return found and replace(found, strips=(*found.strips, replace(found.strips[0], name="another")))


def test_how_many_sticks_there_are_stays_in_its_column() -> None:
    drawings = OfTwo(proved("picture-frame"), job("picture-frame"), making("picture-frame"), {})
    card = render("job-card", proved("picture-frame"), drawings, date(2026, 1, 5), "a4")
    columns = re.findall(r'<td class="number".*?</td>', card, re.DOTALL)
    said = [each for column in columns for each in re.findall(r'<span class="many few sticks">([^<]*)</span>', column)]
    assert set(said) == {"2 sticks"}
    # It may break between its words: each is narrower than the column between its margins, printed bold in 9.5 point.
    assert all(text_width(word, 9.5 * 25.4 / 72, bold=True) < 14.0 - 2.3 for word in ("2", "sticks"))
    assert re.search(r"\.step \.sticks \{ white-space: normal; \}", card)


def test_a_stick_whose_first_end_is_squared_is_drawn_from_there() -> None:
    pieces = (StripPiece("peg", "A", 1, 25.0, 45.0), StripPiece("peg", "A", 2, 80.0, 45.0))
    strip = Strip("peg", 226.0, 40.0, 20.0, pieces, 1, 2000.0, "")
    now = from_first_piece(strip)
    assert (now.length, [piece.start for piece in now.pieces]) == (201.0, [0.0, 55.0])


@pytest.mark.parametrize("name", ["picture-frame", SPLINES])
def test_the_parts_named_beside_a_step_are_all_that_its_picture_shows(name: str) -> None:
    """What goes into a frame is tried in the frame: its sides are taken in hand as well."""
    given = pictured(name)
    for step in given.plan.steps:
        letters = {thing.letter.split(" ")[0] for shown in scenes(step, given) for thing in shown.scene.things if thing.letter}
        named = {work.letter for work in given.shown_parts(step)}
        # Hardware is drawn with all that its piece is joined to.
        assert named <= letters if step.id == "whole/hanger/fix" else letters <= named, step.id


def test_what_is_joined_before_is_named_with_its_pieces() -> None:
    given = pictured(SPLINES)
    step = next(each for each in given.plan.steps if each.title == "Try it dry: spline in place")
    assert [(work.letter, work.quantity) for work in given.shown_parts(step)] == [("A", 2), ("B", 2), ("C", 4)]
    (cut,) = (each for each in given.plan.steps if each.title.startswith("Cut the left mitre"))
    assert given.shown_parts(cut) == cut.parts
