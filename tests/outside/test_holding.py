"""How work is held and guided at machines by its size, seen through a job and a workshop."""

from __future__ import annotations

import pytest

from tests.design.jobs import feature
from tests.outside.bench import board, possible


# A bench drill's vice opens about 90 mm: what fits is gripped, a wider board is clamped to the table; on its edge any board
# is gripped by its thickness. Common practice, no source.
@pytest.mark.parametrize(("face", "width", "held"), [("inside", 90, ""), ("inside", 91, "-on-wide-board"), ("top", 95, "")])
def test_the_vice_or_the_clamp_holds_a_board_at_the_pillar_drill(face: str, width: float, held: str) -> None:
    at = {"left": 60, "bottom": 40} if face == "inside" else {"left": 60, "inside": 7}
    made = board(feature("hole", "hole", face=face, at=(at,), diameter=6, depth=8), width=width)
    for ending in ("", "-on-wide-board"):
        assert possible(made, "rail/hole", f"drill-blind-hole{ending}") is (ending == held)


# An end is too narrow along the fence: one edge across the grain among several is enough. Common practice, no source.
@pytest.mark.parametrize(("edges", "goes"), [([("inside", "top")], True), ([("inside", "top"), ("inside", "left")], False)])
def test_edges_across_the_grain_are_not_for_the_router_table(edges: list[tuple[str, str]], goes: bool) -> None:
    made = board(feature("edge", "chamfer", edges=tuple(edges), size=3), length=400)
    assert possible(made, "rail/edge", "rout-chamfer") is goes
