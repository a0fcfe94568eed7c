"""Wood left too thin is refused, whatever left it; what stands is let pass."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import Feature
from sequencer.model.job import Stock
from sequencer.solid.thin_wood import thin_wood
from tests import made
from tests.design.jobs import feature, job, part

BOARD = Stock("board", "radiata pine", "board", 90, 20, (2400,), hardness="softwood")
PLY = Stock("ply", "birch plywood", "sheet", 610, 20, (1220,), hardness="sheet")


def channel(
    name: str, distance: float, *, from_: str = "left", kind: str = "housing", face: str = "inside", **more: float
) -> Feature:
    return feature(name, kind, face=face, from_=from_, distance=distance, **({"width": 20, "depth": 6} | more))


def found(*features: Feature, stock: Stock = BOARD) -> list[str]:
    drawn = job([part("side", stock.name, 300, 90, 20, *features)], [], stock=[stock])
    return [each.what for each in thin_wood(drawn, made.knowledge().working)]


WALLS = {
    "groove beside an edge": [channel("g", 1.5, from_="bottom", kind="groove")],
    "two housings": [channel("a", 60), channel("b", 81)],
    "housing before the end": [channel("a", 3.5)],
    "hole beside an edge": [feature("h", "hole", face="inside", diameter=10, at=({"bottom": 6.0, "left": 100.0},))],
    "hole before the end": [feature("h", "hole", face="inside", diameter=10, at=({"bottom": 40.0, "left": 6.0},))],
    "tongue between rebates": [
        feature("a", "rebate", edge=("inside", "top"), width=8, depth=10),
        feature("b", "rebate", edge=("outside", "top"), width=8, depth=9.5),
    ],
    "thin tongue": [feature("t", "tongue", edge="top", length=8, thickness=1.5)],
    "floors back to back": [
        channel("a", 20, from_="bottom", kind="groove", depth=9.5),
        channel("b", 20, from_="bottom", kind="groove", face="outside", depth=9.5),
    ],
    "mortise beside a face": [feature("m", "mortise", face="top", length=40, width=6, depth=20, at={"inside": 0.5})],
    "groove beside a taper": [
        feature("t", "taper", edge="top", from_="left", amount=30),
        channel("g", 16, from_="top", kind="groove"),
    ],
}
SAID = {
    "groove beside an edge": "Between g and the bottom face only 1.5 mm of wood is left.",
    "two housings": "Between a and b the wood is only 1 mm long along the grain.",
    "housing before the end": "Between a and the left face the wood is only 3.5 mm long along the grain.",
    "hole beside an edge": "Between h and the bottom face only 1 mm of wood is left.",
    "hole before the end": "Between h and the left face the wood is only 1 mm long along the grain.",
    "tongue between rebates": "Between a and b only 0.5 mm of wood is left.",
    "thin tongue": "At t only 1.5 mm of wood is left.",
    "floors back to back": "Between a and b only 1 mm of wood is left.",
    "mortise beside a face": "Between m and the inside face only 0.5 mm of wood is left.",
    "groove beside a taper": "Between g and t only 1 mm of wood is left.",
}


@pytest.mark.parametrize("name", WALLS)
def test_a_wall_too_thin_to_stand_is_refused_once_with_its_figure(name: str) -> None:
    assert found(*WALLS[name]) == [SAID[name]]


@pytest.mark.parametrize(
    "features",
    [
        [channel("g", 2, from_="bottom", kind="groove")],
        [channel("a", 60), channel("b", 84)],
        [channel("a", 4)],
        [feature("t", "tongue", edge="top", length=8, thickness=2)],
        [feature("r", "recess", face="inside", length=40, width=10, depth=0.8, at={"bottom": 1.9})],
        [feature("f", "dovetail-housing", face="inside", from_="left", distance=30, width=20, depth=6, slope=6)],
    ],
    ids=["groove", "housings", "housing", "tongue", "low step", "sharp lips"],
)
def test_what_stands_is_let_pass(features: list[Feature]) -> None:
    assert found(*features) == []


def test_sheet_has_no_short_grain_and_still_no_slivers() -> None:
    assert found(channel("a", 2.5), stock=PLY) == []
    assert found(channel("a", 1), stock=PLY) == ["Between a and the left face only 1 mm of wood is left."]


def test_short_grain_is_said_to_shear_off_and_the_least_is_told() -> None:
    drawn = job([part("side", "board", 300, 90, 20, channel("a", 2))], [], stock=[BOARD])
    (one,) = thin_wood(drawn, made.knowledge().working)
    assert (one.level, one.subject, one.source) == ("error", "side/a", "from memory")
    assert "shears off" in one.why
    assert one.remedy == "Leave 10 mm or more, 4 mm at the least, or carry the cut out to the left face."
    (two,) = thin_wood(drawn, replace(made.knowledge().working, least_end_wall=3))
    assert "3 mm at the least" in two.remedy


def test_pins_and_fingers_have_a_measure_of_their_own() -> None:
    fingers = feature("f", "finger-joint", end="left", length=20, finger=1.5, start="finger")
    drawn = job([part("side", "board", 300, 90, 20, fingers)], [], stock=[BOARD])
    assert list(thin_wood(drawn, made.knowledge().working)) == []


def bores(*spots: tuple[float, float], diameter: float = 5, **more: object) -> list[Feature]:
    return [
        feature(f"h{number}", "hole", face="inside", diameter=diameter, at=({"left": left, "bottom": bottom},), **more)
        for number, (left, bottom) in enumerate(spots)
    ]


def heard(*features: Feature) -> list[tuple[str, str]]:
    drawn = job([part("side", BOARD.name, 300, 90, 20, *features)], [], stock=[BOARD])
    return [(each.level, each.what) for each in thin_wood(drawn, made.knowledge().working)]


SHORT = "the wood is only 3 mm long along the grain."


def test_small_holes_close_along_the_grain_stand_in_the_middle_of_a_board() -> None:
    """A row of holes for pegs: one warning for the row, whether they are drawn one by one or as one feature."""
    row = [(100.0 + 8 * number, 40.0) for number in range(4)]
    assert heard(*bores(*row, depth=10)) == [("warning", f"Between h0 and h1 {SHORT}")]
    assert heard(*bores(*row)) == [("warning", f"Between h0 and h1 {SHORT}")]
    spots = tuple({"left": left, "bottom": bottom} for left, bottom in row)
    together = feature("row", "hole", face="inside", diameter=5, at=spots, depth=10)
    assert heard(together) == [("warning", f"Between two holes of row {SHORT}")]


@pytest.mark.parametrize(
    "features",
    [
        bores((100, 40), (113, 40), diameter=10.1, depth=10),
        bores((7, 40), (15, 40), depth=10),
        bores((100, 7.4), (108, 7.4), depth=10),
        [*bores((100, 40), (108, 40), depth=10), channel("g", 46, from_="bottom", kind="groove")],
        [*bores((100, 40), depth=10), channel("g", 105.5)],
    ],
    ids=["wide", "near the end", "near an edge", "beside a groove", "before a housing"],
)
def test_elsewhere_short_grain_between_holes_is_still_refused(features: list[Feature]) -> None:
    assert any(level == "error" and "long along the grain" in what for level, what in heard(*features))


def test_even_small_holes_leave_the_least_wall() -> None:
    assert heard(*bores((100, 40), (107, 40), depth=10)) == [
        ("warning", "Between h0 and h1 the wood is only 2 mm long along the grain.")
    ]
    assert ("error", "Between h0 and h1 the wood is only 1.5 mm long along the grain.") in heard(
        *bores((100, 40), (106.5, 40), depth=10)
    )
