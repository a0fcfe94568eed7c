"""Joints closed in one go: hand-made drawings whose groups are worked out in the comments."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Place, Refused
from sequencer.model.job import Job, Joint
from sequencer.planning.closing import shapes_shut_in
from sequencer.planning.grouping import joint_groups
from sequencer.planning.groups import Group
from sequencer.solid.going_in import blocking_of
from tests.design.jobs import BOARD, box, feature, joint, mitred_frame, part
from tests.design.jobs import job as made_job
from tests.made import job


def _frame(*joints: Joint) -> Job:
    """Pieces a, b, c, d and a panel, joined as said. No shapes: groups look at joints only."""
    return made_job([part(name, "board", 300, 40, 15) for name in ("a", "b", "c", "d", "panel")], joints)


def _glued(name: str, entering: str, taking: str, **more: object) -> Joint:
    return joint(name, f"{entering}/left", f"{taking}/inside", **more)  # type: ignore[arg-type]


def _seated(name: str, face: str, taking: str, **more: object) -> Joint:
    return joint(name, f"panel/{face}", f"{taking}/inside", fixed=("dry",), **more)  # type: ignore[arg-type]


def _by_shapes(drawn: Job) -> tuple[Group, ...]:
    return joint_groups(drawn, shut_in=shapes_shut_in(blocking_of(drawn)))


def _members(groups: tuple[Group, ...]) -> dict[str, tuple[str, list[str]]]:
    return {group.name: (group.fixing, sorted(each.name for each in group.joints)) for group in groups}


def test_joints_fixed_alike_close_together() -> None:
    assert _members(joint_groups(_frame(_glued("j1", "a", "b"), _glued("j2", "c", "d")))) == {"whole": ("glue", ["j1", "j2"])}


def test_a_joint_alone_gives_its_name_and_one_part_going_in_gives_the_part_s() -> None:
    assert set(_members(joint_groups(_frame(_glued("corner", "a", "b"))))) == {"corner"}
    assert set(_members(joint_groups(_frame(_glued("j1", "a", "b"), _glued("j2", "a", "c"))))) == {"a-in-place"}


def test_glue_comes_before_screws_and_that_is_chosen_not_asked() -> None:
    groups = joint_groups(_frame(_glued("screwed", "a", "b", fixed=("screws",)), _glued("glued", "b", "c")))
    assert [group.name for group in groups] == ["glued", "screwed"]
    assert groups[1].after == (
        ("glued", "Either could come first; glued is made first, and is then left alone until it is one piece.", False),
    )


def test_what_the_drawing_asks_for_is_said_as_asked() -> None:
    groups = joint_groups(_frame(_glued("lid", "a", "b", after=("box",)), _glued("box", "b", "c")))
    assert [group.name for group in groups] == ["box", "lid"]
    assert groups[1].after == (("box", "The drawing says that lid comes after box.", True),)


def test_what_is_asked_counts_between_groups_that_share_no_piece() -> None:
    groups = joint_groups(_frame(_glued("second", "a", "b", after=("first",)), _glued("first", "c", "d")))
    assert groups[1].after == (("first", "The drawing says that second comes after first.", True),)


def test_sub_assemblies_are_their_own_groups() -> None:
    joints = (_glued("l1", "a", "b", assembly="legs"), _glued("r1", "c", "d", assembly="rails"), _glued("top", "a", "c"))
    assert _members(joint_groups(_frame(*joints))) == {
        "legs": ("glue", ["l1"]),
        "rails": ("glue", ["r1"]),
        "top": ("glue", ["top"]),
    }


def test_a_dry_joint_goes_with_what_fixes_its_piece() -> None:
    # The divider of the caddy bears on the floor and is glued into the sides: one movement, one step.
    groups = {group.name: group for group in joint_groups(job("herb-caddy"))}
    assert {each.name for each in groups["whole"].joints} == {"divider-1", "divider-2", "divider-3", "handle-1", "handle-2"}


def test_a_panel_goes_in_before_the_frame_round_it_closes() -> None:
    # The bottom of the box sits dry in grooves of sides and ends; the four glued corners close round it.
    (group,) = joint_groups(box())
    assert group.fixing == "glue"
    assert group.captured == ("bottom",)


def test_a_panel_that_the_last_corner_waits_for_is_in_that_step() -> None:
    # Corners 1 to 3, the panel, then corner 4 closes: the panel goes in with corner 4.
    corners = [_glued("c1", "a", "b", assembly="frame"), _glued("c2", "c", "b", assembly="frame")]
    last = _glued("c3", "a", "d", assembly="frame", after=("c1",))
    seats = [_seated("p1", "left", "a"), _seated("p2", "right", "d")]
    groups = joint_groups(_frame(*corners, last, *seats))
    assert _members(groups) == {"frame": ("glue", ["c1", "c2"]), "frame-glue": ("glue", ["c3", "p1", "p2"])}
    assert groups[1].captured == ("panel",)


def test_what_comes_after_a_panel_comes_after_the_frame_that_takes_it() -> None:
    # The panel waits for c3, which waits for c1; so the knob, which waits for the panel, is third, not first.
    joints = (
        _glued("c1", "a", "b", assembly="frame"),
        _glued("c3", "a", "d", assembly="frame", after=("c1",)),
        _seated("p1", "left", "a"),
        _seated("p2", "right", "d"),
        _glued("knob", "c", "panel", fixed=("screws",), after=("p1",)),
    )
    assert [group.name for group in joint_groups(_frame(*joints))] == ["frame", "frame-glue", "knob"]


def test_a_captive_panel_after_the_frame_is_refused_with_its_sizes() -> None:
    with pytest.raises(Refused) as refused:
        _by_shapes(job("tests/cases/flawed/s10-panel-after-glue.yaml"))
    (finding,) = refused.value.findings
    assert (finding.level, finding.code, finding.subject) == ("error", "captive-piece", "panel-1")
    assert finding.what == (
        "The panel (392 x 190 mm) is to go in after corner-1, corner-2, corner-3, corner-4, but it is held on four sides and "
        "is larger than the opening both ways: once the frame is closed it cannot go in."
    )
    assert finding.remedy == (
        "Put the panel in before the last joint of the frame is closed (take `after` out of panel-1), or replace the groove "
        "on one side by a rebate with a loose bead."
    )


def test_the_same_panel_without_the_order_goes_in_as_the_frame_closes() -> None:
    flawed = job("tests/cases/flawed/s10-panel-after-glue.yaml")
    sound = replace(flawed, joints={name: replace(each, after=()) for name, each in flawed.joints.items()})
    (group,) = _by_shapes(sound)
    assert (group.name, group.fixing, group.captured) == ("frame", "glue", ("panel",))


def test_a_panel_held_on_two_sides_may_slide_in_later() -> None:
    joints = (_glued("c1", "a", "b"), _seated("p1", "left", "a", after=("c1",)), _seated("p2", "right", "b", after=("c1",)))
    assert _members(joint_groups(_frame(*joints))) == {"c1": ("glue", ["c1"]), "panel-in-place": ("fit-dry", ["p1", "p2"])}


def _lidded(front: float, *, grooved: bool = False, after: tuple[str, ...] = ()) -> Job:
    """A box with a lid in grooves of sides and back: it slides in over the front, or the front is as high as the sides and is
    grooved too."""
    cut = feature("lid-groove", "groove", face="inside", from_="top", distance=8, width=6, depth=5)
    ends = [feature(f"{end}-rebate", "rebate", edge=("inside", end), width=15, depth=5) for end in ("left", "right")]
    parts = [
        part("side", "board", 260, 80, 15, cut, *ends, count=2, handed=True),
        part("back", "board", 130, 80, 15, cut),
        part("front", "board", 130, front, 15, *([cut] if grooved else [])),
        part("lid", "panel", 235 if grooved else 250, 130, 6),
    ]
    dry = {"fixed": ("dry",), "fit": "sliding", "after": after}
    joints = [
        joint("c1", "back/right", "side.left/left-rebate", flush="bottom"),
        joint("c2", "back/left", "side.right/left-rebate", flush="bottom"),
        joint("c3", "front/left", "side.left/right-rebate", flush="bottom"),
        joint("c4", "front/right", "side.right/right-rebate", flush="bottom"),
        joint("l1", "lid/top", "side.left/lid-groove", align={"inside": "top"}, **dry),  # type: ignore[arg-type]
        joint("l2", "lid/bottom", "side.right/lid-groove", **dry),  # type: ignore[arg-type]
        joint("l3", "lid/left", "back/lid-groove", **dry),  # type: ignore[arg-type]
    ]
    return made_job(parts, joints)


def test_a_lid_that_slides_in_over_the_front_is_not_shut_out_when_the_box_is_glued() -> None:
    lidded = _lidded(66)
    assert _members(_by_shapes(lidded)) == {
        "whole": ("glue", ["c1", "c2", "c3", "c4"]),
        "lid-in-place": ("fit-dry", ["l1", "l2", "l3"]),
    }
    assert [group.captured for group in _by_shapes(lidded)] == [(), ()]


def test_a_drawer_bottom_that_slides_in_under_the_back_goes_in_with_the_sides_though_nothing_demands_it() -> None:
    """As in W. Noyes, Handwork in Wood, 1910, p. 192: slid into place before the drawer is squared and left to set."""
    body = next(group for group in _by_shapes(job("tests/cases/s06-table-drawer.yaml")) if group.fixing == "glue")
    assert "bottom" in {each.enters_piece for each in body.joints}
    assert body.captured == ()


def test_the_same_lid_behind_a_front_that_is_as_high_as_the_sides_goes_in_as_the_box_closes() -> None:
    (group,) = _by_shapes(_lidded(80, grooved=True))
    assert group.captured == ("lid",)
    with pytest.raises(Refused) as refused:
        _by_shapes(_lidded(80, grooved=True, after=("c1", "c4")))
    (finding,) = refused.value.findings
    assert (finding.code, finding.subject) == ("captive-piece", "l1")
    assert "but it is shut out then: once the frame is closed it cannot go in." in finding.what


def test_a_pane_in_four_rebates_that_are_open_at_the_rear_goes_in_after_the_frame() -> None:
    """40 wide with rebates of 8: the opening is 300 - 64 by 200 - 64. The pane touches the rebate on all four sides."""
    frame = mitred_frame()
    pane = part("pane", "board", 236, 136, 2)
    late = tuple(frame.joints)
    seats = [
        joint("g1", "pane/bottom", "low.1/glass-rebate", align={"inside": "inside"}, at={"left": 32, "outside": 8}),
        joint("g2", "pane/top", "low.2/glass-rebate"),
        joint("g3", "pane/left", "up.1/glass-rebate"),
        joint("g4", "pane/right", "up.2/glass-rebate"),
    ]
    laid = [replace(each, fixed=("dry",), after=late) for each in seats]
    glazed = made_job([*frame.parts.values(), pane], [*frame.joints.values(), *laid], stock=(*frame.stock.values(), BOARD))
    groups = _by_shapes(glazed)
    assert [(group.fixing, {each.name for each in group.joints}) for group in groups] == [
        ("glue", set(late)),
        ("fit-dry", {"g1", "g2", "g3", "g4"}),
    ]
    assert not any(group.captured for group in groups)


def test_joints_that_wait_for_each_other_are_refused_with_the_circle() -> None:
    first = _glued("j1", "a", "b", after=("j2",), place=Place("job.yaml", 12, 3, "joints.j1"))
    with pytest.raises(Refused) as refused:
        joint_groups(_frame(first, _glued("j2", "c", "d", after=("j1",))))
    (finding,) = refused.value.findings
    assert finding.code == "joint-circle"
    assert finding.what == "The joints are asked to come after each other in a circle: j1 before j2 before j1."
    assert finding.place == first.place
    assert finding.remedy == "Take one of the `after` entries out: j1 (line 12) or j2."


def test_a_circle_of_joints_names_file_line_and_key_of_each() -> None:
    joints = [
        replace(_glued(name, *pieces, after=(after,)), place=Place("job.yaml", line, 3, f"joints.{name}"))
        for name, pieces, after, line in (("j1", ("a", "b"), "j2", 7), ("j2", ("c", "d"), "j1", 8))
    ]
    with pytest.raises(Refused) as refused:
        joint_groups(_frame(*joints))
    (finding,) = refused.value.findings
    assert str(finding.place) == "job.yaml:7:3: joints.j1"
    assert finding.remedy == "Take one of the `after` entries out: j1 (line 7) or j2 (line 8)."


def test_a_joint_that_waits_for_a_piece_which_goes_in_with_it_is_refused() -> None:
    # The shelf (a) is glued to b, and also bears on the panel; the panel's knob (c) waits for the bearing, b waits for the knob.
    joints = (
        joint("bears", "a/right", "d/inside", fixed=("dry",)),
        _glued("knob", "c", "d", after=("bears",)),
        _glued("glued", "a", "b", after=("knob",)),
    )
    with pytest.raises(Refused) as refused:
        joint_groups(_frame(*joints))
    (finding,) = refused.value.findings
    assert finding.what == "No moment fits knob: it is to come after bears, which goes in with what waits for it."
    assert finding.remedy == "Take `after` out of knob."
