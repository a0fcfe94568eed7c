"""Published projects: they read and check without error, and their arithmetic is the tool's.

Every figure asserted here is the book's, or was chosen with the case to fit it; the head of each job file names book, year
and Project Gutenberg number and says which are which. Lengths in inches, as in the books.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sequencer.design.checking import check_design
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.sums import panel_most, piece_between
from sequencer.findings import Finding
from sequencer.knowledge.settings.fasteners import in_second
from sequencer.model.frame import Axis
from sequencer.model.job import Decision, Job
from sequencer.model.shapes import bounds_of
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.parts import standing_solids
from tests.made import ROOT, job, knowledge, making, plan, workshop

IN = 25.4

HOOK = "tests/cases/s01-bench-hook.yaml"
CROSS = "tests/cases/s02-flower-pot-cross.yaml"
BOARD = "tests/cases/s03-chopping-board.yaml"
HOUSE = "tests/cases/s04-bird-house.yaml"
BOX = "tests/cases/s05-knife-box.yaml"
DRAWER = "tests/cases/s06-table-drawer.yaml"
FRAME = "tests/cases/s07-glass-door-frame.yaml"
TABOURET = "tests/cases/s08-keyed-tabouret.yaml"
ROLLER = "tests/cases/s09-towel-roller.yaml"

ADVICE = {
    # Cross-grain blocks, holes an inch from their ends, screws that can be no longer: all true of the book's hook.
    HOOK: {"cannot-move", "near-edge", "screw-holds-little"},
    CROSS: set(),
    BOARD: set(),
    HOUSE: set(),
    DRAWER: set(),
    # The housing 3/8 in from the end, and a tongue that is a quarter of the thickness.
    BOX: {"short-grain", "deep-cut", "cannot-move"},
    # The top mortise 3/8 in from the end; the horns keep the stile from splitting until the wedges are in.
    FRAME: {"short-grain"},
    # The upper stretchers pass the legs by 1/4 in only; the book names no screws for the top.
    TABOURET: {"short-grain", "screw-gauge-unsaid"},
    ROLLER: set(),
}
"""Warnings that are true of the published design. None of them says that it cannot be made."""

SIZES = {
    HOOK: {"base": (1, 12, 7.75, 0.875), "block": (2, 5.9375, 1.75, 0.875)},
    CROSS: {"arm-slot-up": (1, 5.25, 1.125, 0.375), "arm-slot-down": (1, 5.25, 1.125, 0.375)},
    BOARD: {"board": (1, 16.875, 5.75, 0.75)},
    BOX: {
        "partition": (1, 11.5, 3.25, 0.5), "side": (2, 12, 1.5, 0.5), "end": (2, 6, 1.5, 0.5), "bottom": (1, 12, 6.5, 0.25),
    },
    HOUSE: {
        "side": (2, 7.5, 3, 0.5), "end-plain": (1, 5.25, 4.5, 0.5), "end-door": (1, 5.25, 4.5, 0.5),
        "floor": (1, 10, 6.5, 0.5), "roof-wide": (1, 9.5, 5, 0.5), "roof-narrow": (1, 9.5, 4.5, 0.5),
    },
    DRAWER: {
        "front": (1, 13.9375, 3.9375, 0.75), "side": (2, 15, 3.9375, 0.5), "back": (1, 13.3125, 3.1875, 0.5),
        "bottom": (1, 13.3125, 14.75, 0.25), "block": (2, 3, 0.75, 0.5),
    },
    FRAME: {"stile": (2, 12, 2, 1), "top-rail": (1, 9, 1.5, 1), "bottom-rail": (1, 9, 2, 1)},
    TABOURET: {
        "top": (1, 16.5, 16.5, 0.875), "leg": (4, 18.5, 4.75, 0.875), "lower-under": (1, 15.75, 2.75, 0.875),
        "lower-over": (1, 15.75, 2.75, 0.875), "upper-under": (1, 13.25, 2.25, 0.875), "upper-over": (1, 13.25, 2.25, 0.875),
        "key": (4, 2.5, 0.75, 0.5),
    },
    ROLLER: {
        "back": (1, 18, 4, 0.75), "bracket-closed": (1, 4, 3.5, 0.75), "bracket-open": (1, 4, 3.5, 0.75),
        "roller": (1, 14.875, 1.5, 1.5), "pin": (2, 1.3125, 0.375, 0.375),
    },
}  # fmt: skip
"""Part: count, length, width, thickness."""

ALL = tuple(SIZES)


def inches(value: float) -> Any:
    return pytest.approx(value * IN, abs=0.001)


def checked(case: Job) -> list[Finding]:
    return [finding for finding in check_design(case, knowledge()) if finding.level != "note"]


def changed(case: str, folder: Path, *swaps: tuple[str, str]) -> Job:
    """The case with text of its file replaced; each must be in it."""
    text = (ROOT / case).read_text(encoding="utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    file = folder / "changed.yaml"
    file.write_text(text, encoding="utf-8")
    return read_job(file)[0]


def span(placed: Placement, piece: str, axis: Axis) -> tuple[float, float]:
    """Extent of a placed piece along an axis of the thing, in inches."""
    low, high = placed.span(piece, axis)
    return low / IN, high / IN


def overlap(one: tuple[float, float], other: tuple[float, float]) -> float:
    return min(one[1], other[1]) - max(one[0], other[0])


def taken(case: Job, part: str, feature: str, axis: Axis) -> tuple[float, float]:
    """Extent of what a feature takes away along an axis of its part, no further than the part, in inches."""
    own = case.parts[part]
    low, high = bounds_of(own.features[feature].removes(own.block)).span(axis)
    return max(low, 0.0) / IN, min(high, own.block.size(axis)) / IN


def figure(case: Job, part: str, feature: str, name: str) -> float:
    """A figure of a feature, in inches."""
    own = case.parts[part]
    return own.features[feature].figures(own.block)[f"feature.{name}"] / IN


# All of them.


@pytest.mark.parametrize("case", ALL)
def test_it_names_its_book(case: str) -> None:
    head = (ROOT / case).read_text(encoding="utf-8").partition("format:")[0]
    assert "Project Gutenberg no." in head
    assert "Project Gutenberg" in job(case).source


@pytest.mark.parametrize("case", ALL)
def test_it_reads_with_nothing_to_say(case: str) -> None:
    _, notes = read_job(ROOT / case)
    assert notes == ()


@pytest.mark.parametrize("case", ALL)
def test_its_design_has_no_error(case: str) -> None:
    found = checked(job(case))
    assert [str(each) for each in found if each.level == "error"] == []
    assert {each.code for each in found} <= ADVICE[case]


@pytest.mark.parametrize("case", ALL)
def test_its_parts_have_the_sizes_of_the_book(case: str) -> None:
    parts = job(case).parts
    assert set(parts) == set(SIZES[case])
    for name, (count, *sizes) in SIZES[case].items():
        assert parts[name].count == count
        assert [parts[name].length, parts[name].width, parts[name].thickness] == [inches(size) for size in sizes], name


@pytest.mark.parametrize("case", ALL)
def test_every_piece_has_its_place(case: str) -> None:
    placed = place(job(case))
    assert placed.unplaced == ()
    assert len(placed.groups) == 1


# Bench hook.


def test_a_block_is_half_of_what_the_kerf_leaves() -> None:
    block = job(HOOK).parts["block"]
    assert 2 * block.length + 0.125 * IN == inches(12)
    assert job(HOOK).sizes["kerf"] == inches(0.125)


def test_base_strip_and_kerf_come_out_of_the_board() -> None:
    case = job(HOOK)
    needs = case.parts["base"].width + 2 * IN + case.sizes["kerf"]
    assert needs == inches(9.875)
    assert needs <= case.stock["board"].width


def test_the_screw_holds_in_the_base_and_does_not_come_through() -> None:
    case = job(HOOK)
    length = case.hardware["screws"].length
    assert length is not None
    assert in_second(length, case.parts["block"].thickness) == inches(0.625)
    assert length < case.parts["block"].thickness + case.parts["base"].thickness
    longer = replace(case, hardware={"screws": replace(case.hardware["screws"], length=2 * IN)})
    assert "screw-comes-through" in {each.code for each in checked(longer)}


def test_a_block_is_shorter_than_the_base_is_wide() -> None:
    assert job(HOOK).parts["block"].length < job(HOOK).parts["base"].width


def test_the_blocks_are_at_opposite_ends_of_opposite_faces() -> None:
    placed = place(job(HOOK))
    base, first, second = (span(placed, piece, "z") for piece in ("base", "block.1", "block.2"))
    assert first[0] == pytest.approx(base[1])
    assert second[1] == pytest.approx(base[0])
    assert span(placed, "block.1", "x") == pytest.approx((0, 1.75))
    assert span(placed, "block.2", "x") == pytest.approx((10.25, 12))


def test_both_blocks_on_one_face_are_found(tmp_path: Path) -> None:
    wrong = changed(
        HOOK,
        tmp_path,
        ("to: base/outside, flush: [{bottom: right}, {left: top}]", "to: base/inside, flush: [{bottom: right}, {right: top}]"),
    )
    assert [each.subject for each in checked(wrong) if each.level == "error"] == ["thickness"]


# Flower-pot cross.


def test_the_slots_share_the_height_over_the_foot_opening() -> None:
    case = job(CROSS)
    up, down = figure(case, "arm-slot-up", "slot", "depth"), figure(case, "arm-slot-down", "slot", "depth")
    foot = figure(case, "arm-slot-down", "foot-opening", "depth")
    assert up == pytest.approx(0.4375)
    assert down - foot == pytest.approx(0.4375)
    assert up + down == pytest.approx(1.125)


@pytest.mark.parametrize("arm", ["arm-slot-up", "arm-slot-down"])
def test_slot_and_opening_are_in_the_middle(arm: str) -> None:
    case = job(CROSS)
    assert taken(case, arm, "slot", "x") == pytest.approx((2.4375, 5.25 - 2.4375))
    assert figure(case, arm, "slot", "width") == pytest.approx(0.375)
    assert taken(case, arm, "foot-opening", "x") == pytest.approx((1, 4.25))


def test_two_arms_come_out_of_the_stick() -> None:
    case = job(CROSS)
    assert 2 * case.parts["arm-slot-up"].length < case.stock["stick"].lengths[0]


def test_the_arms_cross_level_and_square() -> None:
    placed = place(job(CROSS))
    assert span(placed, "arm-slot-up", "y") == pytest.approx(span(placed, "arm-slot-down", "y"))
    assert span(placed, "arm-slot-down", "x") == pytest.approx((2.4375, 2.8125))


def test_two_arms_alike_are_found(tmp_path: Path) -> None:
    alike = changed(CROSS, tmp_path, ("    change: {features: {slot: {face: bottom, depth: foot + slot}}}\n", ""))
    assert "error" in {each.level for each in checked(alike)}


def test_a_slot_marked_before_planing_is_found(tmp_path: Path) -> None:
    """Set out from the rough thickness of 1/2 in instead of the planed 3/8 in."""
    loose = changed(CROSS, tmp_path, ("distance: (long - thick)/2, width: thick", "distance: (long - 1/2)/2, width: 1/2"))
    assert "too-loose" in {each.code for each in checked(loose)}


# Bird house.


def test_the_gable_rises_half_its_width() -> None:
    case = job(HOUSE)
    for end in ("end-plain", "end-door"):
        low, high = taken(case, end, "gable", "x")
        assert high - low == pytest.approx(4.5 / 2)
        assert low == pytest.approx(case.parts["side"].width / IN)


def test_ends_of_the_height_in_the_text_do_not_meet_the_sides(tmp_path: Path) -> None:
    """5 1/2 in: the gable starts 1/4 in above the bevel."""
    wrong = changed(HOUSE, tmp_path, ("length: eaves + wide/2", "length: 5 1/2"))
    assert taken(wrong, "end-plain", "gable", "x")[1] == pytest.approx(5.5)
    assert wrong.parts["end-plain"].length - wrong.parts["end-plain"].width / 2 > wrong.parts["side"].width


def test_floor_and_roof_stand_out_as_in_the_book() -> None:
    placed = place(job(HOUSE))
    walls = span(placed, "side.1", "z"), span(placed, "side.2", "z")
    floor = span(placed, "floor", "z")
    assert [walls[0][0] - floor[0], floor[1] - walls[1][1]] == pytest.approx([0.5, 0.5]) or [
        walls[1][0] - floor[0],
        floor[1] - walls[0][1],
    ] == pytest.approx([0.5, 0.5])
    side = span(placed, "side.1", "x")
    for roof in ("roof-wide", "roof-narrow"):
        low, high = span(placed, roof, "x")
        assert (side[0] - low, high - side[1]) == pytest.approx((1, 1))


def test_the_screws_land_in_the_middle_of_the_sides() -> None:
    case = job(HOUSE)
    holes = taken(case, "floor", "screws-1", "y")
    assert sum(holes) / 2 == pytest.approx(0.75)
    assert sum(holes) / 2 == pytest.approx(0.5 + case.parts["side"].thickness / IN / 2)
    length = case.hardware["floor-screws"].length
    assert length is not None
    assert in_second(length, case.parts["floor"].thickness) < case.parts["side"].width


def test_the_roof_boards_lie_on_the_bevels_and_meet_at_the_ridge() -> None:
    case, placed = job(HOUSE), place(job(HOUSE))
    leans = [placed.poses[roof].lean for roof in ("roof-wide", "roof-narrow")]
    assert [abs(lean.angle) for lean in leans if lean] == pytest.approx([45, 45])
    assert case.parts["roof-wide"].width - case.parts["roof-narrow"].width == inches(0.5)
    solids = standing_solids(placed)
    assert solids["roof-wide"].gap(solids["roof-narrow"], 10) == pytest.approx(0, abs=0.01)
    assert (solids["roof-wide"] & solids["roof-narrow"]).volume < 1


# Table drawer.


def test_front_body_and_space_between_the_sides() -> None:
    placed = place(job(DRAWER))
    front = span(placed, "front", "x")
    assert 14 - (front[1] - front[0]) == pytest.approx(0.0625)
    sides = sorted((span(placed, "side.left", "x"), span(placed, "side.right", "x")))
    assert sides[1][1] - sides[0][0] == pytest.approx(13.8125)
    assert sides[1][0] - sides[0][1] == pytest.approx(12.8125)
    for piece in ("back", "bottom"):
        inner = span(placed, piece, "x")
        assert [overlap(inner, side) for side in sides] == pytest.approx([0.25, 0.25])
    assert panel_most(12.8125 * IN, (0.25 * IN, 0.25 * IN)).value == inches(13.3125)


def test_the_back_stands_on_the_bottom_which_reaches_the_ends_of_the_sides() -> None:
    placed = place(job(DRAWER))
    assert span(placed, "back", "y")[0] == pytest.approx(span(placed, "bottom", "y")[1])
    ends = [span(placed, piece, "z") for piece in ("side.left", "bottom")]
    assert ends[0][1] == pytest.approx(ends[1][1])


def test_a_tail_hides_the_end_of_the_groove_and_a_lap_hides_the_tails() -> None:
    case = job(DRAWER)
    groove = taken(case, "front", "front-groove", "y")
    sockets = [
        bounds_of([shape]).span("y") for shape in case.parts["front"].features["left-sockets"].removes(case.parts["front"].block)
    ]
    assert any(low / IN < groove[0] and groove[1] < high / IN for low, high in sockets)
    assert case.parts["front"].thickness / IN - figure(case, "front", "left-sockets", "depth") == pytest.approx(0.25)
    assert figure(case, "side", "side-groove", "depth") <= case.parts["side"].thickness / IN / 2


def test_two_left_sides_are_found(tmp_path: Path) -> None:
    wrong = changed(
        DRAWER,
        tmp_path,
        ("handed: true\n    stock: side-wood", "stock: side-wood"),
        ("side.left", "side.1"),
        ("side.right", "side.2"),
    )
    assert "needs-a-pair" in {each.code for each in checked(wrong)} or "error" in {each.level for each in checked(wrong)}


# Knife box.


def test_partition_and_ends_reach_into_their_housings() -> None:
    placed = place(job(BOX))
    one, other, partition = (span(placed, piece, "x") for piece in ("end.1", "end.2", "partition"))
    assert other[0] - one[1] == pytest.approx(12 - 2 * 0.5)
    assert overlap(one, partition) == pytest.approx(0.25)
    assert overlap(other, partition) == pytest.approx(0.25)
    assert panel_most(11 * IN, (0.25 * IN, 0.25 * IN)).value == inches(11.5)
    for end in ("end.1", "end.2"):
        for side in ("side.1", "side.2"):
            assert overlap(span(placed, end, "z"), span(placed, side, "z")) == pytest.approx(0.25)
    assert piece_between(6.5 * IN, (0.5 * IN, 0.5 * IN), (0.25 * IN, 0.25 * IN)).value == inches(6)


@pytest.mark.parametrize(("tongue", "housing"), [("left-tongue", "left-housing"), ("right-tongue", "right-housing")])
def test_the_tongue_is_as_thick_as_its_housing_is_wide(tongue: str, housing: str) -> None:
    case = job(BOX)
    assert 0.5 - figure(case, "end", tongue, "depth") == pytest.approx(0.125)
    assert figure(case, "side", housing, "width") == pytest.approx(0.125)
    assert figure(case, "side", housing, "depth") <= 0.5 / 2


def test_the_partition_stands_in_the_middle() -> None:
    case, placed = job(BOX), place(job(BOX))
    assert taken(case, "end", "partition-housing", "x") == pytest.approx((2.75, 3.25))
    assert sum(span(placed, "partition", "z")) == pytest.approx(sum(span(placed, "bottom", "z")))


def test_the_bottom_covers_the_frame() -> None:
    placed = place(job(BOX))
    assert span(placed, "bottom", "x") == pytest.approx((span(placed, "end.1", "x")[0], span(placed, "end.2", "x")[1]))
    assert span(placed, "bottom", "z") == pytest.approx((span(placed, "side.1", "z")[0], span(placed, "side.2", "z")[1]))
    assert span(placed, "bottom", "y")[1] == pytest.approx(span(placed, "side.1", "y")[0])


def test_the_bottom_is_left_over_size_until_it_is_on() -> None:
    case = job(BOX)
    left = case.parts["bottom"].allowances
    assert sum(each.amount for each in left if each.face in ("left", "right")) == inches(0.0625)
    assert {each.until for each in left} == {"frame-bottom"}
    assert "frame-bottom" in case.assemblies


def test_the_ends_of_the_grip_are_the_two_holes() -> None:
    case = job(BOX)
    assert taken(case, "partition", "grip", "x") == pytest.approx(taken(case, "partition", "grip-holes", "x"))
    low, high = taken(case, "partition", "grip", "x")
    assert high - low == pytest.approx(7.25 - 4.25 + 1)


@pytest.mark.parametrize(("fall", "end"), [("fall-left", 0), ("fall-right", 11.5)])
def test_the_top_edge_falls_to_the_height_of_the_ends(fall: str, end: float) -> None:
    case = job(BOX)
    assert taken(case, "partition", fall, "y")[0] == pytest.approx(case.parts["end"].width / IN)
    assert end in [pytest.approx(at) for at in taken(case, "partition", fall, "x")]


def test_a_housing_that_faces_outwards_is_found(tmp_path: Path) -> None:
    wrong = changed(BOX, tmp_path, ("left-housing: {kind: housing, face: inside", "left-housing: {kind: housing, face: outside"))
    assert "error" in {each.level for each in checked(wrong)}


# Glass door frame.


def test_opening_shoulders_and_tenons_add_up() -> None:
    """9 - 2 x 2 = 5; 5 + 2 x 5/16 = 5 5/8; (9 - 5 5/8) / 2 = 1 11/16 = 2 - 5/16."""
    case, placed = job(FRAME), place(job(FRAME))
    left, right = sorted((span(placed, "stile.left", "y"), span(placed, "stile.right", "y")))
    assert right[0] - left[1] == pytest.approx(5)
    for rail in ("top-rail", "bottom-rail"):
        tenons = [taken(case, rail, f"{end}-tenon", "x") for end in ("left", "right")]
        assert tenons[1][0] - tenons[0][1] == pytest.approx(5 + 2 * 0.3125) == pytest.approx(5.625)
        assert figure(case, rail, "left-tenon", "length") == pytest.approx(2 - 0.3125)
        assert span(placed, rail, "y") == pytest.approx((left[0], right[1]))


@pytest.mark.parametrize(("mortise", "rail", "long"), [("top", "top-rail", 0.8125), ("bottom", "bottom-rail", 1.1875)])
def test_a_tenon_is_as_wide_as_its_mortise_is_long(mortise: str, rail: str, long: float) -> None:
    """1 1/2 - 5/16 - 3/8 = 13/16; 2 - 5/16 - 1/2 = 1 3/16."""
    case = job(FRAME)
    assert figure(case, "stile", f"{mortise}-mortise", "length") == pytest.approx(long)
    assert figure(case, rail, "left-tenon", "width") == pytest.approx(long)


def test_horns_and_rail_ends_are_left_on_until_the_frame_is_glued() -> None:
    """13 - 12 = 2 x 1/2; 9 1/4 - 9 = 2 x 1/8."""
    case = job(FRAME)
    for part, length in (("stile", 13), ("top-rail", 9.25), ("bottom-rail", 9.25)):
        assert case.parts[part].worked.length == inches(length)
        assert {each.until for each in case.parts[part].allowances} == {"frame"}


def test_glass_goes_into_the_rebates() -> None:
    """(5 + 2 x 5/16, 12 - 1 1/2 - 2 + 2 x 5/16) = (5 5/8, 9 1/8), without clearance."""
    case, placed = job(FRAME), place(job(FRAME))
    rebate = figure(case, "stile", "glass-rebate", "width")
    sides = sorted((span(placed, "stile.left", "y"), span(placed, "stile.right", "y")))
    ends = sorted((span(placed, "top-rail", "x"), span(placed, "bottom-rail", "x")))
    assert [own[1][0] - own[0][1] + 2 * rebate for own in (sides, ends)] == pytest.approx([5.625, 9.125])


@pytest.mark.parametrize("part", ["stile", "top-rail", "bottom-rail"])
def test_rebate_and_moulded_edge_are_the_thickness(part: str) -> None:
    """7/16 + 9/16 = 1; the book's 1/2 + 1/2 in one edge. Both are as wide as the shoulders are set back."""
    case = job(FRAME)
    cut = "top-cut-back" if part == "stile" else "left-cope"
    assert figure(case, part, "glass-rebate", "depth") + figure(case, part, cut, "depth") == pytest.approx(1)
    assert figure(case, part, "glass-rebate", "width") == figure(case, part, "mould", "width") == pytest.approx(0.3125)


def test_shoulders_at_five_inches_leave_a_gap(tmp_path: Path) -> None:
    wrong = changed(FRAME, tmp_path, ("tenon: 1 11/16", "tenon: 2"))
    assert "error" in {each.level for each in checked(wrong)}


def test_two_stiles_of_one_hand_are_found(tmp_path: Path) -> None:
    wrong = changed(
        FRAME,
        tmp_path,
        ("handed: true\n    stock: wood", "stock: wood"),
        ("stile.left", "stile.1"),
        ("stile.right", "stile.2"),
    )
    assert "error" in {each.level for each in checked(wrong)}


def test_without_its_cope_a_rail_stands_in_the_moulding_of_the_stile(tmp_path: Path) -> None:
    text = (ROOT / FRAME).read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if "left-cope:" in line)
    found = dry_fit(changed(FRAME, tmp_path, (line, "")), knowledge())
    assert [str(each) for each in dry_fit(job(FRAME), knowledge())] == []
    assert {each.level for each in found} == {"error"}
    assert any("stile" in each.what and "top-rail" in each.what for each in found), [str(each) for each in found]


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_the_frame_is_proved_from_mortise_to_horns(shop: str) -> None:
    proof = making(FRAME, shop).proof
    assert [look.says for look in proof.failures] == []
    assert proof.held


# Tabouret.


def test_the_lower_stretcher_is_shoulders_and_two_tenons() -> None:
    case, placed = job(TABOURET), place(job(TABOURET))
    assert figure(case, "lower-under", "left-tenon", "length") == pytest.approx(2.375)
    inner, outer = span(placed, "leg.1", "x"), span(placed, "leg.2", "x")
    assert outer[0] - inner[1] == pytest.approx(11)
    assert pytest.approx(case.parts["lower-under"].length / IN) == 11 + 2 * 2.375
    assert inner[0] - span(placed, "lower-under", "x")[0] == pytest.approx(1.5)


def test_the_key_mortise_starts_inside_the_leg() -> None:
    case, placed = job(TABOURET), place(job(TABOURET))
    start, stop = taken(case, "lower-under", "left-key-mortise", "x")
    shoulder = 2.375
    assert shoulder - stop == pytest.approx(0.8125)
    assert stop - start == pytest.approx(0.75)
    assert start == pytest.approx(0.8125)
    assert shoulder - stop < case.parts["leg"].thickness / IN
    key, leg = span(placed, "key.1", "x"), span(placed, "leg.1", "x")
    assert overlap(key, leg) == pytest.approx(0.875 - 0.8125)


def test_the_key_slopes_an_eighth_over_the_thickness_of_the_stretcher() -> None:
    case = job(TABOURET)
    thin, thick = taken(case, "key", "key-slope", "y")
    assert (thick - thin) / (case.parts["key"].length / IN) * 0.875 == pytest.approx(0.125)


def test_the_upper_stretcher_passes_both_legs() -> None:
    placed = place(job(TABOURET))
    upper = span(placed, "upper-under", "x")
    assert span(placed, "leg.1", "x")[0] - upper[0] == pytest.approx(0.25)
    assert upper[1] - span(placed, "leg.2", "x")[1] == pytest.approx(0.25)
    assert upper[1] - upper[0] == pytest.approx(11 + 2 * 0.875 + 2 * 0.25)


def test_the_fork_fits_between_its_two_seats() -> None:
    case = job(TABOURET)
    for end in ("left", "right"):
        inside = taken(case, "upper-under", f"{end}-seat-inside", "z")
        outside = taken(case, "upper-under", f"{end}-seat-outside", "z")
        assert inside[0] - outside[1] == pytest.approx(figure(case, "leg", "leg-slot", "width"))
    assert figure(case, "leg", "leg-slot", "width") == pytest.approx(0.625)


@pytest.mark.parametrize(
    ("under", "over", "crossing", "deep", "start"),
    [("lower-under", "lower-over", "lower-cross", 0.4375, 6.5), ("upper-under", "upper-over", "upper-cross", 1.125, 6.1875)],
)
def test_the_laps_are_halves_in_the_middle(under: str, over: str, crossing: str, deep: float, start: float) -> None:
    case = job(TABOURET)
    for part in (under, over):
        assert figure(case, part, crossing, "depth") == pytest.approx(deep)
        low, high = taken(case, part, crossing, "x")
        assert low == pytest.approx(start)
        assert high == pytest.approx(case.parts[part].length / IN - start)


def test_the_two_stretchers_of_a_cross_are_lapped_from_opposite_sides() -> None:
    case = job(TABOURET)
    for pair in (("lower-under", "lower-over", "lower-cross"), ("upper-under", "upper-over", "upper-cross")):
        one, other = (case.parts[part].features[pair[2]].opens()[0] for part in pair[:2])
        assert {one, other} in ({"inside", "outside"}, {"top", "bottom"})


def test_a_cross_of_two_stretchers_alike_is_found(tmp_path: Path) -> None:
    alike = changed(
        TABOURET,
        tmp_path,
        ("over: upper-over, lap: edge", "over: upper-over, lap: flat"),
    )
    assert "error" in {each.level for each in checked(alike)}


def test_the_octagon_is_cut_where_half_the_diagonal_is_measured() -> None:
    case = job(TABOURET)
    top = case.parts["top"]
    corners = top.features["octagon"].removes(top.block)
    half_diagonal = 16.5 * 2**0.5 / 2
    assert len(corners) == 4
    for corner in corners:
        box = bounds_of([corner])
        assert [box.size("x") / IN, box.size("y") / IN] == pytest.approx([16.5 - half_diagonal] * 2)


@pytest.mark.parametrize("shop", ["full", "well-equipped"])
def test_the_tabouret_is_proved_with_its_legs_cleaned_before_the_keys_hold_them(shop: str) -> None:
    assert [look.says for look in making(TABOURET, shop).proof.failures] == []
    order = [task.id for task in plan(TABOURET, shop).tasks]
    assert order.index("whole-glue/clean-inside/clean") < order.index("whole/fit-dry/fit")


# Towel roller.


def test_the_roller_has_a_sixteenth_at_each_side() -> None:
    case, placed = job(ROLLER), place(job(ROLLER))
    between = span(placed, "bracket-open", "x")[0] - span(placed, "bracket-closed", "x")[1]
    assert between == pytest.approx(15)
    assert between - case.parts["roller"].length / IN == pytest.approx(2 * 0.0625)


def test_a_pin_stands_out_and_stays_in_its_hole() -> None:
    case, placed = job(ROLLER), place(job(ROLLER))
    roller = span(placed, "roller", "x")
    out = [roller[0] - span(placed, "pin.1", "x")[0], span(placed, "pin.2", "x")[1] - roller[1]]
    assert out == pytest.approx([0.3125, 0.3125])
    assert case.parts["roller"].length / IN + sum(out) < 15 + 2 * 0.375
    assert out[0] - 0.125 == pytest.approx(0.1875)


def test_the_pivot_is_half_the_bracket_and_the_pin_turns_in_it() -> None:
    case = job(ROLLER)
    for bracket in ("bracket-closed", "bracket-open"):
        assert figure(case, bracket, "pivot", "depth") == pytest.approx(0.75 / 2)
        assert figure(case, bracket, "pivot", "diameter") == pytest.approx(0.4375)
    assert case.parts["pin"].thickness / IN < 0.4375


def test_the_brackets_stand_on_the_back() -> None:
    placed = place(job(ROLLER))
    back, closed, opened = (span(placed, piece, "x") for piece in ("back", "bracket-closed", "bracket-open"))
    assert closed[0] - back[0] == pytest.approx(0.75)
    assert back[1] - opened[1] == pytest.approx(0.75)


def test_the_drop_in_runs_from_the_pivot_to_the_top_of_one_bracket() -> None:
    case = job(ROLLER)
    assert "drop-in" not in case.parts["bracket-closed"].features
    pivot, slot = (taken(case, "bracket-open", name, "x") for name in ("pivot", "drop-in"))
    assert slot == pytest.approx(pivot)
    assert taken(case, "bracket-open", "drop-in", "y") == pytest.approx((2, 3.5))
    assert figure(case, "bracket-open", "drop-in", "depth") == pytest.approx(0.375)


def test_two_left_hand_brackets_are_found(tmp_path: Path) -> None:
    wrong = changed(ROLLER, tmp_path, ("part: bracket-open, its: rear", "part: bracket-open, its: front"))
    assert "error" in {each.level for each in checked(wrong)}


def test_the_holes_for_the_pins_are_bored_while_the_roller_is_square() -> None:
    """The book bores at the crossing of the diagonals and planes the roller round afterwards."""
    for shop in ("full", "hand-tools"):
        order = [task.id for task in plan(ROLLER, shop).tasks]
        for hole in ("left-pin-hole", "right-pin-hole"):
            assert order.index(f"roller/{hole}/cut") < order.index("roller/body/cut") < order.index("pins/glue/glue")


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_the_roller_is_hung_between_the_brackets_before_the_back_is_screwed_on(shop: str) -> None:
    """So every piece goes in straight, and all is proved; the insides are clean by then."""
    assert making(ROLLER, shop).proof.held
    order = [task.id for task in plan(ROLLER, shop).tasks]
    hung = [order.index(f"{joint}/fit-dry/fit") for joint in ("pivot-1", "pivot-2")]
    assert order.index("whole/clean-inside/clean") < min(hung) < max(hung) < order.index("whole/screw/screw")
    chosen = {each.before: each.sentence for each in plan(ROLLER, shop).reasons if each.after == "whole/screw/screw"}
    assert chosen["pivot-1/fit-dry/fit"] == (
        "Either could come first; pivot 1 is made first, so that every piece goes in straight and none is tilted in."
    )


def test_all_of_the_roller_is_proved_but_the_tilt_it_goes_in_by_when_it_is_decided_that_it_is_dropped_in_last() -> None:
    """One pin enters its blind hole aslant, the other drops down its groove: the proof knows straight ways in only."""
    last = Decision("whole/screw", "Head", "as in the book", before="pivot-1")
    case = replace(job(ROLLER), decisions=(last,))
    made = make_plan(case, workshop(), knowledge())
    order = [task.id for task in made.tasks]
    assert order.index("whole/screw/screw") < order.index("pivot-1/fit-dry/fit")
    failures = carry_out(made, case).proof.failures
    assert [look.check for look in failures] == ["way-in"]
    assert "roller" in failures[0].says


# Chopping board.


def test_the_hole_is_in_the_centre_of_the_round_end() -> None:
    """14 7/8 + 2 = 16 7/8; 2 7/8 x 2 = 5 3/4; 2 - 1/2 = 1 1/2 of wood round the hole."""
    low, high = taken(job(BOARD), "board", "hang", "x")
    assert (low + high) / 2 + 2 == pytest.approx(16.875)
    assert 16.875 - high == pytest.approx(1.5)
    low, high = taken(job(BOARD), "board", "hang", "y")
    assert low + high == pytest.approx(5.75)
    assert figure(job(BOARD), "board", "hang", "diameter") == pytest.approx(1)


def test_the_round_end_leaves_shoulders() -> None:
    """2 x 2 is less than 5 3/4; the smallest curve is the shoulder's, 1/2."""
    board = job(BOARD).parts["board"]
    path = board.features["round-end"].path(board.block)  # type: ignore[attr-defined]
    across = [y / IN for x, y in path if abs(x / IN - 14.875) < 1e-6]
    assert max(across) - min(across) == pytest.approx(5.75 - 2 * 0.5)
    assert sorted(abs(y - 2.875) for y in across)[:2] == pytest.approx([2, 2])
    assert max(x for x, _ in path) / IN == pytest.approx(16.875)
    assert figure(job(BOARD), "board", "round-end", "radius") == pytest.approx(0.5)


def test_boring_through_is_kept_from_chipping_the_far_side() -> None:
    """The book planes the second side last to take the chipping of the bit away; here it is planed first, so that waste lies
    where the bit comes out, by hand too."""
    found = {}
    for shop in ("full", "hand-tools"):
        made = plan(BOARD, shop)
        task = next(task for task in made.tasks if task.id == "board/hang/cut")
        step = next(step for step in made.steps if task.id in step.tasks and step.kind == "work")
        found[shop] = (task.operation, "backing-board" in {each.name for each in step.holding})
    assert found["full"] == ("bore-large-through-hole-on-wide-board", True)
    assert found["hand-tools"] == ("brace-through-hole", True)
    boring = knowledge().stations["hand-boring"].operations["brace-through-hole"].instructions
    assert any("backing board" in line for line in boring.cut)
