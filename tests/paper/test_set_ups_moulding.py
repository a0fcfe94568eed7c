"""Pictures at the spindle moulder and with a held router: cutter, fence, guide and batten stand where the card puts them."""

from __future__ import annotations

import pytest

from sequencer.model.frame import FaceName
from sequencer.model.marks import Edges, Lie, Trough
from sequencer.paper.scene import Scene
from sequencer.solid.solids import box, prism
from tests.paper.test_set_ups import GROOVE, HOUSING, IN_GROOVE, LONG, THICK, WIDE, looking, named, scene, span

EDGE: tuple[FaceName, FaceName] = ("inside", "bottom")


def moulded_rebate() -> Scene:
    waste = box((0, 0, THICK - 6), (LONG, 10, THICK))
    lie = Lie("inside", "bottom", None, "fence")
    return scene("spindle-moulder", "rout", "rebate", Trough(*EDGE, 0.0, 10.0, 6.0), lie, waste, fence=10.0, height=6.0)


def moulded_groove() -> Scene:
    waste = box((0, 0, 5), (LONG, 7, 9))
    lie = Lie("outside", "bottom", None, "fence")
    marks = Trough("bottom", "outside", 5.0, 4.0, 7.0)
    settings = {"cutter": 4.0, "passes": 1.0, "shift": 0.0, "distance": 5.0, "depth": 7.0}
    return scene("spindle-moulder", "rout", "groove", marks, lie, waste, **settings)


def moulded_chamfer() -> Scene:
    waste = prism("x", [[(0, THICK), (4, THICK), (0, THICK - 4)]], 0, LONG)
    lie = Lie("inside", "bottom", None, "fence")
    return scene("spindle-moulder", "rout", "chamfer", Edges((EDGE,), 4.0, False), lie, waste, height=4.0)


def guided_groove() -> Scene:
    lie = Lie("outside", "bottom", None, "above")
    settings = {"cutter": 6.0, "passes": 1.0, "fence": 8.0, "packing": 0.0, "depth": 5.0}
    return scene("hand-held-router", "rout", "groove", IN_GROOVE, lie, GROOVE, **settings)


def battened_housing() -> Scene:
    marks = Trough("inside", "left", 185.0, 15.0, 5.0)
    settings = {"cutter": 12.0, "passes": 2.0, "batten": 269.0, "packing": 3.0, "depth": 5.0}
    return scene("hand-held-router", "rout", "housing", marks, Lie("outside"), HOUSING, **settings)


def routed_edge() -> Scene:
    waste = prism("x", [[(0, THICK), (4, THICK), (0, THICK - 4)]], 0, LONG)
    return scene("hand-held-router", "rout", "chamfer", Edges((EDGE,), 4.0, False), Lie("outside"), waste, tool=21.0, height=4.0)


@pytest.mark.parametrize(("picture", "out", "low", "high"), [(moulded_rebate(), 10, 0, 6), (moulded_groove(), 7, 5, 9)])
def test_the_block_stands_out_of_the_fence_as_far_and_as_high_as_the_card_says(
    picture: Scene, out: float, low: float, high: float
) -> None:
    assert span(named(picture, "cutter"), "y")[0] == pytest.approx(-out)
    assert span(named(picture, "cutter"), "z") == (low, high)
    assert span(named(picture, "fence"), "y")[0] == pytest.approx(0)


@pytest.mark.parametrize("picture", [moulded_rebate(), moulded_groove(), moulded_chamfer()])
def test_wood_is_fed_from_right_to_left_and_lies_against_the_fence(picture: Scene) -> None:
    (feed,) = [arrow for arrow in picture.arrows if arrow.heavy]
    assert feed.stop.x < feed.start.x
    assert span(looking(picture, "wood"), "y")[1] <= 1e-6
    assert (named(picture, "cutter") & looking(picture, "wood")).volume < 1.0
    assert (named(picture, "fence") & looking(picture, "wood")).empty


@pytest.mark.parametrize("picture", [guided_groove(), battened_housing(), routed_edge()])
def test_a_held_router_goes_from_left_to_right_and_cuts_only_waste(picture: Scene) -> None:
    (feed,) = [arrow for arrow in picture.arrows if arrow.heavy]
    assert feed.stop.x > feed.start.x
    assert (named(picture, "cutter") & looking(picture, "wood")).volume < 1.0


def test_the_edge_guide_is_in_front_and_the_batten_beyond_the_router() -> None:
    guided, battened = guided_groove(), battened_housing()
    assert span(named(guided, "edge guide"), "y")[1] == pytest.approx(span(looking(guided, "wood"), "y")[0])
    front = span(looking(battened, "wood"), "y")[0]
    assert span(named(battened, "batten"), "y")[0] - front == pytest.approx(269)
    assert span(named(battened, "batten"), "y")[0] > span(named(battened, "cutter"), "y")[1]
    assert span(named(battened, "batten"), "x")[1] - span(named(battened, "batten"), "x")[0] > WIDE
