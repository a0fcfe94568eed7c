"""Pictures of set-ups: the tool really stands at the waste, at the figures of the card, and nothing else stands in the wood."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

import pytest

from sequencer.model.frame import Point
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
    Profile,
    Shoulders,
    Spot,
    Spots,
    Trough,
    Window,
    mirrored_lie,
    mirrored_marks,
)
from sequencer.model.plan import Setting, Task
from sequencer.model.shapes import Cone, Turned
from sequencer.model.workshop import Who
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups import left_scene, set_up_scene
from sequencer.paper.set_ups.lying import GAP
from sequencer.solid.solids import Solid, box, joined, prism, shape_solid
from tests.made import job, making, plan

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


def test_a_blade_stands_at_the_fence_distance_and_only_in_the_waste() -> None:
    scene = rip()
    blade, fence = named(scene, "blade"), named(scene, "fence")
    assert span(fence, "x")[0] == 0.0
    assert span(blade, "x") == (-63.2, -60.0)
    assert span(blade, "z") == pytest.approx((0.0, 20.0), abs=0.3)
    assert labels(scene) == ["20", "60"]
    # The kerf is open behind the middle of the blade, and the offcut is hatched beyond it.
    assert span(looking(scene, "wood"), "x") == (-60.0, 0.0)
    assert span(looking(scene, "waste"), "x") == (-90.0, -60.0)


def test_half_of_a_grooving_blade_shows_before_the_end_of_the_wood() -> None:
    scene = groove_on_saw()
    blade, waste = named(scene, "blade"), looking(scene, "waste")
    inside = (blade & waste).volume
    assert inside / blade.volume == pytest.approx(0.5, abs=0.02)
    assert span(waste, "z")[0] == 0.0, "the face with the groove lies on the table"
    assert span(waste, "x") == (-14.0, -8.0)


@pytest.mark.parametrize("name", ["groove on saw", "routed groove", "routed rebate", "mitre saw", "plough", "band saw rip"])
def test_where_a_tool_meets_the_piece_there_is_waste(name: str) -> None:
    scene = picture(name)
    tool = next(thing.solid for thing in scene.things if thing.name.endswith(CUTTERS))
    wood, waste = looking(scene, "wood"), looking(scene, "waste")
    assert (tool & waste).volume > 20.0
    assert (tool & wood).volume < 0.01 * (tool & waste).volume


def test_a_wrong_fence_puts_the_blade_where_it_would_cut() -> None:
    lie = Lie("inside", "bottom", None, "below")
    wrong = scene("saw-bench", "saw-pass", "groove", IN_GROOVE, lie, GROOVE, fence=20.0, height=5.0, passes=2, shift=2.8)
    assert (named(wrong, "blade") & looking(wrong, "waste")).empty


def test_the_wood_is_against_fence_and_stop() -> None:
    for name in ("groove on saw", "routed groove", "mitre saw", "band saw rip", "mortiser"):
        assert looking(picture(name), "wood").gap(named(picture(name), "fence"), 50.0) == pytest.approx(0.0, abs=1e-6), name
    for name in ("crosscut", "mitre saw"):
        assert looking(picture(name), "wood").gap(named(picture(name), "stop"), 50.0) == pytest.approx(0.0, abs=1e-6), name


def test_a_router_cutter_is_set_from_the_fence() -> None:
    cutter = named(routed_groove(), "cutter")
    assert span(cutter, "y") == pytest.approx((-14.0, -8.0), abs=0.1)
    assert span(cutter, "z") == (0.0, 5.0)
    # For a rebate the fence is set to the outside of the cutter; the rest of it stands inside the fence.
    wide = named(routed_rebate(), "cutter")
    assert span(wide, "y") == pytest.approx((-10.0, 4.0), abs=0.1)
    assert (wide & named(routed_rebate(), "fence")).empty


def test_wood_is_fed_from_right_to_left_at_the_router_and_away_at_the_saw() -> None:
    (left,) = routed_groove().arrows
    (away,) = groove_on_saw().arrows
    assert left.stop.x < left.start.x
    assert left.stop.y == left.start.y
    assert away.stop.y > away.start.y
    assert away.stop.x == away.start.x


@pytest.mark.parametrize("cross", [crosscut, mitre_saw_crosscut])
def test_the_blade_stands_off_the_stop_by_the_length_on_both_hands(cross: Callable[..., Scene]) -> None:
    for hand in (None, "right"):
        scene = cross(hand)
        (size,) = (size for size in scene.sizes if size.label == "280")
        near = span(named(scene, "blade"), "x")
        # The stretch that is left out shortens the picture, not the figure.
        assert abs(size.start.x - size.stop.x) < 280.0
        assert size.stop.x in (pytest.approx(near[0]), pytest.approx(near[1]))
    stops = [span(named(cross(hand), "stop"), "x")[0] > span(named(cross(hand), "blade"), "x")[0] for hand in (None, "right")]
    assert stops[0] != stops[1], "the other hand has its stop on the other side"


@pytest.mark.parametrize("both", [housed, ploughed, drilled])
def test_the_other_hand_is_the_picture_in_a_mirror(both: Callable[..., Scene]) -> None:
    left, right = both(), both("right")
    wood = looking(right, "wood").mirrored(0.0)
    wood = wood.moved(x=looking(left, "wood").bounds.low.x - wood.bounds.low.x)
    shared = (wood & looking(left, "wood")).volume
    assert right.looks_from.x == -left.looks_from.x
    assert shared > 0.97 * looking(left, "wood").volume
    assert labels(left) == labels(right)


def test_a_bit_hangs_over_the_spot() -> None:
    scene = drilled()
    bit = named(scene, "10 mm bit")
    holes = looking(scene, "waste").pieces()
    over = [hole for hole in holes if abs(sum(span(hole, "x")) - sum(span(bit, "x"))) < 0.01]
    assert (len(holes), len(over)) == (2, 1)
    assert sum(span(over[0], "y")) == pytest.approx(sum(span(bit, "y")))
    assert span(bit, "z")[0] > THICK
    assert named(scene, "waste board").bounds.high.z == 0.0
    assert labels(scene) == ["120", "30", "40"]
    jaws = [thing.solid for thing in scene.things if thing.look == "tool" and thing.solid is not bit]
    assert all(looking(scene, "wood").gap(jaw, 10.0) == pytest.approx(0.0, abs=1e-6) for jaw in jaws)


def test_a_wide_board_is_cramped_not_gripped() -> None:
    scene = drilled(holding=("machine-clamp",))
    assert named(scene, "cramp").bounds.low.z == THICK
    assert not [thing for thing in scene.things if thing.name == "vice"]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("plough", ["5", "6", "8"]),
        ("housing", ["15", "185", "5"]),
        ("tenon", ["20", "30", "4", "50", "6"]),
        ("trim", ["6"]),
        ("chamfer by hand", ["4", "4"]),
        ("mortiser", ["10", "100", "40", "40", "8"]),
        ("sawn to length", ["280"]),
        ("scroll saw curve", ["200", "260", "45"]),
        ("scroll saw inside", ["100", "30", "30", "60"]),
        ("thicknesser", ["15"]),
        ("marking out", []),
    ],
)
def test_the_sizes_that_are_set_out_stand_in_the_picture(name: str, said: list[str]) -> None:
    assert labels(picture(name)) == said


@pytest.mark.parametrize("name", ["plough", "tenon", "chamfer by hand", "trim", "scroll saw inside"])
def test_a_size_is_as_long_as_it_says(name: str) -> None:
    for size in picture(name).sizes:
        length = sum((a - b) ** 2 for a, b in zip(size.start, size.stop, strict=True)) ** 0.5
        assert length == pytest.approx(float(size.label)), size


def test_waste_left_on_is_measured_from_its_line() -> None:
    lie = Lie("outside")
    waste = box((314, 0, 0), (LONG, WIDE, THICK))
    layout = Layout(None, lie, Off("right", 6.0), "inside")
    work = task("hand-planing", "plane", "trim")
    shown = set_up_scene(work, layout, {}, BOARD, waste, "A", left_on={"right": 6.0})
    (size,) = shown.sizes
    assert size.label == "6"
    assert {round(size.start.x, 6), round(size.stop.x, 6)} == set(span(looking(shown, "waste"), "x"))


def test_a_long_piece_is_broken_between_the_cut_and_the_end_it_is_measured_from() -> None:
    scene = housed()
    parts = looking(scene, "wood").pieces()
    assert len(parts) == 2
    first, second = sorted(parts, key=lambda part: part.bounds.low.x)
    between = second.bounds.low.x - first.bounds.high.x
    assert abs(between) < GAP
    assert looking(scene, "waste").volume == pytest.approx(HOUSING.volume), "the cut itself is whole"


def test_a_face_mark_stands_on_its_face_and_off_the_cut() -> None:
    for name in ("plough", "housing", "sawn to length", "marking out"):
        scene = picture(name)
        assert scene.marks, name
        for mark in scene.marks:
            near = Point(*(value + 0.5 for value in mark.at))
            spot = box([value - 1.0 for value in near], near)
            assert not (spot & looking(scene, "wood")).empty, (name, mark)
            assert (spot & looking(scene, "waste")).empty, (name, mark)


def test_planing_leaves_the_lower_table_behind_the_knives_higher() -> None:
    scene = face_planed()
    tops = sorted(span(thing.solid, "z")[1] for thing in scene.things if thing.look == "table")
    assert tops == [0.0, 1.5]
    knives = named(scene, "cutter block")
    assert span(knives, "z")[1] == pytest.approx(1.5)
    assert span(looking(scene, "waste"), "x")[0] == pytest.approx(0.0), "what has passed the knives has lost its waste"


def test_what_a_tool_from_below_leaves_is_shown_turned_up() -> None:
    lie = Lie("inside", "bottom", None, "below")
    layout = Layout(None, lie, IN_GROOVE, "inside")
    work = task("router-table", "rout", "groove", cutter=6.0, fence=8.0, height=5.0)
    after = left_scene(work, layout, BOARD, GROOVE, "A", face_side="inside", face_edge="bottom")
    assert after is not None
    assert {thing.look for thing in after.things} == {"wood", "table"}
    assert labels(after) == ["5", "6", "8"]
    wood = looking(after, "wood")
    low, high = wood.bounds.low, wood.bounds.high
    top = wood & box((low.x, low.y, high.z - 1.0), high)
    assert len(top.pieces()) == 2, "the groove is open at the top"
    above = Layout(None, Lie("outside", "bottom"), IN_GROOVE, "inside")
    assert left_scene(work, above, BOARD, GROOVE, "A") is None


@pytest.mark.parametrize("name", ["herb-caddy", "step-stool"])
def test_every_cut_of_a_plan_has_its_picture(name: str) -> None:
    made, drawn = making(name), plan(name)
    tasks = {task.id: task for task in drawn.tasks}
    figures = {station.station: station.figures for station in drawn.stations}
    for state in made.states:
        work, part = tasks[state.task], job(name).parts[state.piece[0]]
        (layout,) = (each for each in work.layouts if each.hand == state.piece[1])
        shown = set_up_scene(
            work,
            layout,
            figures.get(work.station, {}),
            state.before.body,
            state.removed,
            "A",
            face_side=part.face_side,
            face_edge=part.face_edge,
            left_on=state.before.left_on,
        )
        piece = looking(shown, "wood") + looking(shown, "waste")
        assert not looking(shown, "waste").empty, work.id
        assert piece.bounds.low.z == pytest.approx(0.0, abs=1e-6), work.id
        for thing in shown.things:
            if thing.look == "tool":
                assert (thing.solid & looking(shown, "wood")).volume <= 0.02 * thing.solid.volume, (work.id, thing.name)


def test_a_bench_hook_stops_the_far_edge_on_the_side_that_is_kept() -> None:
    waste = box((280, 0, 0), (LONG, WIDE, THICK))
    work = task("hand-sawing", "crosscut", "length")
    layout = Layout(None, Lie("outside"), Level("left", 280.0), "inside")
    shown = set_up_scene(work, layout, {}, BOARD, waste, "A", face_edge="bottom", holding=("bench-hook",))
    hook, saw = named(shown, "bench hook"), named(shown, "saw")
    assert looking(shown, "wood").gap(hook, 5.0) == pytest.approx(0.0, abs=1e-6)
    assert looking(shown, "waste").gap(hook, 50.0) > 0.0
    assert (hook & saw).empty


def test_a_part_cut_off_a_long_piece_falls_free_and_the_rest_is_on_the_hook() -> None:
    """Of 300 the saw cuts 100 off: the longer side is held, and the saw does not touch what holds it."""
    waste = box((100, 0, 0), (LONG, WIDE, THICK))
    work = task("hand-sawing", "crosscut", "separate")
    layout = Layout(None, Lie("outside"), Level("left", 100.0), "inside")
    shown = set_up_scene(work, layout, {}, BOARD, waste, "A", face_edge="bottom", holding=("bench-hook",))
    hook, saw = named(shown, "bench hook"), named(shown, "saw")
    assert looking(shown, "waste").gap(hook, 5.0) == pytest.approx(0.0, abs=1e-6)
    assert looking(shown, "wood").gap(hook, 50.0) > 0.0
    assert (hook & saw).empty


def test_at_the_lathe_the_rest_stands_clear_of_the_corners_just_below_the_middle() -> None:
    stick = box((0, 0, 0), (300, 40, 40))
    turned = shape_solid(Turned("x", (20.0, 20.0), ((100.0, 18.0), (300.0, 12.0))))
    waste = (stick & box((100, 0, 0), (300, 40, 40))) - turned
    marks = Profile("left", ((100.0, 36.0), (300.0, 24.0)))
    shown = scene("lathe", "turn", "turned-profile", marks, Lie("outside", tool="beside"), waste, before=stick, diameter=36.0)
    rest, wood = named(shown, "rest"), looking(shown, "wood")
    middle_y = sum(span(wood, "y")) / 2
    middle_z = sum(span(wood, "z")) / 2
    assert middle_z - span(rest, "z")[1] == pytest.approx(3)
    assert middle_y - 40 / 2**0.5 - span(rest, "y")[1] == pytest.approx(3)
    assert span(named(shown, "drive centre"), "x")[1] == pytest.approx(span(wood, "x")[0])
    assert span(named(shown, "tail centre"), "x")[0] == pytest.approx(span(wood, "x")[1])
    assert labels(shown) == ["100", "diameter 24", "diameter 36"]
    assert span(looking(shown, "waste"), "x")[1] == pytest.approx(150), "the right-hand half is round already"
