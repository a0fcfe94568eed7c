"""Templates: drawn at full size on paper, measured from the file itself; what they show, and how pieces of one meet."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from io import BytesIO
from itertools import pairwise
from math import hypot
from typing import Any

import pytest
from pypdf import PdfReader

from sequencer.model.job import Part
from sequencer.paper.full_size import BAND, TemplatePage, full_size, sheets_of
from sequencer.paper.pages import PageSize, room_on
from sequencer.paper.pdf import make_pdf
from sequencer.paper.sheets import render
from sequencer.paper.templates import Template, smoothed, templates
from sequencer.paper.writing import stylesheet
from tests.features.samples import make
from tests.made import EXAMPLES, drawings, job, plan
from tests.solid.bodies import piece

DAY = date(2027, 2, 1)
MM = 25.4 / 72
CLOSE = 0.2
"""How far off a point may be on paper, mm."""

Line = list[tuple[float, float]]


def html(name: str, size: PageSize = "a4") -> str:
    return render("templates", plan(name), drawings(name), DAY, size)


def lines_of(page: Any) -> list[Line]:
    """Every path of a PDF page as it comes out of the printer: points in mm from the left and from the bottom."""
    found: list[Line] = []

    def see(operator: bytes, operands: list[Any], matrix: list[float], _: list[float]) -> None:
        if operator not in (b"m", b"l"):
            return
        x, y = (float(each) for each in operands)
        a, b, c, d, e, f = matrix
        point = ((a * x + c * y + e) * MM, (b * x + d * y + f) * MM)
        if operator == b"m":
            found.append([])
        found[-1].append(point)

    page.extract_text(visitor_operand_before=see)
    return [line for line in found if len(line) > 1]


def pages_of(name: str, size: PageSize = "a4") -> list[list[Line]]:
    pdf = make_pdf(html(name, size), stylesheet(), DAY, lambda done, count: None)
    return [lines_of(page) for page in PdfReader(BytesIO(pdf)).pages]


def level(line: Line) -> bool:
    return len(line) == 2 and abs(line[0][1] - line[1][1]) < 0.01


def upright(line: Line) -> bool:
    return len(line) == 2 and abs(line[0][0] - line[1][0]) < 0.01


def has(lines: list[Line], start: tuple[float, float], stop: tuple[float, float]) -> bool:
    """Whether a straight line is drawn from one point to another."""
    return any(
        len(line) == 2 and {hypot(a[0] - b[0], a[1] - b[1]) < CLOSE for a, b in zip(line, ends, strict=True)} == {True}
        for line in lines
        for ends in ((start, stop), (stop, start))
    )


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_the_bar_is_100_mm_on_every_page(size: PageSize) -> None:
    for lines in pages_of("nest-box", size):
        ticks = [line for line in lines if upright(line) and abs(abs(line[0][1] - line[1][1]) - 5.0) < 0.05]
        assert len(ticks) == 2
        assert abs(ticks[1][0][0] - ticks[0][0][0]) == pytest.approx(100.0, abs=0.02)


def test_an_outline_and_a_hole_stand_where_the_drawing_has_them() -> None:
    # Herb caddy, end: 170 x 190, a path from (0, 90) by (45, 170) in an arc to (125, 170) and (170, 90); hole at (85, 160).
    (lines,) = pages_of("herb-caddy")
    left, bottom = next(
        (line[0][0], min(line[0][1], line[1][1]))
        for line in lines
        if upright(line) and abs(abs(line[0][1] - line[1][1]) - 190.0) < 0.05
    )
    assert has(lines, (left, bottom), (left + 170, bottom))
    curve = max(lines, key=len)
    for x, y in ((0, 90), (45, 170), (125, 170), (170, 90)):
        assert min(hypot(px - left - x, py - bottom - y) for px, py in curve) < CLOSE
    arc = next(each for each in job("herb-caddy").parts["end"].features["top-outline"].points if each.radius)
    high = 170 - (arc.radius**2 - 40**2) ** 0.5
    for px, py in curve:
        if py - bottom > 170 + CLOSE:
            assert hypot(px - left - 85, py - bottom - high) == pytest.approx(arc.radius, abs=0.05)
    assert any(
        level(line) and hypot(sum(p[0] for p in line) / 2 - left - 85, line[0][1] - bottom - 160) < CLOSE for line in lines
    )


def test_a_chord_is_never_far_from_its_circle() -> None:
    points = smoothed([(200.0, 0.0), (199.04, 19.6), (196.16, 39.02), (191.4, 58.06)], closed=False)
    assert len(points) > 4
    for one, two in pairwise(points):
        middle = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
        assert hypot(*middle) == pytest.approx(200.0, abs=0.1)


def test_a_polygon_keeps_its_corners() -> None:
    square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    assert smoothed(square, closed=True) == (*square, square[0])


def _only(name: str, part: str) -> list[Template]:
    return [each for each in templates(job(name)) if each.part.name == part]


def test_what_has_a_template_and_what_has_none() -> None:
    assert {each.part.name for each in templates(job("herb-caddy"))} == {"end"}
    assert {each.part.name for each in templates(job("nest-box"))} == {"back", "side", "front", "floor", "roof"}
    assert templates(job("picture-frame")) == ()
    assert "No part of this job needs a template" in html("picture-frame")


def test_it_is_laid_on_the_edges_it_is_measured_from_and_names_them() -> None:
    (end,) = _only("herb-caddy", "end")
    assert end.references == ("left", "bottom")
    said = html("herb-caddy")
    assert "Lay this line on the bottom edge." in said
    assert "Lay this line on the left end." in said
    assert "Lay this line on the top edge." not in said
    assert "diameter 20: through" in said


# The strips of the seat are too narrow for the words along their edge; what holes are measured from is said over them.
def test_what_a_strip_is_laid_on_is_said_over_it() -> None:
    assert "Lay on: outer edge, left end" in html("step-stool")


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_narrow_one_too_says_what_it_is_laid_on(name: str) -> None:
    said = html(name)
    for each in templates(job(name)):
        assert each.references
        for face in each.references:
            assert f"Lay this line on the {each.called(face)}." in said or f"Lay on: {each.laid_on}" in said


def test_a_long_part_shows_only_its_ends_each_laid_on_its_own_end() -> None:
    near, far = _only("step-stool", "seat")
    assert near.window.width < 100 > far.window.width
    assert (near.references, far.references) == (("left", "bottom"), ("right", "bottom"))
    assert sorted(centre.at for centre in near.centres) == [(52.0, 68.0), (52.0, 104.0)]
    assert sorted(centre.at for centre in far.centres) == [(308.0, 68.0), (308.0, 104.0)]


def test_the_right_hand_is_the_left_hand_turned_over() -> None:
    left, right = _only("nest-box", "side")
    assert (left.hand, right.hand) == ("left", "right")
    size = left.part.length
    assert sorted((round(size - centre.at[0], 6), centre.at[1]) for centre in left.centres) == sorted(
        (round(centre.at[0], 6), centre.at[1]) for centre in right.centres
    )
    assert left.called("left") == right.called("right") == "foot"


def test_a_rounded_opening_is_drawn_with_its_corners() -> None:
    body = piece(make("cut-out", face="inside", at={"left": 40, "bottom": 20}, length=60, width=30, radius=10))
    (found,) = templates_of(body.part)
    (curve,) = found.curves
    xs, ys = zip(*curve.points, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((40, 100, 20, 50))
    assert min(hypot(x - 40, y - 20) for x, y in curve.points) == pytest.approx(10 * (2**0.5 - 1), abs=0.1)
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(curve.points, (*curve.points[1:], curve.points[0]), strict=True)) / 2
    assert abs(area) == pytest.approx(60 * 30 - (4 - 3.14159) * 100, rel=1e-3)


def templates_of(part: Part) -> tuple[Template, ...]:
    return templates(replace(job("herb-caddy"), parts={part.name: part}))


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("name", [*EXAMPLES, "starter"])
def test_every_drawing_fits_its_page_at_full_size(name: str, size: PageSize) -> None:
    room = room_on(size)
    for page in full_size(plan(name), job(name), size):
        (shown,) = page.entries
        assert isinstance(shown, TemplatePage)
        for row in shown.rows:
            assert sum(sheet.room for sheet in row) <= room.width
            for sheet in row:
                found = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"', sheet.drawing)
                assert found is not None
                assert found.group(1, 2) == found.group(3, 4)
                assert sheet.tall + 36 <= room.height


def _marks(drawing: str) -> dict[str, tuple[float, float]]:
    """The marks to lay over each other, by their numbers."""
    rings = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="2.4"', drawing)
    names = re.findall(r'class="register"[^>]*>(\d+)</text>', drawing)
    return {name: (float(x), float(y)) for name, (x, y) in zip(names, rings, strict=True)}


def test_pieces_of_a_large_template_meet_on_their_marks() -> None:
    template = next(each for each in _only("nest-box", "back") if each.window.width > 200)
    first, second = sheets_of(template, 190.0, 230.0)
    one, two = _marks(first.drawing), _marks(second.drawing)
    assert set(one) == set(two) == {"1", "2"}
    shift = {(round(one[name][0] - two[name][0], 2), round(one[name][1] - two[name][1], 2)) for name in one}
    ((across, down),) = shift
    assert down == 0.0
    # Laid together, both pieces are as wide as the template with the names around it.
    assert across + second.width == pytest.approx(template.window.width + 2 * BAND, abs=0.02)
    assert (first.tile, second.tile) == ("row 1 of 1, column 1 of 2", "row 1 of 1, column 2 of 2")


def test_one_that_is_too_wide_and_not_too_high_is_turned() -> None:
    (front,) = _only("nest-box", "front")
    (sheet,) = sheets_of(front, 190.0, 240.0)
    assert sheet.height > sheet.width
    assert sheet.tile == ""


def test_a_page_carries_the_mark_of_the_steps_that_cut_what_it_shows() -> None:
    pages = full_size(plan("nest-box"), job("nest-box"), "a4")
    assert len({page.mark for page in pages}) > 1
    assert [page.number for page in pages] == list(range(1, len(pages) + 1))
