"""How work is held and guided at machines by its size, seen through a job and a workshop."""

from __future__ import annotations

from typing import Any

import pytest

from sequencer.model.job import Job, Stock
from sequencer.model.plan import Step
from sequencer.planning.planner import make_plan
from tests.design.jobs import feature, job, part
from tests.features.legal import make
from tests.made import knowledge, workshop
from tests.outside.bench import against, board, possible, sheet


# A bench drill's vice opens about 90 mm: what fits is gripped, a wider board is clamped to the table; on its edge any board
# is gripped by its thickness. Common practice, no source.
@pytest.mark.parametrize(("face", "width", "held"), [("inside", 90, ""), ("inside", 91, "-on-wide-board"), ("top", 95, "")])
def test_the_vice_or_the_clamp_holds_a_board_at_the_pillar_drill(face: str, width: float, held: str) -> None:
    at = {"left": 60, "bottom": 40} if face == "inside" else {"left": 60, "inside": 7}
    made = board(feature("hole", "hole", face=face, at=(at,), diameter=6, depth=8), width=width)
    for ending in ("", "-on-wide-board"):
        assert possible(made, "rail/hole", f"drill-blind-hole{ending}") is (ending == held)


# What stands under a bit is as high as the cut's face lies above the table: the end of a rail 380 long is bored by brace in the
# vice. A bench drill takes about 100 mm under its bit. Common practice, no source; plain geometry.
@pytest.mark.parametrize(
    ("face", "length", "width", "at", "fits"),
    [
        ("left", 380, 60, {"bottom": 30, "inside": 9}, False),
        ("left", 90, 60, {"bottom": 30, "inside": 9}, True),
        ("top", 380, 101, {"left": 60, "inside": 9}, False),
        ("top", 380, 95, {"left": 60, "inside": 9}, True),
    ],
)
def test_no_piece_stands_taller_than_the_pillar_drill_takes(
    face: str, length: float, width: float, at: dict[str, float], fits: bool
) -> None:
    made = board(feature("hole", "hole", face=face, at=(at,), diameter=6, depth=15), length=length, width=width, thick=18)
    assert possible(made, "rail/hole", "drill-blind-hole") is fits
    assert not possible(made, "rail/hole", "drill-blind-hole-on-wide-board")
    assert possible(made, "rail/hole", "brace-blind-hole")
    if not fits:
        assert "too tall to go under the bit" in against(made, "rail/hole", "drill-blind-hole")


# An end is too narrow along the fence: one edge across the grain among several is enough. Common practice, no source.
@pytest.mark.parametrize(("edges", "goes"), [([("inside", "top")], True), ([("inside", "top"), ("inside", "left")], False)])
def test_edges_across_the_grain_are_not_for_the_router_table(edges: list[tuple[str, str]], goes: bool) -> None:
    made = board(feature("edge", "chamfer", edges=tuple(edges), size=3), length=400)
    assert possible(made, "rail/edge", "rout-chamfer") is goes


# A board that is chopped or bored in its edge stands in the vice, a wide one too; in its face it is cramped flat. Common
# practice, no source.
@pytest.mark.parametrize("face", ["top", "inside"])
@pytest.mark.parametrize(
    ("kind", "fields", "operation"),
    [
        ("groove", {"distance": 5, "width": 6, "depth": 6, "stops": {"left": 60, "right": 60}}, "chisel-groove"),
        ("mortise", {"width": 6, "length": 40, "depth": 9}, "chop-blind-mortise"),
        ("hole", {"diameter": 6, "depth": 9}, "hand-drill-blind-hole"),
    ],
)
def test_what_is_cut_in_an_edge_by_hand_is_gripped_in_the_vice(
    face: str, kind: str, fields: dict[str, Any], operation: str
) -> None:
    beside = "inside" if face == "top" else "bottom"
    where = {"from": beside} if kind == "groove" else {"at": {"left": 120, beside: 9 if kind == "hole" else 6}}
    made = board(make(kind, name="cut", face=face, **where, **fields), length=320, thick=18, stock=18)
    step = step_of(made, "rail/cut")
    assert possible(made, "rail/cut", operation, workshop("hand-tools"))
    held = {each.name for each in step.holding}
    assert ("bench-vice" in held, "bench-cramp" in held) == (face == "top", face == "inside")
    said = " ".join(step.method)
    assert ("flat on" in said or "cannot turn" in said or "leg of the bench" in said) == (face == "inside")
    assert ("the vice" in said) == (face == "top")


def step_of(made: Job, task: str) -> Step:
    """The step of a task with hand tools alone."""
    plan = make_plan(made, workshop("hand-tools"), knowledge())
    return next(step for step in plan.steps if step.kind == "work" and any(each.startswith(task) for each in step.tasks))


# The lead screw of an auger bit of 12 mm is 8 to 10 mm long: 18 mm of wood are not bored 8 deep with one. From memory.
@pytest.mark.parametrize(("deep", "goes"), [(6, True), (8, False)])
def test_the_screw_of_an_auger_bit_stays_in_the_wood(deep: float, goes: bool) -> None:
    hole = make("hole", name="hole", face="inside", at={"left": 120, "bottom": 45}, diameter=12, depth=deep)
    spot = {"left": 200, "bottom": 45}
    dowels = make("dowel-holes", name="holes", face="inside", at=[spot], diameter=12, dowel=20, depth=deep)
    made = board(hole, dowels, thick=18, stock=18)
    assert possible(made, "rail/hole", "brace-blind-hole") is goes
    assert possible(made, "rail/holes", "bore-dowel-holes-by-hand") is goes
    # Without a screw it goes: E. W. Foster, Carpentry and Woodwork, on Forstner bits.
    assert possible(made, "rail/hole", "brace-shallow-hole") is not goes


# Auger bits start at about 6 mm: the narrow hole under a wide mouth is bored by hand drill. Common practice, no source.
@pytest.mark.parametrize(("narrow", "tool"), [(5, "twist bit"), (8, "twist bit"), (10, "auger bit")])
def test_no_auger_bit_is_laid_out_that_there_is_none_of(narrow: float, tool: str) -> None:
    mouth = {"diameter": 18, "depth": 6}
    hole = make("hole", name="hole", face="inside", at={"left": 120, "bottom": 45}, diameter=narrow, counterbore=mouth)
    step = step_of(board(hole, thick=18, stock=18), "rail/hole")
    assert [each for each in step.tools if each.startswith(("twist bit", "auger bit"))] == [f"{tool}, {narrow:g} mm"]


# A rod is sawn round as it is turned by hand in a V; what the vice grips is the V. Common practice, no source.
def test_a_rod_that_is_turned_by_hand_is_not_to_be_gripped_in_the_vice() -> None:
    rod = Stock("rod", "European beech", "round", 20, 20, (1000,), hardness="hardwood")
    made = job([part("rod", "rod", 332, 20, 20, section="round")], [], stock=(rod,))
    step = step_of(made, "rod/length")
    assert {"bench-vice", "v-block"} <= {each.name for each in step.holding}
    assert step.guard_line == "Lay the round wood in the V-block."
    # The length is measured from an end that has been sawn.
    assert step.instructions.index("Measure 332 mm from the first end.") > step.instructions.index(
        "Saw on the waste side, turning the rod a little."
    )


# Thin sheet lies flat on the shooting board while its edge is planed; a knife is left for what is longer than the board, beside
# an adult. Common practice, no source.
@pytest.mark.parametrize(("length", "way"), [(200, "saw-thin-sheet-by-hand"), (600, "trim-thin-sheet-by-hand")])
def test_thin_sheet_is_sawn_and_shot_where_the_shooting_board_takes_it(length: float, way: str) -> None:
    made = sheet(thick=3, length=length, width=150, material="birch plywood")
    shop = workshop("hand-tools")
    ways = ("saw-thin-sheet-by-hand", "trim-thin-sheet-by-hand", "rip-to-width-by-hand")
    assert [each for each in ways if possible(made, "rail/width", each, shop)] == [way]


# The bottom of a bridle is chopped from both edges, whatever saw its sides were sawn with. Common practice, no source.
@pytest.mark.parametrize(("width", "goes"), [(70, True), (90, False)])
def test_no_bridle_is_too_wide_for_the_chisel_at_one_saw_and_not_at_the_other(width: float, goes: bool) -> None:
    made = board(make("bridle", name="slot", end="left", length=50, thickness=8, from_outside=7), width=width, thick=22, stock=22)
    assert possible(made, "rail/slot", "saw-bridle-by-hand", workshop("hand-tools")) is goes
    assert possible(made, "rail/slot", "saw-bridle-on-band-saw") is goes


# A through hole is bored into waste wood held tight behind it, so that the screw of the bit never reaches the bench. Common
# practice, no source.
def test_a_hole_bored_right_through_by_brace_ends_in_a_backing_board() -> None:
    hole = make("hole", name="hole", face="inside", at={"left": 120, "bottom": 45}, diameter=20)
    step = step_of(board(hole), "rail/hole")
    assert step.operation == "Bore right through with the brace"
    assert "backing-board" in {each.name for each in step.holding}
    assert any("cuts into the backing board" in each for each in step.instructions)
