"""Pictures of joints sawn into an end at the band saw and of a recess in a template: fence, stop, wedge and window stand where
the card puts them."""

from __future__ import annotations

from math import atan, degrees

import pytest

from sequencer.model.frame import FaceName
from sequencer.model.marks import Between, Lie, Trough, Window
from sequencer.paper.scene import Scene
from sequencer.solid.solids import Solid, box, joined, prism
from tests.paper.test_set_ups import LONG, THICK, labels, looking, named, scene, span

DEEP = 25.0
KERF = 1.2


def at_end(end: FaceName, deep: float) -> tuple[float, float]:
    return (0.0, deep) if end == "left" else (LONG - deep, LONG)


def wedge_kerf(end: FaceName) -> Scene:
    along = at_end(end, DEEP)
    waste = box((along[0], 20, 0), (along[1], 20 + KERF, THICK))
    marks = Trough(end, "bottom", 20.0, KERF, DEEP)
    settings = {"fence": 20.0, "cutter": KERF, "depth": DEEP}
    lie = Lie("inside", "bottom", None, "beside")
    return scene("band-saw", "saw-to-line", "wedge-kerfs", marks, lie, waste, figures={"kerf": KERF}, **settings)


@pytest.mark.parametrize("end", ["left", "right"])
def test_a_kerf_goes_into_the_end_that_leads_as_deep_as_the_stop_lets_it(end: FaceName) -> None:
    picture = wedge_kerf(end)
    (feed,) = [arrow for arrow in picture.arrows if arrow.heavy]
    assert feed.stop.y > feed.start.y
    wood, blade = looking(picture, "wood"), named(picture, "blade")
    front = span(blade, "y")[0]
    assert span(wood, "y")[1] - front == pytest.approx(DEEP)
    assert span(named(picture, "stop"), "y")[0] == pytest.approx(span(wood, "y")[1])
    assert span(named(picture, "fence"), "x")[0] - span(blade, "x")[1] == pytest.approx(20)
    assert (blade & wood).volume < 1.0
    assert {"20", "25"} <= set(labels(picture))


def tails(end: FaceName) -> Scene:
    slope, pin, deep = 1 / 6, 8.0, 15.0
    along = at_end(end, deep)
    out, into = (along[0], along[1]) if end == "left" else (along[1], along[0])
    waste: list[Solid] = []
    for near in (-4.0, 28.0, 60.0):
        flare = deep * slope
        outline = [(out, near), (out, near + pin), (into, near + pin + flare), (into, near - flare)]
        waste.append(prism("z", [outline], 0.0, THICK))
    angle = degrees(atan(slope))
    marks = Trough(end, "bottom", -4.0, pin, deep, leans=(angle, angle), count=3, pitch=32.0)
    lie = Lie("inside", None, None, "beside")
    return scene(
        "band-saw", "saw-to-line", "dovetails", marks, lie, joined(waste), figures={"kerf": KERF}, angle=angle, depth=deep
    )


@pytest.mark.parametrize("end", ["left", "right"])
def test_tails_are_fed_askew_on_a_wedge_between_board_and_fence(end: FaceName) -> None:
    picture = tails(end)
    wood, wedge, fence = looking(picture, "wood"), named(picture, "wedge"), named(picture, "fence")
    (feed,) = [arrow for arrow in picture.arrows if arrow.heavy]
    assert (feed.stop.x - feed.start.x) / (feed.stop.y - feed.start.y) == pytest.approx(1 / 6)
    for one, other in ((wood, wedge), (wedge, fence), (wood, fence)):
        assert (one & other).volume < 1.0
    # The teeth stand square to the slope, so that one corner of the kerf reaches the shoulder first.
    assert (named(picture, "blade") & wood).volume < KERF**2 / 6 * THICK
    # Wider away from the viewer by 1 in 6, and clear of the end that is sawn.
    wide = span(wedge, "x")[1] - span(wedge, "x")[0]
    assert wide - 15 == pytest.approx((span(wedge, "y")[1] - span(wedge, "y")[0]) / 6)
    assert span(wedge, "y")[1] < span(wood, "y")[1]
    assert span(named(picture, "stop"), "y")[0] == pytest.approx(span(wood, "y")[1])


def recess() -> Scene:
    waste = box((100, 30, THICK - 5), (180, 55, THICK))
    sides = (Between("left", 100.0, 180.0), Between("bottom", 30.0, 55.0))
    settings = {"cutter": 10.0, "bush": 16.0, "template": 3.0, "depth": 5.0}
    return scene("hand-held-router", "rout", "recess", Window("inside", sides, 5.0), Lie("outside"), waste, **settings)


def test_a_bush_runs_in_a_window_that_stands_outside_the_recess_and_goes_clockwise() -> None:
    picture = recess()
    template, bush, cutter = named(picture, "template"), named(picture, "guide bush"), named(picture, "cutter")
    window = box(
        (span(template, "x")[0], span(template, "y")[0], THICK), (span(template, "x")[1], span(template, "y")[1], THICK + 12)
    )
    opening = (window - template).bounds
    assert opening.size("x") == pytest.approx(86)
    assert opening.size("y") == pytest.approx(31)
    # The bush touches the far edge of the window; the cutter, thinner by 3 mm on each side, the far line of the recess.
    assert span(bush, "y")[1] == pytest.approx(opening.span("y")[1], abs=0.1)
    assert span(cutter, "y")[1] == pytest.approx(opening.span("y")[1] - 3, abs=0.1)
    assert (bush & template).volume < 1.0
    assert (cutter & looking(picture, "wood")).volume < 1.0
    (feed,) = [arrow for arrow in picture.arrows if arrow.heavy]
    # On the far side of a window clockwise is to the right.
    assert feed.stop.x > feed.start.x
    assert feed.start.y > opening.span("y")[1]
