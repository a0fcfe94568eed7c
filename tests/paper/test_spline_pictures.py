"""Pictures of splines across corners: where the slot lies, how it is chiselled, how splines are sawn off and trimmed."""

from __future__ import annotations

from functools import cache

import pytest

from sequencer.model.frame import AXES
from sequencer.paper.pictured import Pictured, Shown
from sequencer.paper.scene import Scene, Thing
from sequencer.paper.step_pictures import shown as scenes
from sequencer.solid.solids import box
from tests.made import job, making, plan

FRAME, BOX = "tests/assemblies/sawn-splines.yaml", "tests/assemblies/splined-box.yaml"


@cache
def pictured(name: str) -> Pictured:
    return Pictured(plan(name, "hand-tools"), job(name), making(name, "hand-tools"))


def shown(name: str, act: str) -> tuple[Shown, ...]:
    given = pictured(name)
    step = next(each for each in given.plan.steps if each.tasks[0].endswith(act))
    return scenes(step, given)


def thing(scene: Scene, name: str) -> Thing:
    return next(each for each in scene.things if each.name.startswith(name))


@pytest.mark.parametrize(
    ("name", "sizes", "side", "face"),
    [(FRAME, ("7", "4", "28"), "on the outer edge", "face side"), (BOX, ("20", "3", "15"), "on the outer face", "face edge")],
)
def test_a_slot_is_shown_with_how_far_in_how_wide_and_how_long_it_is(
    name: str, sizes: tuple[str, ...], side: str, face: str
) -> None:
    """Of the drawings: 7 from the front of 18 and 4 wide, 28 along both edges; 20 up from the bottom, 3 wide, 15 along both."""
    front, edge, *_ = shown(name, "spline-slot/cut")
    assert front.caption == "from the front"
    assert [each.label for each in front.scene.sizes] == [sizes[2], sizes[2]]
    assert edge.caption == side
    assert tuple(each.label for each in edge.scene.sizes) == sizes
    assert [each.label for each in edge.scene.arrows] == [face]
    lengths = [
        sum((getattr(each.stop, axis) - getattr(each.start, axis)) ** 2 for axis in AXES) ** 0.5 for each in edge.scene.sizes
    ]
    assert [round(length, 3) for length in lengths] == [float(size) for size in sizes]


@pytest.mark.parametrize(("name", "wide"), [(FRAME, 4.0), (BOX, 3.0)])
def test_a_chisel_no_wider_than_the_slot_clears_it_with_one_side_up(name: str, wide: float) -> None:
    *_, sawn, chiselled = shown(name, "spline-slot/cut")
    assert "saw" in [each.name for each in sawn.scene.things]
    assert chiselled.caption == "then chisel, one side up"
    chisel = thing(chiselled.scene, "chisel")
    assert chisel.name == f"chisel, {wide:g} mm or less"
    wood = [each.solid for each in chiselled.scene.things if each.look == "wood"]
    level = max(each.bounds.high.z for each in wood)
    blade = chisel.solid & box([-1e4, -1e4, -1e4], [1e4, 1e4, level + 1.0])
    assert not blade.empty
    assert blade.bounds.size("y") < wide
    assert blade.bounds.low.z < level


def test_splines_are_sawn_off_their_strip_on_the_bench_hook() -> None:
    """As the card says: 46 long out of a strip 23 wide and 4 thick."""
    (sawn,) = shown(FRAME, "make-splines/saw")
    spline, strip = thing(sawn.scene, "spline").solid, thing(sawn.scene, "strip").solid
    assert [round(spline.bounds.size(axis), 3) for axis in AXES] == [46.0, 23.0, 4.0]
    assert [round(strip.bounds.size(axis), 3) for axis in ("y", "z")] == [23.0, 4.0]
    assert [each.label for each in sawn.scene.sizes] == ["46", "23"]
    assert {"bench hook", "saw"} <= {each.name for each in sawn.scene.things}
    # What is held is the long strip: the stop stands beside it and not beside the spline.
    assert thing(sawn.scene, "bench hook").solid.bounds.high.x < spline.bounds.low.x


@pytest.mark.parametrize("name", [FRAME, BOX])
def test_a_spline_is_sawn_off_over_a_card_and_planed_from_the_corner_inwards(name: str) -> None:
    sawn, planed = shown(name, "trim-splines/trim")
    card, saw = thing(sawn.scene, "card").solid.bounds, thing(sawn.scene, "saw").solid.bounds
    assert saw.low.z == pytest.approx(card.high.z)
    assert planed.caption == "then plane, from the corner inwards"
    (way,) = planed.scene.arrows
    wood = [each.solid.bounds for each in planed.scene.things if each.letter]
    middle = (min(each.low.x for each in wood) + max(each.high.x for each in wood)) / 2
    assert abs(way.stop.x - middle) < abs(way.start.x - middle)
