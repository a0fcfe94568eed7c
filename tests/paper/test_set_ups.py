"""Pictures of set-ups: the tool really stands at the waste, at the figures of the card, and nothing else stands in the wood."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest

from sequencer.model.marks import (
    Between,
    Datum,
    Edges,
    Layout,
    Level,
    Lie,
    Line,
    Marks,
    Off,
    Shoulders,
    Spot,
    Spots,
    Trough,
    Window,
    mirrored_lie,
    mirrored_marks,
)
from sequencer.model.plan import Setting, Task
from sequencer.model.shapes import Cone
from sequencer.model.workshop import Who
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups import set_up_scene
from sequencer.solid.solids import Solid, box, joined, prism, shape_solid

LONG, WIDE, THICK = 320.0, 90.0, 15.0
BOARD = box((0, 0, 0), (LONG, WIDE, THICK))
FIGURES = {"kerf": 3.2, "blade-radius": 125.0, "plate": 2.2, "knife": 2.6}
CUTTERS = ("blade", "cutter", "cutter block", "bit", "disc", "chisel", "saw", "riving knife", "plane")

GROOVE = box((0, 8, THICK - 5), (LONG, 14, THICK))
IN_GROOVE = Trough("inside", "bottom", 8.0, 6.0, 5.0)
HOUSING = box((185, 0, THICK - 5), (200, WIDE, THICK))


def task(station: str, cut: str, kind: str, **settings: float) -> Task:
    given = tuple(Setting(name, name, f"{value:g} mm", value) for name, value in settings.items())
    return Task(
        id="side/it/cut",
        part="side",
        feature="it",
        act="cut",
        kind=kind,
        does="Cut it",
        operation="an-operation",
        station=station,
        station_kind=station,
        who=Who("student", "watching", "signed-off"),
        set_up="",
        quantity=1,
        in_the_long=False,
        minutes=1.0,
        settings=given,
        cut=cut,
    )


def scene(
    station: str,
    cut: str,
    kind: str,
    marks: Marks | None,
    lie: Lie,
    waste: Solid | None,
    *,
    before: Solid = BOARD,
    figures: Mapping[str, float] = FIGURES,
    holding: tuple[str, ...] = (),
    hand: str | None = None,
    **settings: float,
) -> Scene:
    layout = None if marks is None else Layout(None, lie, marks, "inside")
    if hand == "right" and marks is not None:
        layout = Layout("right", mirrored_lie(lie), mirrored_marks(marks), "inside")
        waste = waste.mirrored(LONG) if waste is not None else None
        before = before.mirrored(LONG)
    work = task(station, cut, kind, **settings)
    return set_up_scene(work, layout, figures, before, waste, "A", face_side="inside", face_edge="bottom", holding=holding)


def named(picture: Scene, name: str) -> Solid:
    return next(thing.solid for thing in picture.things if thing.name == name)


def looking(picture: Scene, look: str) -> Solid:
    return joined(thing.solid for thing in picture.things if thing.look == look)


def span(solid: Solid, axis: str) -> tuple[float, float]:
    low, high = solid.bounds.span(axis)  # type: ignore[arg-type]
    return round(low, 6), round(high, 6)


def labels(picture: Scene) -> list[str]:
    return sorted(size.label for size in picture.sizes)


def rip(**other: object) -> Scene:
    waste = box((0, 60, 0), (LONG, WIDE, THICK))
    lie = Lie("inside", "bottom", None, "below")
    return scene("saw-bench", "saw-pass", "width", Level("bottom", 60.0), lie, waste, fence=60.0, height=20.0)


def groove_on_saw() -> Scene:
    lie = Lie("inside", "bottom", None, "below")
    return scene("saw-bench", "saw-pass", "groove", IN_GROOVE, lie, GROOVE, fence=8.0, height=5.0, passes=2, shift=2.8)


def crosscut(hand: str | None = None) -> Scene:
    waste = box((280, 0, 0), (LONG, WIDE, THICK))
    lie = Lie("inside", "bottom", "left", "below")
    return scene("saw-bench", "crosscut", "length", Level("left", 280.0), lie, waste, stop=280.0, hand=hand)


def mitre_saw_crosscut(hand: str | None = None) -> Scene:
    waste = box((280, 0, 0), (LONG, WIDE, THICK))
    lie = Lie("inside", "bottom", "left", "beside")
    return scene("mitre-saw", "crosscut", "length", Level("left", 280.0), lie, waste, stop=280.0, hand=hand)


def mitre() -> Scene:
    line = Line("z", ((("left", 0.0), ("bottom", 0.0)), (("left", 90.0), ("top", 0.0))), ("bottom", "left", "top"), 45.0)
    waste = prism("z", [[(0, 0), (90, 90), (0, 90)]], 0, THICK)
    return scene("mitre-saw", "crosscut", "mitre", line, Lie("outside", "bottom", None, "beside"), waste, angle=45.0)


def band_rip() -> Scene:
    waste = box((0, 60, 0), (LONG, WIDE, THICK))
    lie = Lie("inside", "bottom", None, "beside")
    return scene(
        "band-saw", "saw-pass", "width", Level("bottom", 60.0), lie, waste, figures={"kerf": 1.5}, fence=60.0, height=20.0
    )


def curve(station: str) -> Scene:
    first: Spot = (("left", 200.0), ("bottom", 0.0))
    spots: tuple[Spot, ...] = (first, (("left", 260.0), ("bottom", 45.0)), (("right", 0.0), ("top", 0.0)))
    line = Line("z", spots, ("bottom", "right", "top"))
    waste = prism("z", [[(200, 0), (260, 45), (320, 90), (320, 0)]], 0, THICK)
    return scene(station, "saw-to-line", "outline", line, Lie("outside", None, None, "beside"), waste, figures={"kerf": 1.0})


def inside_curve() -> Scene:
    hole = box((100, 30, 0), (160, 60, THICK))
    marks = Window("inside", (Between("left", 100.0, 160.0), Between("bottom", 30.0, 60.0)))
    return scene("scroll-saw", "saw-to-line", "cut-out", marks, Lie("outside", None, None, "beside"), hole, figures={"kerf": 1.0})


def routed_groove() -> Scene:
    lie = Lie("inside", "bottom", None, "below")
    return scene("router-table", "rout", "groove", IN_GROOVE, lie, GROOVE, cutter=6.0, passes=2, fence=8.0, height=5.0)


def routed_rebate() -> Scene:
    waste = box((0, 0, THICK - 6), (LONG, 10, THICK))
    lie = Lie("inside", "bottom", None, "below")
    marks = Trough("inside", "bottom", 0.0, 10.0, 6.0)
    return scene("router-table", "rout", "rebate", marks, lie, waste, cutter=14.0, passes=2, fence=10.0, height=6.0)


def routed_chamfer() -> Scene:
    waste = prism("x", [[(0, THICK), (4, THICK), (0, THICK - 4)]], 0, LONG)
    lie = Lie("inside", "bottom", None, "below")
    marks = Edges((("inside", "bottom"),), 4.0, False)
    return scene("router-table", "rout", "chamfer", marks, lie, waste, cutter=21.0, passes=2, fence=0.0, height=4.0)


def routed_round() -> Scene:
    corner = box((0, 0, THICK - 5), (LONG, 5, THICK))
    waste = corner - shape_solid(Cone("x", (5.0, THICK - 5.0), -1.0, LONG + 1, 5.0, 5.0))
    lie = Lie("inside", "bottom", None, "below")
    marks = Edges((("inside", "bottom"),), 5.0, True)
    return scene("router-table", "rout", "round-over", marks, lie, waste, cutter=23.0, passes=2, fence=0.0, height=5.0)


def face_planed() -> Scene:
    rough = box((0, 0, 0), (400, WIDE, 18))
    waste = box((0, 0, 16.5), (400, WIDE, 18))
    return scene("surface-planer", "plane", "face-side", Datum("inside"), Lie("inside", None, None, "below"), waste, before=rough)


def thicknessed() -> Scene:
    rough = box((0, 0, 0), (400, WIDE, 18))
    waste = box((0, 0, 0), (400, WIDE, 3))
    marks = Level("inside", 15.0)
    return scene("thicknesser", "plane", "thickness", marks, Lie("inside", None, None, "above"), waste, before=rough, size=15.0)


def sanded_corner() -> Scene:
    waste = box((0, 70, 0), (20, WIDE, THICK)) - shape_solid(Cone("z", (20.0, 70.0), -1, THICK + 1, 20.0, 20.0))
    return scene("disc-sander", "sand", "rounded-corner", Datum("left"), Lie("outside", None, None, "beside"), waste)


HOLES = Spots("inside", ((("left", 40.0), ("bottom", 30.0)), (("left", 120.0), ("bottom", 30.0))), 10.0)
HOLED = joined(shape_solid(Cone("z", (x, 30.0), 0.0, THICK, 5.0, 5.0)) for x in (40.0, 120.0))


def drilled(hand: str | None = None, holding: tuple[str, ...] = ("drill-vice", "backing-board")) -> Scene:
    lie = Lie("outside", None, None, "above")
    return scene("pillar-drill", "bore", "hole", HOLES, lie, HOLED, holding=holding, hand=hand, bit=10.0, depth=17.0)


def mortised() -> Scene:
    waste = box((100, 40, 5), (140, 48, THICK))
    marks = Window("inside", (Between("left", 100.0, 140.0), Between("bottom", 40.0, 48.0)), 10.0)
    lie = Lie("outside", "bottom", None, "above")
    return scene("hollow-chisel-mortiser", "chisel", "mortise", marks, lie, waste, chisel=8.0, depth=10.0)


def ploughed(hand: str | None = None) -> Scene:
    lie = Lie("outside", "bottom", None, "above")
    return scene("ploughing", "plane", "groove", IN_GROOVE, lie, GROOVE, hand=hand, blade=6.0, fence=8.0, depth=5.0)


def housed(hand: str | None = None) -> Scene:
    marks = Trough("inside", "left", 185.0, 15.0, 5.0)
    return scene("chiselling", "chisel", "housing", marks, Lie("outside"), HOUSING, hand=hand)


def sawn_to_length() -> Scene:
    waste = box((280, 0, 0), (LONG, WIDE, THICK))
    lie = Lie("outside", None, None, "above")
    return scene("hand-sawing", "crosscut", "length", Level("left", 280.0), lie, waste, figures={"kerf": 1.0})


def tenon() -> Scene:
    end = box((0, 0, 0), (30, WIDE, THICK))
    marks = Shoulders("left", 30.0, (Between("bottom", 20.0, 70.0), Between("outside", 4.0, 10.0)))
    return scene("hand-sawing", "saw-to-line", "tenon", marks, Lie("outside"), end - box((0, 20, 4), (30, 70, 10)))


def trimmed() -> Scene:
    return scene("hand-planing", "plane", "trim", Off("right", 6.0), Lie("outside"), box((314, 0, 0), (LONG, WIDE, THICK)))


def chamfered() -> Scene:
    waste = prism("x", [[(0, THICK), (4, THICK), (0, THICK - 4)]], 0, LONG)
    return scene("hand-planing", "plane", "chamfer", Edges((("inside", "bottom"),), 4.0, False), Lie("outside"), waste)


def marked_out() -> Scene:
    return scene("marking-out", "none", "mark-out", None, Lie("outside"), None)


PICTURES = {
    "rip": rip,
    "groove on saw": groove_on_saw,
    "crosscut": crosscut,
    "mitre saw": mitre_saw_crosscut,
    "mitre": mitre,
    "band saw rip": band_rip,
    "band saw curve": lambda: curve("band-saw"),
    "scroll saw curve": lambda: curve("scroll-saw"),
    "scroll saw inside": inside_curve,
    "routed groove": routed_groove,
    "routed rebate": routed_rebate,
    "routed chamfer": routed_chamfer,
    "routed round-over": routed_round,
    "surface planer": face_planed,
    "thicknesser": thicknessed,
    "disc sander": sanded_corner,
    "drill": drilled,
    "mortiser": mortised,
    "plough": ploughed,
    "housing": housed,
    "sawn to length": sawn_to_length,
    "tenon": tenon,
    "trim": trimmed,
    "chamfer by hand": chamfered,
    "marking out": marked_out,
}


@cache
def picture(name: str) -> Scene:
    return PICTURES[name]()


@pytest.mark.parametrize("name", PICTURES)
def test_nothing_but_the_cutter_stands_in_the_wood(name: str) -> None:
    scene = picture(name)
    piece = looking(scene, "wood") + looking(scene, "waste")
    for thing in scene.things:
        if thing.look not in ("wood", "waste"):
            shared = piece & thing.solid if not thing.name.endswith(CUTTERS) else looking(scene, "wood") & thing.solid
            assert shared.volume < 0.01 * max(thing.solid.volume, 1.0), (thing.name, thing.look)


@pytest.mark.parametrize("name", PICTURES)
def test_the_wood_rests_on_the_table(name: str) -> None:
    scene = picture(name)
    piece = looking(scene, "wood") + looking(scene, "waste")
    assert piece.bounds.low.z == pytest.approx(0.0, abs=2.0 if name == "surface planer" else 1e-6)


@pytest.mark.parametrize("name", PICTURES)
def test_the_same_picture_every_time(name: str) -> None:
    one, two = picture(name), PICTURES[name]()
    assert (one.sizes, one.arrows, one.marks) == (two.sizes, two.arrows, two.marks)
    assert [thing.solid.bounds for thing in one.things] == [thing.solid.bounds for thing in two.things]
