"""Pictures of hand work: a right-handed worker saws at the right, what holds the wood is there, and nothing hides the waste.

How a tool is held and which way it goes is common practice of the bench.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.model.frame import FaceName
from sequencer.model.marks import (
    Between,
    Datum,
    Layout,
    Level,
    Lie,
    Line,
    Marks,
    Off,
    Shoulders,
    Spots,
    Trough,
    Window,
    mirrored_lie,
    mirrored_marks,
)
from sequencer.model.plan import Setting, Task
from sequencer.model.shapes import Cone
from sequencer.model.workshop import Who
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups import left_scene, set_up_scene
from sequencer.solid.solids import Solid, box, joined, prism, shape_solid

LONG, WIDE, THICK = 320.0, 90.0, 20.0
BOARD = box((0, 0, 0), (LONG, WIDE, THICK))
FLAT = Lie("outside")
LEFT_END = box((0, 0, 0), (12, WIDE, THICK))
RIGHT_END = box((300, 0, 0), (LONG, WIDE, THICK))


def the_task() -> Task:
    who = Who("student", "watching", "signed-off")
    return Task("a/it/cut", "a", "it", "cut", "it", "Cut it", "an-operation", "bench", "bench", who, "", 1, False, 1.0)


def shown(
    cut: str,
    marks: Marks | None,
    waste: Solid | None,
    *holding: str,
    lie: Lie = FLAT,
    before: Solid = BOARD,
    hand: str | None = None,
    left_on: dict[FaceName, float] | None = None,
    others: tuple[Solid, ...] = (),
    kind: str = "it",
    tools: tuple[str, ...] = (),
    **settings: float,
) -> Scene:
    given = tuple(Setting(name, name, f"{value:g} mm", value) for name, value in settings.items())
    task = replace(the_task(), settings=given, cut=cut, kind=kind)
    layout = None if marks is None else Layout(None, lie, marks, "inside")
    if marks is not None and hand is not None:
        layout = Layout("left", lie, marks, "inside")
    if marks is not None and hand == "right":
        layout = Layout("right", mirrored_lie(lie), mirrored_marks(marks), "inside")
        before, waste = before.mirrored(LONG), waste.mirrored(LONG) if waste is not None else None
    return set_up_scene(
        task,
        layout,
        {"kerf": 1.0},
        before,
        waste,
        "A",
        face_side="inside",
        face_edge="bottom",
        holding=holding,
        left_on=left_on,
        others=others,
        tools=tools,
    )


def named(picture: Scene, name: str) -> Solid:
    return next(thing.solid for thing in picture.things if thing.name == name)


def looking(picture: Scene, look: str) -> Solid:
    return joined(thing.solid for thing in picture.things if thing.look == look)


def middle(solid: Solid, axis: str) -> float:
    low, high = solid.bounds.span(axis)  # type: ignore[arg-type]
    return (low + high) / 2


def first_end(*holding: str) -> Scene:
    return shown("crosscut", Datum("left"), LEFT_END, *holding)


def length(*holding: str) -> Scene:
    return shown("crosscut", Level("left", 300.0), RIGHT_END, *holding)


def rod() -> Scene:
    before, waste = (shape_solid(Cone("x", (10.0, 10.0), start, LONG, 10.0, 10.0)) for start in (0.0, 300.0))
    return shown("crosscut", Level("left", 300.0), waste, "v-block", before=before)


def ripped() -> Scene:
    waste = box((0, 76, 0), (LONG, WIDE, THICK))
    return shown("saw-to-line", Level("bottom", 76.0), waste, "bench-vice", lie=Lie("bottom"), size=76.0)


def tenon() -> Scene:
    marks = Shoulders("left", 26.0, (Between("bottom", 5.0, 50.0), Between("inside", 6.0, 14.0)))
    waste = box((0, 0, 0), (26, WIDE, THICK)) - box((0, 5, 6), (26, 50, 14))
    return shown("saw-to-line", marks, waste, "bench-vice", "bench-hook")


def tapered() -> Scene:
    line = Line("z", ((("right", 100.0), ("top", 0.0)), (("left", 0.0), ("top", 14.0))), ("top", "left"))
    waste = prism("z", [[(200, WIDE), (0, WIDE), (0, WIDE - 14)]], 0, THICK)
    before = box((0, 0, 0), (LONG, WIDE, THICK))
    return shown("saw-to-line", line, waste, "bench-vice", lie=Lie("bottom"), before=before, left_on={"right": 20.0})


def mitred(end: FaceName) -> Scene:
    at = {"left": (0.0, 30.0), "right": (0.0, 30.0)}[end]
    before = box((0, 0, 0), (LONG, 30, THICK))
    line = Line("z", (((end, at[0]), ("bottom", 0.0)), ((end, at[1]), ("bottom", 30.0))), (end, "top"), 45.0)
    corner = [(0, 0), (30, 30), (0, 30)] if end == "left" else [(LONG, 0), (LONG, 30), (LONG - 30, 30)]
    return shown("saw-to-line", line, prism("z", [corner], 0, THICK), "mitre-box", "mitre-shooting-board", before=before)


def ploughed(hand: str | None = None, holding: str = "bench-stop") -> Scene:
    groove = box((0, 8, THICK - 5), (LONG, 14, THICK))
    marks = Trough("inside", "bottom", 8.0, 6.0, 5.0)
    return shown("plane", marks, groove, holding, lie=Lie("outside", "bottom"), hand=hand, fence=8.0, depth=5.0)


def bored(*holding: str) -> Scene:
    marks = Spots("inside", ((("left", 40.0), ("bottom", 30.0)),), 10.0)
    hole = shape_solid(Cone("z", (40.0, 30.0), 0.0, THICK, 5.0, 5.0))
    return shown("bore", marks, hole, *holding, bit=10.0)


def mortised() -> Scene:
    marks = Window("inside", (Between("right", 20.0, 65.0), Between("bottom", 20.0, 28.0)), 10.0)
    waste = box((235, 20, 10), (280, 28, THICK))
    return shown("chisel", marks, waste, "bench-cramp", left_on={"right": 20.0})


@pytest.mark.parametrize("cut", [first_end, length])
@pytest.mark.parametrize("holding", ["bench-hook", "bench-cramp", "v-block"])
def test_saw_and_waste_are_at_the_right_and_what_holds_is_at_the_left(cut: object, holding: str) -> None:
    scene = cut(holding)  # type: ignore[operator]
    saw, wood, waste = named(scene, "saw"), looking(scene, "wood"), looking(scene, "waste")
    assert wood.bounds.high.x <= saw.bounds.high.x <= waste.bounds.high.x
    assert scene.looks_from.x > 0, "seen from the side of the waste, which the plate then cannot hide"
    holder = named(scene, {"bench-hook": "bench hook", "bench-cramp": "cramp", "v-block": "V-block"}[holding])
    assert holder.bounds.high.x < saw.bounds.low.x


@pytest.mark.parametrize(
    ("picture", "name"),
    [
        (lambda: length("bench-cramp"), "cramp"),
        (lambda: length("bench-hook"), "bench hook"),
        (rod, "V-block"),
        (lambda: bored("bench-cramp"), "cramp"),
        (lambda: bored("bench-cramp", "backing-board"), "backing board"),
        (ripped, "vice"),
        (tenon, "vice"),
        (tapered, "vice"),
        (ploughed, "vice dog"),
        (mortised, "cramp"),
        (lambda: mitred("left"), "mitre box"),
    ],
)
def test_what_holds_the_wood_is_drawn_named_once_and_off_the_waste(picture: object, name: str) -> None:
    scene = picture()  # type: ignore[operator]
    assert [thing.name for thing in scene.things].count(name) == 1
    wood, waste = looking(scene, "wood"), looking(scene, "waste")
    for thing in scene.things:
        if thing.look in ("tool", "behind") and thing.name not in ("saw", "plane"):
            assert (thing.solid & (wood + waste)).empty, thing.name


def test_a_cramp_presses_on_the_wood_clear_of_the_bit() -> None:
    scene = bored("bench-cramp")
    pad = named(scene, "cramp")
    assert looking(scene, "wood").gap(pad, 5.0) == pytest.approx(0.0, abs=1e-6)
    assert named(scene, "10 mm bit").gap(pad, 500.0) > 30.0


def test_an_edge_that_is_chopped_is_level_with_the_jaws_on_both_sides_of_the_cut() -> None:
    marks = Trough("top", "inside", 7.0, 6.0, 8.0, (("left", 60.0), ("right", 60.0)))
    waste = box((60, WIDE - 8, 7), (LONG - 60, WIDE, 13))
    picture = shown("chisel", marks, waste, "bench-vice", lie=Lie("bottom"))
    jaw, cut = named(picture, "vice").bounds, looking(picture, "waste").bounds
    assert cut.high.z - 8 < jaw.high.z < cut.high.z
    assert jaw.low.x < middle(looking(picture, "waste"), "x") < jaw.high.x
    assert named(picture, "block").bounds.high.z == 0


def test_a_piece_is_ripped_upright_with_the_line_upright_beside_the_saw() -> None:
    scene = ripped()
    wood, waste, saw = looking(scene, "wood"), looking(scene, "waste"), named(scene, "saw")
    assert wood.bounds.size("z") > wood.bounds.size("y")
    assert waste.bounds.size("z") == pytest.approx(wood.bounds.size("z"), abs=0.1)
    assert waste.bounds.low.x >= wood.bounds.high.x - 1e-6
    assert saw.bounds.low.x == pytest.approx(wood.bounds.high.x)
    (size,) = scene.sizes
    assert size.label == "76"
    assert size.start.z == size.stop.z == pytest.approx(wood.bounds.high.z), "over the end, not in the vice"


def test_the_cheek_of_a_tenon_is_sawn_with_its_end_up() -> None:
    scene = tenon()
    assert looking(scene, "waste").bounds.high.z == pytest.approx(looking(scene, "wood").bounds.high.z)
    assert (named(scene, "saw") & looking(scene, "wood")).volume < 1.0
    assert (named(scene, "saw") & looking(scene, "waste")).volume > 100.0


def test_before_the_saw_the_end_of_the_tenon_is_seen_among_its_waste() -> None:
    scene = tenon()
    saw, wood, waste = named(scene, "saw").bounds, looking(scene, "wood"), looking(scene, "waste")
    assert scene.looks_from.x < 0
    top = box((-500, -500, wood.bounds.high.z - 1.0), (500, 500, 500))
    assert (wood & top).bounds.high.x <= saw.low.x + 1e-6, "the saw stands behind the tenon"
    assert (waste & top).bounds.low.x < (wood & top).bounds.low.x, "a cheek stands before it"


def test_a_tenon_is_shown_as_the_saw_leaves_it_too() -> None:
    marks = Shoulders("left", 26.0, (Between("bottom", 5.0, 50.0), Between("inside", 6.0, 14.0)))
    layout = Layout(None, FLAT, marks, "inside")
    waste = box((0, 0, 0), (26, WIDE, THICK)) - box((0, 5, 6), (26, 50, 14))
    work = replace(the_task(), cut="saw-to-line")
    left = left_scene(work, layout, BOARD, waste, "A", face_side="inside", face_edge="bottom")
    assert left is not None
    assert {thing.look for thing in left.things} == {"wood"}
    assert sorted(size.label for size in left.sizes) == ["45", "5"]
    wood = looking(left, "wood").bounds
    tip = looking(left, "wood") & box((wood.high.x - 20.0, -500, -500), (500, 500, 500))
    assert sorted(round(tip.bounds.size(axis), 3) for axis in ("y", "z")) == [8.0, 45.0]  # type: ignore[arg-type]


def test_a_taper_stands_with_its_narrow_end_up() -> None:
    wood = looking(tapered(), "wood")
    top = wood & box((-500, -500, wood.bounds.high.z - 1.0), (500, 500, 500))
    assert top.bounds.size("x") == pytest.approx(WIDE - 14.0, abs=1.0)


def test_sizes_run_to_the_line_before_waste_that_stays_on() -> None:
    scene = mortised()
    labels = {size.label: size for size in scene.sizes}
    horn = labels["20 left on"]
    line = min(horn.start.x, horn.stop.x), max(horn.start.x, horn.stop.x)
    assert line[1] - line[0] == pytest.approx(20.0)
    near = labels["20"]
    assert {round(near.start.x, 3), round(near.stop.x, 3)} & {round(value, 3) for value in line}
    ends = [thing.solid.bounds.span("x") for thing in scene.things if thing.look == "wood"]
    assert pytest.approx(line) in ends, "the wood is parted there, so that the line is drawn"


@pytest.mark.parametrize("end", ["left", "right"])
def test_in_the_mitre_box_the_outer_edge_is_away_and_the_saw_just_off_the_line(end: FaceName) -> None:
    scene = mitred(end)
    wood, saw, walls = looking(scene, "wood"), named(scene, "saw"), named(scene, "mitre box")
    back = wood & box((-1000, wood.bounds.high.y - 1.0, 0), (1000, 1000, 1000))
    front = wood & box((-1000, -1000, 0), (1000, wood.bounds.low.y + 1.0, 1000))
    assert back.bounds.size("x") > front.bounds.size("x"), "the longer edge bears on the back of the box"
    assert wood.gap(walls, 5.0) == pytest.approx(0.0, abs=1e-6)
    assert (saw & wood).empty
    assert wood.gap(saw, 5.0) == pytest.approx(1.0, abs=0.05)
    assert (saw & walls).empty, "it runs in the slot"


@pytest.mark.parametrize("holding", ["bench-stop", "sticking-board"])
def test_a_plough_goes_from_right_to_left_with_its_fence_below_an_overhanging_edge(holding: str) -> None:
    scene = ploughed(holding=holding)
    plane, wood = named(scene, "plane"), looking(scene, "wood")
    (stroke,) = scene.arrows
    assert stroke.stop.x < stroke.start.x < middle(plane, "x")
    assert plane.bounds.low.y < wood.bounds.low.y, "the fence is on the near side"
    assert plane.bounds.low.z < 0.0
    tables = looking(scene, "table")
    assert tables.bounds.low.y > wood.bounds.low.y, "the edge stands out over the bench"
    assert (plane & tables).empty


@pytest.mark.parametrize(("holding", "stop"), [("bench-stop", "bench stop"), ("sticking-board", "stop")])
def test_what_is_ploughed_lies_against_a_stop_ahead_of_the_plane_and_is_backed_all_along(holding: str, stop: str) -> None:
    scene = ploughed(holding=holding)
    wood, waste = looking(scene, "wood").bounds, looking(scene, "waste").bounds
    ahead = named(scene, stop).bounds
    assert ahead.high.x <= wood.low.x
    assert ahead.high.z < waste.low.z, "the iron runs over it"
    behind = joined(thing.solid for thing in scene.things if thing.look in ("tool", "behind") and thing.name != "plane")
    assert behind.bounds.high.y > wood.high.y
    assert behind.bounds.size("x") >= wood.size("x")


# A piece that is sawn under a cramp and planed in the vice after: the card names the cramp first, and the picture shows it.
def test_a_mitre_sawn_under_a_cramp_is_shown_so_and_past_the_end_of_the_bench() -> None:
    line = Line("z", ((("right", 0.0), ("bottom", 0.0)), (("right", 40.0), ("bottom", WIDE))), ("right", "top"), 24.0)
    waste = prism("z", [[(LONG, 0), (LONG, WIDE), (LONG - 40, WIDE)]], 0, THICK)
    cramped, gripped = (shown("saw-to-line", line, waste, *held) for held in (HELD, HELD[::-1]))
    assert {thing.name for thing in cramped.things} & {"cramp", "vice"} == {"cramp"}
    assert {thing.name for thing in gripped.things} & {"cramp", "vice"} == {"vice"}
    assert looking(cramped, "table").bounds.high.x < looking(cramped, "waste").bounds.low.x


HELD = ("bench-cramp", "bench-vice")


def test_of_a_small_part_mitred_off_a_stick_the_stick_is_cramped() -> None:
    """The part comes off; of what is sawn otherwise under a cramp, the part is held."""
    line = Line("z", ((("left", 140.0), ("bottom", 0.0)), (("left", 100.0), ("bottom", WIDE))), ("right", "top"), 24.0)
    rest = prism("z", [[(140, 0), (LONG, 0), (LONG, WIDE), (100, WIDE)]], 0, THICK)
    scene = shown("saw-to-line", line, rest, *HELD, kind="mitre")
    stick, part, pad = looking(scene, "waste"), looking(scene, "wood"), named(scene, "cramp")
    assert pad.gap(stick, 5.0) == pytest.approx(0.0, abs=1e-6)
    assert pad.gap(part, 5.0) > 4.0
    short = shown("saw-to-line", line, rest, *HELD)
    assert named(short, "cramp").gap(looking(short, "wood"), 5.0) == pytest.approx(0.0, abs=1e-6)


def test_the_two_hands_of_a_ploughed_part_differ() -> None:
    left, right = ploughed("left"), ploughed("right")
    assert left.looks_from.x == -right.looks_from.x
    assert draw_scene(left).svg != draw_scene(right).svg
    for scene in (left, right):
        assert scene.arrows[0].stop.x < scene.arrows[0].start.x, "both are planed the same way"


@pytest.mark.parametrize("thick", [3.0, 15.0, 44.0])
def test_both_face_marks_are_drawn_when_they_are_made(thick: float) -> None:
    scene = shown("none", None, None, before=box((0, 0, 0), (200, 170, thick)))
    svg = draw_scene(scene, 42.0, 52.0).svg
    assert svg.count("face-side") == 1
    assert svg.count("face-edge") == 1


def test_an_end_trimmed_after_joining_is_shown_with_what_it_is_joined_to() -> None:
    rail = box((100, WIDE, 0), (140, WIDE + 300, THICK))
    horn = box((300, 0, 0), (LONG, WIDE, THICK))
    scene = shown("chisel", Off("right", 20.0), horn, "bench-vice", left_on={"right": 20.0}, others=(rail,))
    wood, waste, saw = looking(scene, "wood"), looking(scene, "waste"), named(scene, "saw")
    assert wood.bounds.high.z == pytest.approx(waste.bounds.low.z), "the end stands up"
    assert saw.bounds.low.z == pytest.approx(wood.bounds.high.z), "the saw is flush with the line"
    joined_on = looking(scene, "behind")
    assert joined_on.volume == pytest.approx(rail.volume)
    assert wood.gap(joined_on, 5.0) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("holding", ["bench-hook", "bench-cramp", "v-block"])
@pytest.mark.parametrize("hand", [None, "left", "right"])
def test_of_a_small_part_sawn_off_a_stick_the_stick_is_held_at_the_left(holding: str, hand: str | None) -> None:
    rest = box((45, 0, 0), (LONG, WIDE, THICK))
    scene = shown("crosscut", Level("left", 45.0), rest, holding, hand=hand)
    saw, part, stick = named(scene, "saw"), looking(scene, "wood"), looking(scene, "waste")
    holder = named(scene, {"bench-hook": "bench hook", "bench-cramp": "cramp", "v-block": "V-block"}[holding])
    assert stick.bounds.low.x < saw.bounds.low.x <= part.bounds.low.x
    if holding != "bench-cramp":
        assert holder.bounds.high.x < saw.bounds.low.x


SHEET = box((0, 0, 0), (LONG, 170, 6))
"""Thin sheet, which is sawn along a batten."""


def along(guide: str, *, rip: bool) -> Scene:
    """Thin sheet brought to width, or to length, along what is cramped on it."""
    marks, cut = (Level("bottom", 160.0), "saw-to-line") if rip else (Level("left", 300.0), "crosscut")
    waste = box((0, 160, 0), (LONG, 170, 6)) if rip else box((300, 0, 0), (LONG, 170, 6))
    holding = ("bench-cramp", "shooting-board")
    return shown(cut, marks, waste, *holding, before=SHEET, tools=("tenon saw", guide, "steel rule"))


# Common practice: thin sheet is cramped under a batten along the line, over the edge of the bench.
@pytest.mark.parametrize("rip", [True, False])
def test_thin_sheet_is_sawn_along_a_cramped_batten_past_the_edge_of_the_bench(rip: bool) -> None:
    scene = along("straight batten", rip=rip)
    wood, waste, saw, batten = looking(scene, "wood"), looking(scene, "waste"), named(scene, "saw"), named(scene, "batten")
    line = wood.bounds.high.x
    assert batten.bounds.high.x == pytest.approx(line), "up to the line, on the part"
    assert batten.bounds.low.z == pytest.approx(wood.bounds.high.z)
    assert batten.bounds.low.y < wood.bounds.low.y
    assert batten.bounds.high.y > wood.bounds.high.y
    assert saw.bounds.low.x >= line - 1e-6, "in the waste"
    assert saw.bounds.high.x <= waste.bounds.high.x
    assert 0.0 < line - named(scene, "bench").bounds.high.x < 10.0, "the line hangs just past the bench"


@pytest.mark.parametrize("rip", [True, False])
@pytest.mark.parametrize("guide", ["straight batten", "steel straight edge"])
def test_a_guide_is_cramped_at_both_ends_clear_of_the_sheet_and_the_cut(guide: str, rip: bool) -> None:
    scene = along(guide, rip=rip)
    led = named(scene, {"straight batten": "batten", "steel straight edge": "straight edge"}[guide])
    wood, tool = looking(scene, "wood"), next(each.solid for each in scene.things if each.name in ("saw", "knife"))
    cramps = [each.solid for each in scene.things if each.look == "tool" and each.solid not in (led, tool)]
    assert [each.bounds.low.z < wood.bounds.low.z for each in cramps] == [True, True], "over the edge of the bench"
    for each in cramps:
        assert each.gap(led, 5.0) == pytest.approx(0.0, abs=1e-6)
        assert each.gap(tool, 50.0) > 3.0
    assert {middle(each, "y") > wood.bounds.high.y for each in cramps} == {True, False}
    assert {middle(each, "y") < wood.bounds.low.y for each in cramps} == {True, False}


@pytest.mark.parametrize("rip", [True, False])
def test_a_knife_goes_along_its_straight_edge_over_a_board(rip: bool) -> None:
    scene = along("steel straight edge", rip=rip)
    wood, knife, board = looking(scene, "wood"), named(scene, "knife"), named(scene, "cutting board")
    assert knife.bounds.low.z >= wood.bounds.low.z - 1e-6
    assert board.bounds.high.z == pytest.approx(wood.bounds.low.z)
    assert board.bounds.high.x > looking(scene, "waste").bounds.high.x


def test_without_a_guide_the_wood_itself_is_cramped() -> None:
    scene = shown("crosscut", Level("left", 300.0), box((300, 0, 0), (LONG, 170, 6)), "bench-cramp", before=SHEET)
    assert not {"batten", "straight edge"} & {thing.name for thing in scene.things}
    assert named(scene, "cramp").gap(looking(scene, "wood"), 5.0) == pytest.approx(0.0, abs=1e-6)


def test_a_plane_stands_on_the_edge_it_brings_to_width_and_goes_on_to_the_left() -> None:
    waste = box((0, WIDE - 2, 0), (LONG, WIDE, THICK))
    scene = shown("plane", Level("bottom", WIDE - 2), waste, "bench-vice", lie=Lie("bottom"), size=WIDE - 2)
    plane, arrow = named(scene, "plane").bounds, scene.arrows[0]
    assert plane.low.z == pytest.approx(looking(scene, "waste").bounds.high.z)
    assert arrow.stop.x < arrow.start.x < plane.low.x, "the arrow runs on before it"
