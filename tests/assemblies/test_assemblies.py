"""Twelve things and the order a joiner would put them together in: each fact is one that a joiner insists on, whatever else is
free. The twelfth, which locks, is in `test_locked.py`. All drawings are invented.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from sequencer.design.checking import check_design
from sequencer.design.placing import place
from sequencer.design.poses import Direction
from sequencer.findings import Refused
from sequencer.model.frame import Point, others
from sequencer.model.job import Job
from sequencer.planning.assembling import Assembly, assembled
from sequencer.planning.bringing import order_lines
from sequencer.planning.closing import Closing
from sequencer.planning.going_together import cramp_lines
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.pressing import cramps_along
from sequencer.proving.making import carry_out
from sequencer.solid.blocking import ALONG_AXES
from sequencer.solid.disassembly import Move
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.going_in import blocking_of
from tests.made import WORKSHOPS, job, knowledge, plan, workshop

NAMES = (
    "panel-door",
    "finger-box",
    "wedged-stool",
    "halved-grid",
    "drawer",
    "dowelled-rail",
    "splined-frame",
    "sawn-splines",
    "stopped-shelf",
    "turned-peg",
    "captured-handle",
    "table-frame",
)
BY_MACHINE_ONLY = {"captured-handle"}
"""Things with a blind hole that leaves too little wood for the point of a bit turned by hand."""
MADE = [(name, shop) for name in NAMES for shop in WORKSHOPS if shop == "full" or name not in BY_MACHINE_ONLY]
"""What a workshop has a way of making."""
WHITE_GLUE = 10
"""Joints for which white glue stays open: 5 minutes, half a minute a joint."""


def drawn(name: str) -> Job:
    return job(f"tests/assemblies/{name}.yaml")


@cache
def together(name: str) -> Assembly:
    return assembled(drawn(name), WHITE_GLUE)


def group(name: str, of: str) -> list[Closing]:
    return [each for each in together(of).closings if each.group.name == name]


def order(closing: Closing) -> list[str]:
    """The bodies of a closing in the order they come together, the one that stands first."""
    moved = [body for move in closing.moves for body in move.bodies]
    return [*(body for body in closing.bodies if body not in moved), *moved]


def move_of(body: str, of: str) -> Move:
    (found,) = (move for each in together(of).closings for move in each.moves if move.bodies == (body,))
    return found


def along(way: Point) -> str:
    """The axis a way lies along."""
    (axis,) = (axis for axis, part in zip("xyz", way, strict=True) if part)
    return axis


def said(of: Assembly) -> list[str]:
    return [f"{each.code}: {each.what}" for each in of.findings]


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_is_sound_and_says_no_order(name: str) -> None:
    """No joint of these drawings says what it comes after: the order is found from the shapes."""
    found = [*check_design(drawn(name), knowledge()), *dry_fit(drawn(name), knowledge())]
    assert [str(each) for each in found if each.level == "error"] == []
    assert not any(joint.after for joint in drawn(name).joints.values())


@pytest.mark.parametrize("name", NAMES)
def test_it_goes_together_piece_by_piece_and_nothing_is_moved_wet(name: str) -> None:
    made = together(name)
    assert [each for each in made.findings if each.level == "error"] == []
    assert made.closings
    for each in made.closings:
        assert each.locked is None
        assert each.carried_wet == ()
        assert len(each.moves) == len(each.bodies) - 1


@pytest.mark.parametrize(("name", "shop"), MADE)
def test_it_is_made_and_put_together_as_planned(name: str, shop: str) -> None:
    made = plan(f"tests/assemblies/{name}.yaml", shop)
    assert [look.says for look in carry_out(made, drawn(name)).proof.failures] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_more_is_glued_in_one_go_than_the_glue_stays_open_for(name: str) -> None:
    for each in together(name).groups:
        assert each.fixing != "glue" or len(each.joints) / each.times <= WHITE_GLUE


def test_the_panel_of_the_door_is_in_before_the_second_stile() -> None:
    (frame,) = together("panel-door").closings
    found = order(frame)
    stiles = [found.index(f"stile.{number}") for number in (1, 2)]
    rails = [found.index(f"{where}-rail") for where in ("low", "high")]
    panel = found.index("panel")
    # Nothing goes in after the last piece of the frame; and the panel slides in while one side is open.
    assert panel < max(*stiles, *rails)
    assert frame.group.captured == ("panel",)
    assert len(together("panel-door").groups) == 1


def test_the_base_of_the_box_is_in_before_the_fourth_wall() -> None:
    (walls,) = together("finger-box").closings
    found = order(walls)
    assert found.index("base") < max(found.index(wall) for wall in ("side.1", "side.2", "end.1", "end.2"))
    # Fingers slide level, so no wall comes down from above.
    assert {along(move.way) for move in walls.moves} <= {"x", "z"}


def test_the_rail_of_the_stool_is_between_the_legs_before_the_seat_holds_them() -> None:
    (closing,) = together("wedged-stool").closings
    found = order(closing)
    held = max(found.index("seat"), min(found.index("leg.1"), found.index("leg.2")))
    # With both legs in the seat, nothing spreads them any more.
    assert found.index("rail") < max(found.index("leg.1"), found.index("leg.2"), held)
    assert [along(move_of(each, "wedged-stool").way) for each in ("rail",)] == ["y"]
    seat_last = found[-1]
    assert along(move_of(seat_last, "wedged-stool").way) == ("z" if seat_last == "seat" else "y")


def test_wedges_that_press_a_board_apart_across_its_grain_are_warned_of() -> None:
    """Those of the rail press on the end grain of the legs' mortises; those of the legs split a seat whose mortises run across
    it. With the legs under its long sides they press along the grain, and nothing is to be said."""
    found = {
        name: [each.subject for each in check_design(drawn(name), knowledge()) if each.code == "wedges-split"]
        for name in ("split-seat", "wedged-stool")
    }
    assert found == {"split-seat": ["seat-1", "seat-2"], "wedged-stool": []}


def test_the_kerfs_of_the_stool_run_across_the_grain_of_its_seat() -> None:
    """By where they lie: each kerf is longest across the seat's grain."""
    stool = drawn("wedged-stool")
    placed = place(stool)
    grain = placed.poses["seat"].direction(Direction(stool.parts["seat"].grain, 1)).axis
    for leg in ("leg.1", "leg.2"):
        kerfs = placed.bodies[leg].feature("seat-kerfs")
        assert kerfs is not None
        boxes = placed.bodies[leg].boxes(kerfs)
        assert len(boxes) == 2
        for box in boxes:
            spans = placed.lying(leg, box)
            across = next(axis for axis in others("z") if axis != grain)
            assert spans[grain][1] - spans[grain][0] < spans[across][1] - spans[across][0]


def test_the_strips_of_the_grid_drop_into_each_other_edge_on() -> None:
    (closing,) = together("halved-grid").closings
    assert {along(move.way) for move in closing.moves} == {"y"}
    shorts = {move_of(f"short-strip.{number}", "halved-grid").way for number in (1, 2)}
    assert shorts == {Point(0, -1, 0)}


def test_a_woven_grid_locks() -> None:
    """Each strip over one and under the next, all round: no strip can be the last."""
    found = assembled(drawn("woven-grid"))
    assert [each.code for each in found.findings] == ["locked"]
    assert found.findings[0].what.startswith("first, second, third and fourth lock each other")


def test_the_bottom_of_the_drawer_slides_in_under_the_back_when_the_body_is_glued() -> None:
    made = together("drawer")
    assert [each.name for each in made.groups] == ["whole", "bottom-in-place"]
    assert [each.fixing for each in made.groups] == ["glue", "screw"]
    bottom = move_of("bottom", "drawer")
    assert along(bottom.way) == "z"
    # The back is pressed into the housing of one side and the other side on to it: it is not slid down both.
    assert along(move_of("back", "drawer").way) == "x"
    assert [move.bodies for move in made.closings[0].moves][-2:] == [("back",), ("side.right",)]


def test_the_dowelled_rail_goes_on_along_its_dowels_only() -> None:
    (closing,) = together("dowelled-rail").closings
    assert {along(move.way) for move in closing.moves} == {"z"}
    assert order(closing) in (["leg.1", "rail", "leg.2"], ["leg.2", "rail", "leg.1"])


def test_without_its_dowels_the_rail_could_come_from_the_side() -> None:
    """Between the legs the rail is held by nothing but the dowels."""
    for fixed, ways in ((("glue", "dowels"), 0), (("glue",), 4)):
        drawing = drawn("dowelled-rail")
        drawing = replace(drawing, joints={name: replace(each, fixed=fixed) for name, each in drawing.joints.items()})
        between = blocking_of(drawing)
        free = [way for way in ALONG_AXES if not between.stopping(["rail"], ["leg.1", "leg.2"], way)]
        assert len(free) == ways


def test_the_splines_go_in_when_the_corners_are_closed_each_from_its_outer_edge() -> None:
    made = together("splined-frame")
    assert [each.name for each in made.groups] == ["frame", "spline-in-place"]
    (frame, splines) = made.closings
    assert set(frame.bodies) == {"long-piece.1", "long-piece.2", "short-piece.1", "short-piece.2"}
    assert {move.bodies: move.way for move in splines.moves} == {
        ("spline.1",): Point(0, 1, 0),
        ("spline.2",): Point(0, 1, 0),
        ("spline.3",): Point(0, -1, 0),
        ("spline.4",): Point(0, -1, 0),
    }


def test_the_stopped_shelf_is_in_before_the_second_side_closes() -> None:
    (closing,) = together("stopped-shelf").closings
    found = order(closing)
    assert found.index("shelf") < max(found.index("side.1"), found.index("side.2"))
    assert along(move_of("shelf", "stopped-shelf").way) == "z"


def test_a_screwed_shelf_is_not_shut_out_by_glued_corners() -> None:
    """Screws come after glue as a rule; here the last corners wait for the shelf."""
    screwed = drawn("stopped-shelf")
    joints = {
        name: replace(joint, fixed=("screws",)) if name.startswith("shelf") else joint for name, joint in screwed.joints.items()
    }
    made = assembled(replace(screwed, joints=joints))
    assert [each for each in made.findings if each.level == "error"] == []
    assert all(each.locked is None for each in made.closings)
    moments = {joint.name: number for number, each in enumerate(made.groups) for joint in each.joints}
    corners = [moments[name] for name in ("low-1", "low-2", "high-1", "high-2")]
    assert moments["shelf-1"] < max(*corners, moments["shelf-2"])
    reasons = [why for each in made.groups for earlier, why, _ in each.after if earlier in each.derived]
    assert any("shelf" in why for why in reasons)


def test_the_peg_goes_in_last_through_the_fork_and_the_arm() -> None:
    (closing,) = together("turned-peg").closings
    assert order(closing) == ["post", "arm", "peg"]
    assert along(move_of("peg", "turned-peg").way) == "z"
    # With the peg in the post the arm could not come down into the fork.
    assert along(move_of("arm", "turned-peg").way) == "x"


def test_the_handle_is_between_the_ends_before_the_walls_close() -> None:
    """Glued, and so a group of its own by its fixing: it would be shut out, and closes with the walls."""
    made = together("captured-handle")
    assert [each.name for each in made.groups] == ["walls"]
    found = order(made.closings[0])
    assert found.index("handle") < max(found.index("end.1"), found.index("end.2"))
    assert found.index("base") < max(found.index(wall) for wall in ("side.1", "side.2", "end.1", "end.2"))
    assert said(made) == ["goes-in-with: handle-1 and handle-2 close in the same go as walls."]
    (note,) = made.findings
    assert note.why == "When walls is closed, handle cannot go in any more."


def test_a_handle_that_is_to_come_after_the_walls_is_refused() -> None:
    late = drawn("captured-handle")
    joints = {
        name: replace(joint, after=("corner-1", "corner-4")) if name.startswith("handle") else joint
        for name, joint in late.joints.items()
    }
    with pytest.raises(Refused) as refused:
        make_plan(replace(late, joints=joints), workshop(), knowledge())
    (finding,) = (each for each in refused.value.findings if each.level == "error")
    assert finding.code == "locked"
    assert "end.1 (joined with end.2, side.1, side.2 and base) and handle lock each other" in finding.what


def test_a_table_frame_is_glued_in_two_goes_flat_frames_first() -> None:
    """Sixteen joints are more than the glue stays open for; and two frames cannot be carried together wet."""
    made = together("table-frame")
    assert [each.name for each in made.groups] == ["short-rail-in-place", "long-rail-in-place"]
    first, second = made.groups
    assert len(first.joints) == len(second.joints) == 8
    ends = group("short-rail-in-place", "table-frame")
    assert [set(each.bodies) for each in ends] == [
        {"leg.left.1", "leg.right.2", "short-rail.1", "short-rail.2"},
        {"leg.right.1", "leg.left.2", "short-rail.3", "short-rail.4"},
    ]
    (closing,) = group("long-rail-in-place", "table-frame")
    assert order(closing)[-1] == "leg.right.1"
    assert len(closing.bodies) == 6
    assert said(made) == [
        "glued-in-two: Two frames are glued first and left until the glue has set; then the rest is glued to them."
    ]
    assert second.derived == ("short-rail-in-place",)


def test_with_a_glue_that_stays_open_longer_the_frames_still_set_before_they_are_carried() -> None:
    made = assembled(drawn("table-frame"), 100)
    assert len(made.groups) == 2
    assert made.findings[0].why.startswith("A frame that must be carried to its place is moved")


def test_a_card_says_what_goes_in_next_and_where_the_cramps_press() -> None:
    door, placed = drawn("panel-door"), place(drawn("panel-door"))
    (frame,) = together("panel-door").closings
    assert [each.line for each in order_lines(door, frame, placed)] == [
        "Start with A 1.",
        "Push B down into the low mortise of A 1.",
        "Push C down into the high mortise of A 1.",
        "Slide D down into A 1, between B and C.",
        "Push A 2 down onto B, C and D.",
    ]
    assert list(cramp_lines(door, frame, placed, knowledge().working)) == [
        "Put one cramp from A 1 to A 2, at each of B and C.",
        "Set each cramp in the middle of its joint.",
    ]


def test_a_frame_that_has_set_goes_in_as_one() -> None:
    table, placed = drawn("table-frame"), place(drawn("table-frame"))
    (closing,) = group("long-rail-in-place", "table-frame")
    assert [each.line for each in order_lines(table, closing, placed)][-1] == "Push the joined parts with A right 1 onto each B."
    assert list(cramp_lines(table, closing, placed, knowledge().working)) == [
        "Put one cramp from A left 1 to A right 1, at each B.",
        "Put one cramp from A right 2 to A left 2, at each B.",
        "Set each cramp in the middle of its joint.",
    ]


def test_the_glue_ups_of_the_caddy_are_told_on_their_cards_one_action_a_line() -> None:
    (glued,) = (step for step in plan("herb-caddy").steps if step.id == "box/glue/glue")
    assert glued.together == (
        "Start with A left.",
        "Push B 1 into the pot end rebate of A left.",
        "Push A right onto the other end of B 1.",
        "Slide D into B 1, between A left and A right.",
        "Push B 2 onto D, between A left and A right.",
        "Put one cramp from A left to A right, at each B.",
        "Put one cramp from B 1 to B 2, at each A.",
        "Set each cramp in the middle of its joint.",
    )
    assert glued.instructions[0] == "Set 4 cramps with 18 mm scrap blocks to the dry work."
    (whole,) = (step for step in plan("herb-caddy").steps if step.id == "whole/glue/glue")
    # The rod is longer than the box is wide: it comes in through the hole of one end.
    assert whole.together == (
        "Start with the box with A left.",
        "Push C down onto D, between A left and A right.",
        "Push E through B 2 into B 1.",
        "Let E stand 6 mm over B at each end.",
        "Put one cramp from A left to A right, at C.",
        "Set each cramp in the middle of its joint.",
    )
    assert [check.limit for check in glued.checks if "diagonals" in check.how] == ["both 372 mm, equal within 1 mm"]
    assert [check.what for check in glued.checks if "strips" in check.how] == ["out of wind"]


def test_each_lap_of_the_stool_is_pressed_by_its_own_cramp_and_the_spine_comes_down_on_both_frames() -> None:
    (glued,) = (step for step in plan("step-stool").steps if step.id == "spine-in-place/glue/glue")
    assert glued.together == (
        "Stand the end frame with A 1 on the bench.",
        "Stand the end frame with A 3 beside it.",
        "Push C down into the laps of B 1 and B 2.",
        "Put one cramp from C to each B.",
        "Set each cramp in the middle of its joint.",
    )
    assert {each.name: each.text for each in glued.settings} == {
        "cramps": "2 cramps",
        "open": "more than 106 mm",
        "cramp-time": "at least 60 min",
    }


def test_mitres_are_drawn_together_by_blocks_or_a_band_and_their_end_grain_is_glued_twice() -> None:
    (glued,) = (step for step in plan("picture-frame").steps if step.id == "frame/glue/glue")
    assert glued.operation == "Glue mitres with corner blocks and sash cramps"
    assert glued.instructions == (
        "Set 4 cramps to the dry work.",
        "Brush thin glue on the end grain of each mitre.",
        "Brush on a second coat when the first is drunk in.",
        "Close all joints within 5 min of the second coat.",
        *glued.together,
        "Put a corner block round each corner.",
        "Put two cramps across, from block to block.",
        "Put two cramps over them, the other way.",
        "Tighten all four in turn, a little each time.",
        "Check both diagonals.",
        "Wipe off the squeezed-out glue with a damp cloth.",
    )
    assert glued.guard_line == "Rest the sash cramps on two bearers. Put a corner block round each corner."
    assert [each.text for each in glued.settings if each.name == "cramps"] == ["4 cramps"]
    assert "corner blocks" in [jig.title for jig in plan("picture-frame").jigs]
    ways = {
        way.operation: way
        for _, found, _ in ways_of("frame/glue/glue", job("picture-frame"), workshop(), knowledge())
        for way in found
    }
    for alone in ("glue-with-sash-cramps", "glue-with-small-cramps"):
        assert "mitred, so that cramps alone push its corners apart" in " ".join(each.what for each in ways[alone].obstacles)
    assert not ways["glue-mitres-with-band-cramp"].possible
    shop = workshop()
    bench = shop.stations["gluing"]
    banded = replace(shop, stations={**shop.stations, "gluing": replace(bench, holding=(*bench.holding, "band-cramp"))})
    (step,) = (step for step in make_plan(job("picture-frame"), banded, knowledge()).steps if step.id == "frame/glue/glue")
    assert step.operation == "Glue mitres with a band cramp"
    assert [each.text for each in step.settings if each.name == "cramps"] == ["1 band cramp"]
    assert step.guard_line.startswith("Lay the band cramp round all corners.")


def test_a_long_joint_has_a_cramp_for_each_part_of_it() -> None:
    """A published gluing guide: cramps 200 to 300 mm apart, the outer ones 38 to 50 mm from the ends."""
    wanted = {80: 1, 100: 1, 101: 2, 320: 2, 400: 2, 401: 3, 600: 3, 700: 3, 701: 4}
    assert {length: cramps_along(length, knowledge().working) for length in wanted} == wanted
