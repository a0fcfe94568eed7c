"""Poses keep distances; joints put pieces where a drawing by hand puts them; what does not meet is measured."""

from __future__ import annotations

from dataclasses import replace
from math import dist
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.design.checking import check_design
from sequencer.design.placing import place
from sequencer.design.poses import TURNS, Pose
from sequencer.model.frame import Block, Point
from sequencer.model.job import Part
from tests.made import knowledge

from .jobs import box, cross, feature, job, joint, mitred_frame, part, tenon_frame

mms = st.integers(-500, 500).map(float)
points = st.builds(Point, mms, mms, mms)
poses = st.builds(Pose, st.sampled_from(TURNS), points)


def volume(pose: Pose) -> float:
    """Signed volume of the unit cube as it lies: 1 if it is turned, -1 if it were mirrored."""
    o, x, y, z = (pose.to_world(Point(*corner)) for corner in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)))
    a, b, c = (tuple(p - q for p, q in zip(tip, o, strict=True)) for tip in (x, y, z))
    return a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])


def test_there_are_24_ways_to_lie() -> None:
    assert len(set(TURNS)) == 24
    assert all(volume(Pose(turn)) == 1 for turn in TURNS)


@given(poses, poses, points, points)
def test_composed_poses_keep_distance_and_hand(outer: Pose, inner: Pose, first: Point, second: Point) -> None:
    both = outer.after(inner)
    assert both.to_world(first) == outer.to_world(inner.to_world(first))
    assert dist(both.to_world(first), both.to_world(second)) == pytest.approx(dist(first, second))
    assert volume(both) == 1


@given(poses, st.sampled_from(TURNS))
def test_own_undoes_direction(pose: Pose, turn: tuple) -> None:
    for direction in turn:
        assert pose.own(pose.direction(direction)) == direction


def test_box_lies_as_drawn() -> None:
    """Box 300 x 190 outside, boards 15, housings 5 deep and 10 from the ends, groove 8 from the bottom."""
    placement = place(box())
    assert placement.unplaced == ()
    assert placement.findings == ()
    assert placement.placed_by == ("corner-1", "corner-2", "corner-3", "floor-1", "floor-2")
    # The frame is that of side.left: x along it, y up, z inwards.
    assert placement.span("end.1", "x") == (10, 25)
    assert placement.span("end.2", "x") == (275, 290)
    assert placement.span("end.1", "z") == (10, 180)
    assert placement.span("side.right", "z") == (175, 190)
    assert placement.span("bottom", "y") == (8, 14)
    assert placement.span("bottom", "x") == (20, 280)
    assert placement.face_plane("side.right", "inside") == (("z", -1), 175)
    assert placement.to_world("side.right", Point(0, 0, 0)) == (300, 0, 190)
    assert all(gap.amount == 0 for closure in placement.closures.values() for gap in closure.gaps)


@given(
    st.integers(250, 600),
    st.integers(120, 300),
    st.integers(40, 140),
    st.integers(9, 20),
    st.integers(1, 6),
    st.integers(1, 6),
    st.integers(3, 9),
)
def test_every_sound_box_closes(long: int, wide: int, height: int, board: int, depth: int, groove: int, panel: int) -> None:
    placement = place(box(long, wide, height, board, depth, groove, panel))
    assert placement.unplaced == ()
    assert all(gap.amount == 0 for closure in placement.closures.values() for gap in closure.gaps)


@given(st.integers(250, 600), st.integers(120, 300), st.integers(1, 6), st.integers(-5, 5))
def test_a_bottom_too_long_shows_by_how_much(long: int, wide: int, depth: int, extra: int) -> None:
    closure = place(box(long, wide, depth=depth, panel_long=extra)).closures["floor-4"]
    # Over zero is open; a bottom too long is too tight at its last groove.
    assert closure.gap("contact") == -extra


def test_tenons_are_centred_and_shoulders_close() -> None:
    placement = place(tenon_frame())
    assert placement.findings == ()
    # Rail 200 between the shoulders; the tenons are 25 long and start in the mortise 10 from the end, like the rail's edge.
    assert placement.span("rail.1", "y") == (15, 265)
    assert placement.span("rail.1", "x") == (0, 40)
    assert placement.span("stile.2", "y") == (240, 280)
    assert placement.span("rail.2", "x") == (360, 400)
    assert all(closure.gap("contact") == 0 for name, closure in placement.closures.items() if not name.startswith("panel"))
    assert placement.closures["panel-right"].gap("contact") == 4


def test_a_stub_tenon_in_a_through_groove_goes_where_flush_puts_it() -> None:
    groove = feature("groove", "groove", face="top", from_="outside", distance=6.5, width=7, depth=12)
    stile = part("stile", "stick", 400, 40, 20, groove)
    rail = part("rail", "stick", 200, 40, 20, feature("stub", "tenon", end="left", length=10, thickness=7))
    placement = place(job([stile, rail], [joint("low", "rail/stub", "stile/groove", flush={"bottom": "left"})]))
    assert placement.findings == ()
    assert placement.span("rail", "x") == (0, 40)
    assert placement.span("rail", "y") == (30, 230)
    assert placement.closures["low"].gap("contact", "flush", "held") == 0


def test_mitred_corners_meet_at_their_long_points() -> None:
    placement = place(mitred_frame())
    assert placement.unplaced == ()
    assert placement.span("up.2", "x") == (260, 300)
    assert placement.span("low.2", "y") == (160, 200)
    # All the insides look the same way, so that the rebates meet.
    assert {placement.face_plane(piece, "inside") for piece in placement.poses} == {(("z", 1), 20)}
    assert placement.closures["corner-4"].gaps
    assert placement.closures["corner-4"].gap("mitre") == 0


def test_mitre_of_another_angle_is_not_guessed() -> None:
    placement = place(mitred_frame(angle=40))
    assert {finding.code for finding in placement.findings} == {"mitre-not-placed"}
    assert placement.unplaced == ("low.2", "up.1", "up.2")


def test_halved_arms_cross_in_their_middles() -> None:
    placement = place(cross())
    assert placement.span("over", "x") == (70, 110)
    assert placement.span("over", "y") == (-70, 110)
    assert placement.span("over", "z") == (0, 20)


def test_tongue_bears_on_the_floor_of_its_housing() -> None:
    """An end with a rebate leaves a tongue 5 thick and 6 long; it enters a housing 5 wide and 6 deep."""
    end = part("end", "board", 150, 90, 15, feature("tongue", "rebate", edge=("outside", "left"), width=6, depth=10))
    side = part(
        "side", "board", 300, 90, 15, feature("slit", "housing", face="inside", from_="left", distance=20, width=5, depth=6)
    )
    placement = place(job([side, end], [joint("corner", "end/tongue", "side/slit", flush="top")]))
    assert placement.findings == ()
    assert placement.span("end", "z") == (9, 159)
    low, high = placement.span("end", "x")
    inside = placement.face_plane("end", "inside")[1]
    assert high - low == 15
    assert inside in (20, 25)  # the tongue lies along the inside face of the end


def test_a_tongue_is_centred_in_its_groove_and_its_shoulders_close() -> None:
    """The tongue is 1 mm shorter than the groove is deep: the edges meet, the tongue does not touch the floor."""
    low = part("low", "board", 300, 90, 15, feature("slit", "groove", face="top", from_="outside", distance=5, width=5, depth=8))
    high = part("high", "board", 300, 60, 15, feature("feather", "tongue", edge="bottom", length=7, thickness=5))
    placement = place(job([low, high], [joint("edge", "high/feather", "low/slit", flush="left")]))
    assert placement.findings == ()
    assert placement.span("high", "y") == (83, 143)
    assert placement.span("high", "z") == (0, 15)


@pytest.mark.parametrize(("typed", "opens"), [({"from_outside": 9}, "outside"), ({"from_outside": 0}, "inside"), ({}, "inside")])
def test_a_tongue_says_which_face_it_opens(typed: dict[str, Any], opens: str) -> None:
    tongue = feature("feather", "tongue", edge="left", length=8, thickness=9, **typed).on(Block(200, 90, 18))
    assert tongue.opens()[0] == opens
    assert {face for face in ("inside", "outside") if face in tongue.opens()} == {
        face for face, depth in tongue.shoulders(Block(200, 90, 18)).items() if depth
    }


def test_a_tongue_longer_than_its_groove_is_found() -> None:
    low = part("low", "board", 300, 90, 15, feature("slit", "groove", face="top", from_="outside", distance=5, width=5, depth=5))
    high = part("high", "board", 300, 60, 15, feature("feather", "tongue", edge="bottom", length=7, thickness=5))
    drawn = job([low, high], [joint("edge", "high/feather", "low/slit", flush="left")])
    (found,) = [each for each in check_design(drawn, knowledge()) if each.level == "error"]
    assert found.what == "The tongue high/feather is 7 mm long and low/slit is 5 mm deep: 2 mm too long."
    assert found.remedy == "Make the tongue at most 5 mm long, or the groove deeper."


def _forked(name: str) -> Part:
    return part(name, "board", 200, 45, 15, feature("fork", "bridle", end="right", length=45, thickness=5, from_outside=5))


def test_a_bridle_comes_down_over_the_middle_of_a_rail() -> None:
    cut = feature("waist", "bridle-tongue", from_="left", distance=100, width=45, depth=5)
    rail = part("rail", "board", 300, 45, 15, cut)
    placement = place(job([rail, _forked("leg")], [joint("tee", "leg/fork", "rail/waist", align="inside")]))
    assert placement.findings == ()
    assert placement.span("leg", "x") == (100, 145)
    assert placement.span("leg", "z") == (0, 15)
    assert placement.span("leg", "y") == (-155, 45)


@pytest.mark.parametrize("its_tenon", [True, False])
def test_a_corner_bridle_closes_whichever_piece_is_said_to_enter(its_tenon: bool) -> None:
    rail = part("rail", "board", 300, 45, 15, feature("tenon", "tenon", end="right", length=45, thickness=5))
    how = {"align": {"inside": "inside"}, "flush": {"right": "bottom"} if not its_tenon else {"bottom": "right"}}
    names = ("rail/tenon", "post/fork") if its_tenon else ("post/fork", "rail/tenon")
    drawn = job([rail, _forked("post")], [joint("corner", *names, **how)])
    placement = place(drawn)
    assert placement.findings == ()
    assert placement.span("post", "x") == (255, 300)
    assert placement.span("post", "z") == (0, 15)
    assert [each.code for each in check_design(drawn, knowledge()) if each.level == "error"] == []


def test_a_shoulder_closes_where_the_face_is_cut_back() -> None:
    """A notch 8 deep takes the edge away all round the mortise: the rail comes 8 nearer. A step beside it changes nothing."""
    mortise = feature("hole", "mortise", face="top", at={"right": 10}, length=30, width=5)
    back = feature("back", "notch", edge="top", from_="right", distance=0, length=50, depth=8)
    tenon = feature("tenon", "tenon", end="left", length=50, thickness=5, width=30)
    rail = part("rail", "board", 250, 50, 15, tenon)
    for cut, bears in ((back, 52), (replace(back, length=35), 60)):
        stile = part("stile", "board", 300, 60, 15, mortise, cut)
        placement = place(job([stile, rail], [joint("corner", "rail/tenon", "stile/hole", align={"inside": "inside"})]))
        assert placement.findings == ()
        assert placement.span("rail", "y")[0] == bears - 50


def test_a_rod_is_centred_in_its_holes() -> None:
    cheek = part(
        "cheek",
        "board",
        100,
        90,
        15,
        feature("rod-hole", "hole", face="inside", diameter=16, at=({"left": 50, "bottom": 70},), depth=10),
        count=2,
    )
    rod = part("rod", "board", 180, 16, 16, section="round")
    joints = [
        joint("rod-1", "rod/left", "cheek.1/rod-hole"),
        joint("rod-2", "rod/right", "cheek.2/rod-hole", align={}),
    ]
    placement = place(job([cheek, rod], joints))
    assert placement.span("rod", "x") == (42, 58)
    assert placement.span("rod", "y") == (62, 78)
    assert placement.span("rod", "z") == (5, 185)


def test_each_peg_takes_a_hole_of_its_own() -> None:
    rail = part(
        "rail",
        "board",
        360,
        90,
        19,
        feature(
            "holes", "hole", face="inside", diameter=12, depth=14, countersink=16, at=({"left": 60}, {"left": 180}, {"left": 300})
        ),
    )
    peg = part("peg", "board", 64, 12, 12, section="round", count=3)
    placement = place(job([rail, peg], [joint(f"peg-{n}", f"peg.{n}/left", "rail/holes") for n in (1, 2, 3)]))
    assert [placement.span(f"peg.{n}", "x") for n in (1, 2, 3)] == [(54, 66), (174, 186), (294, 306)]
    assert placement.span("peg.2", "z") == (5, 69)


def test_a_symmetrical_piece_is_turned_so_that_later_joints_close() -> None:
    """A plain shelf may go in either way round; a lip on its bottom edge in the last joint decides."""
    housing = feature("h", "housing", face="inside", from_="left", distance=50, width=15, depth=5)
    side = part("side", "board", 300, 120, 15, housing)
    shelf = part("shelf", "board", 200, 120, 15)
    lip = part("lip", "board", 200, 40, 15)
    joints = [
        joint("in", "shelf/left", "side/h"),
        joint("lip-1", "lip/inside", "shelf/bottom", align={"left": "left"}, at={"left": 5, "inside": 0}),
        joint("lip-2", "lip/left", "side/inside", align={"inside": "bottom"}),
    ]
    placement = place(job([side, shelf, lip], joints))
    assert placement.findings == ()
    # The lip's inside looks down, so the shelf's bottom edge looks up.
    assert placement.face_plane("shelf", "bottom") == (("y", 1), 120)
    assert all(gap.amount == 0 for closure in placement.closures.values() for gap in closure.gaps)


def test_at_and_flush_place_a_shelf() -> None:
    side = part("side", "board", 300, 190, 15)
    shelf = part("shelf", "board", 200, 120, 15)
    one = joint("shelf-1", "shelf/left", "side/inside", at={"left": 80}, flush={"bottom": "bottom"})
    placement = place(job([side, shelf], [one]))
    assert placement.span("shelf", "x") == (80, 95)
    assert placement.span("shelf", "y") == (0, 120)
    assert placement.span("shelf", "z") == (15, 215)


def test_a_joint_that_does_not_say_which_way_round() -> None:
    side = part("side", "board", 300, 190, 15)
    shelf = part("shelf", "board", 200, 120, 15, feature("notch", "notch", edge="top", length=20, depth=20, from_="left"))
    placement = place(job([side, shelf], [joint("shelf-1", "shelf/left", "side/inside")]))
    (finding,) = placement.findings
    assert (finding.code, finding.subject) == ("joint-undecided", "shelf-1")
    assert "which way round shelf lies against side" in finding.what
    assert "flush" in finding.remedy
    assert placement.unplaced == ("shelf",)


def test_a_joint_that_does_not_say_where() -> None:
    side = part("side", "board", 300, 190, 15)
    shelf = part("shelf", "board", 200, 120, 15)
    placement = place(job([side, shelf], [joint("shelf-1", "shelf/left", "side/inside", flush={"bottom": "bottom"})]))
    (finding,) = placement.findings
    assert finding.code == "joint-undecided"
    assert finding.what == "It does not say where shelf lies along the length of side."
    assert "at: {left: 20}" in finding.remedy


def test_faces_that_cannot_all_look_as_asked() -> None:
    side = part("side", "board", 300, 190, 15)
    shelf = part("shelf", "board", 200, 120, 15)
    both = joint("shelf-1", "shelf/left", "side/inside", flush={"left": "bottom"})
    (finding,) = place(job([side, shelf], [both])).findings
    assert finding.code == "joint-contradicts"


def test_pieces_that_nothing_connects_stand_for_themselves() -> None:
    placement = place(job([part("a", "board", 100, 50, 15), part("b", "board", 90, 50, 15)], []))
    assert placement.groups == (("a",), ("b",))
    assert not placement.together("a", "b")


def test_placing_does_not_depend_on_which_joint_comes_first() -> None:
    forward = tenon_frame()
    backward = job(forward.parts.values(), reversed(forward.joints.values()), stock=forward.stock.values())
    one, two = place(forward), place(backward)
    assert two.unplaced == ()
    assert {name: one.span(name, "x") for name in one.poses if name != "panel"} == {
        name: two.span(name, "x") for name in one.poses if name != "panel"
    }
