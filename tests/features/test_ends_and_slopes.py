"""Tenon, mitre, bevel, taper: sizes worked by hand, and each check once for and once against."""

from __future__ import annotations

from math import cos, radians, tan
from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.model.frame import Block
from sequencer.model.shapes import bounds_of

from .samples import BOARD, findings, make, removed, the_finding


def test_a_tenon_leaves_its_own_section() -> None:
    tenon = make("tenon", end="left", length=30, thickness=6, width=50, from_bottom=10)
    assert removed(tenon) == pytest.approx(30 * (90 * 18 - 50 * 6))
    assert tenon.lines(BOARD) == {"shoulder": ("left", 30)}
    assert bounds_of(tenon.removes(BOARD)).span("x") == (0, 30)
    figures = tenon.figures(BOARD)
    assert (figures["feature.thickness"], figures["feature.width"], figures["feature.depth"]) == (6, 50, 30)
    assert tenon.opens() == ("inside", "outside", "top", "bottom", "left")
    assert tenon.measured_from() == ("left", "outside", "inside", "bottom")
    assert [each.label for each in tenon.dimensions(BOARD)] == ["30", "10", "50", "30", "6", "6", "6"]


def test_a_barefaced_tenon_has_no_shoulder_behind() -> None:
    tenon = make("tenon", end="right", length=25, thickness=8, from_outside=0)
    assert removed(tenon) == pytest.approx(25 * 90 * 10)
    assert bounds_of(tenon.removes(BOARD)).low == (275, 0, 8)
    assert tenon.opens() == ("inside", "right")


@pytest.mark.parametrize(
    ("fields", "level", "code", "what"),
    [
        ({"width": 100}, "error", "tenon-outside-section", "The tenon lies from -5 to 95 mm and the part is only 90 mm wide."),
        (
            {"width": 40, "from_bottom": 60},
            "error",
            "tenon-outside-section",
            "The tenon lies from 60 to 100 mm and the part is only 90 mm wide.",
        ),
        (
            {"thickness": 20},
            "error",
            "tenon-outside-section",
            "The tenon lies from -1 to 19 mm and the part is only 18 mm thick.",
        ),
        ({"length": 300}, "error", "tenon-too-long", "The tenon is 300 mm long and the part 300 mm: no shoulder is left."),
        ({"thickness": 18, "width": None}, "error", "no-shoulder", "The tenon is as large as the part: it has no shoulder."),
        (
            {"thickness": 4, "width": 20},
            "warning",
            "tenon-thickness",
            "The tenon is 4 mm thick in 18 mm of wood; a quarter to a half is 4.5 to 9 mm.",
        ),
        (
            {"thickness": 10},
            "warning",
            "tenon-thickness",
            "The tenon is 10 mm thick in 18 mm of wood; a quarter to a half is 4.5 to 9 mm.",
        ),
        ({"width": 40}, "warning", "tenon-width", "The tenon is 40 mm wide; six times its thickness is 36 mm."),
    ],
)
def test_tenons_out_of_proportion(fields: dict[str, Any], level: str, code: str, what: str) -> None:
    typed = {"end": "left", "length": 30, "thickness": 6, "width": 36} | fields
    found = the_finding(make("tenon", **{name: value for name, value in typed.items() if value is not None}))
    assert (found.level, found.code, found.what) == (level, code, what)


def test_a_tenon_of_a_third_is_in_proportion() -> None:
    tenon = make("tenon", end="left", length=30, thickness=6, width=36)
    assert findings(tenon) == []
    assert the_finding(tenon, BOARD, "y").code == "short-grain"


def test_a_mitre_of_45_degrees_takes_a_triangle_as_long_as_the_part_is_wide() -> None:
    mitre = make("mitre", end="left", long="bottom")
    assert removed(mitre) == pytest.approx(90 * 90 / 2 * 18)
    assert mitre.figures(BOARD)["feature.depth"] == pytest.approx(90)
    assert mitre.ends_part() == ("left",)
    assert mitre.spoils() == ("left",)
    around = bounds_of(mitre.removes(BOARD))
    assert around.low.x == 0
    assert around.high.x == pytest.approx(90)
    assert [each.label for each in mitre.dimensions(BOARD)] == ["90", "45 degrees", "300"]


def test_a_mitre_across_the_thickness_keeps_the_length_of_its_long_face() -> None:
    mitre = make("mitre", end="right", long="outside", angle=22.5)
    assert removed(mitre) == pytest.approx(18 * 18 * tan(radians(22.5)) / 2 * 90)
    assert mitre.removes(BOARD)[0].axis == "y"
    assert mitre.opens()[-1] == "inside"


def test_mitres_too_long_or_too_steep() -> None:
    found = the_finding(make("mitre", end="left", long="bottom"), Block(90, 90, 18))
    assert (found.level, found.code) == ("error", "nothing-left")
    assert found.what == "The mitre takes 90 mm off the top face; the part is only 90 mm long."
    found = the_finding(make("mitre", end="left", long="inside", angle=65))
    assert (found.level, found.code) == ("warning", "steep-mitre")
    assert found.what == "The mitre is cut at 65 degrees from square across the thickness."
    assert findings(make("mitre", end="left", long="inside", angle=60)) == []


def test_a_bevel_slopes_from_its_low_face() -> None:
    bevel = make("bevel", edge="top", low="inside", angle=30)
    waste = 18 * tan(radians(30))
    assert removed(bevel) == pytest.approx(18 * waste / 2 * 300)
    assert bounds_of(bevel.removes(BOARD)).span("y") == pytest.approx((90 - waste, 90))
    assert bevel.figures(BOARD)["feature.width"] == pytest.approx(18 / cos(radians(30)))
    assert bevel.spoils() == ("top",)
    assert bevel.measured_from() == ("outside", "top")
    assert bevel.lengthwise(BOARD)


def test_a_bevel_may_leave_some_of_the_edge_square() -> None:
    bevel = make("bevel", edge="left", low="outside", angle=15, leave=6)
    assert removed(bevel) == pytest.approx(12 * 12 * tan(radians(15)) / 2 * 90)
    assert bounds_of(bevel.removes(BOARD)).span("z") == (0, 12)
    assert [each.label for each in bevel.dimensions(BOARD)] == ["3.2", "15 degrees: 3.2 in 12", "6"]


def test_bevels_with_nothing_to_cut_or_nothing_left() -> None:
    found = the_finding(make("bevel", edge="top", low="inside", angle=30, leave=18))
    assert (found.level, found.code) == ("error", "nothing-to-cut")
    assert found.what == "The bevel leaves 18 mm of the edge and the edge is 18 mm."
    narrow = Block(300, 20, 18)
    assert the_finding(make("bevel", edge="top", low="inside", angle=50), narrow).code == "nothing-left"
    found = the_finding(make("bevel", edge="top", low="inside", angle=45), narrow)
    assert (found.level, found.code) == ("warning", "thin-under-cut")
    assert found.what == "The bevel takes 18 mm off the inside face, and the width is 20 mm: 2 mm is left there."
    assert findings(make("bevel", edge="top", low="inside", angle=40), narrow) == []


def test_a_taper_starts_where_it_says_and_falls_evenly() -> None:
    taper = make("taper", edge="top", from_="left", start=80, amount=20)
    assert removed(taper) == pytest.approx(220 * 20 / 2 * 18)
    around = bounds_of(taper.removes(BOARD))
    assert (around.span("x"), around.span("y")) == ((80, 300), (70, 90))
    assert tan(radians(taper.figures(BOARD)["feature.angle"])) == pytest.approx(20 / 220)
    assert taper.spoils() == ("top",)
    assert not taper.lengthwise(BOARD)
    assert [each.label for each in taper.dimensions(BOARD)] == ["20", "70", "80"]


def test_tapers_with_nothing_to_cut_or_nothing_left() -> None:
    found = the_finding(make("taper", edge="top", from_="left", start=300, amount=20))
    assert (found.level, found.code) == ("error", "nothing-to-cut")
    found = the_finding(make("taper", edge="top", from_="left", amount=90))
    assert (found.level, found.code) == ("error", "nothing-left")
    assert found.what == "The taper takes 90 mm off and the width is 90 mm: 0 mm is left at its narrow end."
    assert the_finding(make("taper", edge="top", from_="left", amount=88)).level == "warning"
    assert findings(make("taper", edge="top", from_="left", amount=80)) == []
    assert the_finding(make("taper", edge="top", from_="left", amount=20), BOARD, "y").code == "short-grain"


@pytest.mark.parametrize(
    ("kind", "fields", "says"),
    [
        ("bevel", {"edge": "top", "low": "bottom", "angle": 30}, "which do not meet"),
        ("bevel", {"edge": "top", "low": "inside", "angle": 90}, "less than 90"),
        ("taper", {"edge": "top", "from": "bottom", "amount": 10}, "which do not meet"),
        (
            "tenon",
            {"end": "top", "length": 30, "thickness": 6},
            "the tenon is at an end of the part, left or right; top is not an end",
        ),
        ("mitre", {"end": "left", "long": "right"}, "the mitre names the faces left and right, which do not meet"),
        ("mitre", {"end": "top", "long": "inside"}, "top is not an end"),
    ],
)
def test_what_no_board_could_make_right_is_refused(kind: str, fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make(kind, **fields)
