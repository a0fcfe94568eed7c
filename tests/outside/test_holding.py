"""How work is held and guided at machines by its size, seen through a job and a workshop."""

from __future__ import annotations

import pytest

from tests.design.jobs import feature
from tests.outside.bench import against, board, possible


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
