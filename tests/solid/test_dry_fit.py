"""The dry fit: sound jobs are left in peace, and each damage is found by its name, with its figures."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.design.checking import check_design
from sequencer.design.placing import place
from sequencer.findings import Finding, has_errors
from sequencer.model.job import Job, Part, Stock
from sequencer.reading.job import read_job
from sequencer.solid.clashing import clashes, unmeant
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.parts import standing_solids
from tests.design.jobs import box, cross, feature, joint, mitred_frame, part, tenon_frame
from tests.design.jobs import job as put_together
from tests.made import ROOT, job, knowledge

CASES = ("s01-bench-hook", "s02-flower-pot-cross", "s05-knife-box", "s09-towel-roller")
SOUND = ("herb-caddy", "picture-frame", "step-stool", "starter", *(f"tests/cases/{case}.yaml" for case in CASES))
POST = Stock("post", "red oak", "square", 60, 42, (2400,), hardness="hardwood")


def found(drawn: Job) -> list[Finding]:
    return list(dry_fit(drawn, knowledge()))


def only(drawn: Job) -> Finding:
    (finding,) = found(drawn)
    return finding


def codes(drawn: Job) -> list[tuple[str, str, str]]:
    return [(each.level, each.code, each.subject) for each in found(drawn)]


def damaged(name: str, folder: Path, *swaps: tuple[str, str]) -> Job:
    """An example or a case with text of its file replaced, which its boxes still find nothing wrong with."""
    source = ROOT / name if name.endswith(".yaml") else ROOT / "examples" / name / "job.yaml"
    text = source.read_text(encoding="utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    file = folder / "job.yaml"
    file.write_text(text, encoding="utf-8")
    drawn = read_job(file)[0]
    assert not has_errors(check_design(drawn, knowledge()))
    return drawn


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_job_is_left_in_peace(name: str) -> None:
    assert found(job(name)) == []


@pytest.mark.parametrize("drawn", [box(), tenon_frame(), mitred_frame(), cross()], ids=["box", "frame", "mitres", "cross"])
def test_small_sound_jobs_are_left_in_peace(drawn: Job) -> None:
    assert found(drawn) == []


def test_keys_that_pull_a_joint_tight_are_told_apart_from_clashes() -> None:
    tabouret = job("tests/cases/s08-keyed-tabouret.yaml")
    said = only(tabouret)
    assert (said.level, said.code, said.subject) == ("note", "draws-tight", "key-1")
    assert said.what == (
        "key.1 is drawn 1.6 mm into leg.1, and so are leg.2 and key.2, leg.3 and key.3 and leg.4 and key.4: driven home, it "
        "pulls the joint tight and stands that much less far in."
    )
    placement = place(tabouret)
    seen = clashes(placement, standing_solids(placement))
    assert {each.pieces for each in seen} == {(f"leg.{number}", f"key.{number}") for number in range(1, 5)}
    assert unmeant(tabouret, knowledge(), seen) == ()


def test_a_key_too_deep_to_pull_up_is_a_clash(tmp_path: Path) -> None:
    deep = damaged("tests/cases/s08-keyed-tabouret.yaml", tmp_path, ("at: {shoulder: 13/16}", "at: {shoulder: 5/8}"))
    assert codes(deep) == [("error", "clash", "leg")]


def test_more_pegs_than_holes(tmp_path: Path) -> None:
    fourth = "  pegs-4: {part: peg.4, its: left, into: rail/peg-holes, fixed: glue}\nglue: pva"
    said = only(damaged("starter", tmp_path, ("count: 3", "count: 4"), ("glue: pva", fourth)))
    assert (said.level, said.code, said.subject) == ("error", "clash", "peg")
    assert said.what == (
        "peg.3 and peg.4 stand in each other: they share 80 x 12 x 12 mm, 9022 mm3, all through peg.3 and all through peg.4."
    )
    assert said.remedy == "Both go to the same place of rail/peg-holes: draw one more there, or leave one piece out."
    assert said.place is not None
    assert said.place.line == 31


def test_a_piece_that_runs_into_another(tmp_path: Path) -> None:
    low = damaged("herb-caddy", tmp_path, ("face: inside, at: {bottom: 160}", "face: inside, at: {bottom: 70}"))
    said = only(low)
    assert (said.code, said.subject) == ("clash", "divider")
    assert said.what == (
        "divider and handle stand in each other: they share 20 x 20 x 15 mm, 4699 mm3, in divider, 10 mm from its top and in "
        "handle, 126 mm from its right."
    )
    assert said.remedy == "Shorten one, cut one out for the other, or correct the sizes that put them there."
    placement = place(low)
    (clash,) = unmeant(low, knowledge(), clashes(placement, standing_solids(placement)))
    assert clash.pieces == ("divider", "handle")
    assert clash.volume == pytest.approx(4699, abs=1)
    assert clash.solid.bounds.size("x") == pytest.approx(15)


def test_a_stopped_housing_that_what_goes_in_is_not_notched_for(tmp_path: Path) -> None:
    housing = "kind: housing, face: inside, from: left, distance: board + 170, width: board, depth: cut"
    said = only(damaged("herb-caddy", tmp_path, (housing, housing + ", stops: {bottom: 30}")))
    assert (said.code, said.subject) == ("clash", "divider-1")
    # The divider stands from 14 up; the housing starts at 30.
    assert "they share 16 x 15 x 5 mm, 1200 mm3" in said.what
    assert said.what.endswith("So do side.right and divider.")
    assert said.remedy == "Make room at side.left/divider-housing, or make divider smaller there."


def test_a_curve_that_leaves_a_joint_without_wood(tmp_path: Path) -> None:
    said = only(
        damaged(
            "herb-caddy",
            tmp_path,
            ("{left: 0, bottom: high}", "{left: 0, bottom: 8}"),
            ("{right: 0, bottom: high}", "{right: 0, bottom: 8}"),
        )
    )
    assert (said.level, said.code, said.subject) == ("error", "bears-on-little", "corner-1")
    assert said.what == "end.1/right meets side.left/pot-end-rebate over 120.9 mm2; their faces have 1350 mm2 in common."
    assert said.why == "There is no wood to glue or fix to."


def test_a_cut_that_takes_one_side_of_a_housing(tmp_path: Path) -> None:
    """A wide notch from the top edge takes the wood between the housing and the end, but for a little at the bottom."""
    drawn = box()
    side = drawn.parts["side"]
    taken = feature("end-notch", "notch", edge="top", from_="left", distance=0, length=10, depth=86)
    said = [each for each in found(with_part(drawn, with_feature(side, taken))) if each.code == "held-by-little"]
    assert [each.subject for each in said] == ["corner-1"]
    assert said[0].what == "side.left/left-housing holds end.1/right at one side by 20 mm2 of 450 mm2."


def test_a_piece_that_touches_nothing() -> None:
    """The ends are cut back behind their tongues, so that they reach neither side."""
    block = part("block", "board", 60, 40, 15, feature("away", "cut-out", at={"left": 10, "bottom": 10}, length=40, width=20))
    board = part("board", "board", 300, 90, 15, feature("window", "cut-out", at={"left": 100, "bottom": 20}, length=80, width=50))
    flat = joint("lies", "block/outside", "board/inside", align={"left": "left"}, at={"left": 110, "bottom": 25})
    said = only(put_together([board, block], [flat]))
    assert (said.level, said.code, said.subject) == ("error", "touches-nothing", "block")
    assert said.what == "block touches no other piece where the joints put it."


def test_a_joint_whose_pieces_do_not_meet() -> None:
    """The cap lies on one end and reaches out to the wrong side: it touches one of the two pieces it is glued to."""
    ends = part("end", "board", 100, 60, 15, count=2)
    parts = [part("base", "board", 300, 60, 15), ends, part("cap", "board", 300, 60, 15)]
    standing = [
        joint("e1", "end.1/left", "base/inside", align={"inside": "right"}, at={"left": 0, "bottom": 0}),
        joint("e2", "end.2/left", "base/inside", align={"inside": "left"}, at={"right": 0, "bottom": 0}),
        joint("c1", "cap/outside", "end.1/right", align={"left": "inside"}, at={"bottom": 0, "inside": 0}),
    ]
    said = only(put_together(parts, [*standing, joint("c2", "cap/outside", "end.2/right")]))
    assert (said.level, said.code, said.subject) == ("error", "does-not-meet", "c2")
    assert said.what == "cap/outside does not reach end.2/right: cap lies 270 mm from end.2 where the other joints put it."
    reaches = replace(standing[2], align=(("left", "outside"),), at=(("bottom", 0.0), ("outside", 0.0)))
    assert found(put_together(parts, [*standing[:2], reaches, joint("c2", "cap/outside", "end.2/right")])) == []


def post_and_rails(deep: float, long: float, foot: float = 17) -> Job:
    """A post with two rails tenoned into neighbouring faces at the same height."""
    shape = {"kind": "mortise", "length": 40, "width": 8, "depth": deep}
    post = part(
        "post",
        "post",
        200,
        42,
        42,
        feature("first", face="top", at={"left": 30, "outside": foot}, **shape),
        feature("second", face="inside", at={"left": 30, "bottom": 17}, **shape),
    )
    tenon = {"kind": "tenon", "end": "left", "length": long, "thickness": 8, "width": 40, "from_bottom": 10}
    rails = [part(name, "post", 200, 60, 20, feature("tenon", **tenon)) for name in ("rail", "other")]
    joints = [
        joint("into-first", "rail/tenon", "post/first", align={"bottom": "left"}),
        joint("into-second", "other/tenon", "post/second", align={"bottom": "left"}),
    ]
    return put_together([post, *rails], joints, stock=[POST])


def test_two_tenons_in_one_post() -> None:
    assert found(post_and_rails(19, 16)) == []
    # 17 from the face to the mortise: 17 long they meet corner to corner.
    near = only(post_and_rails(19, 17))
    assert (near.level, near.code, near.subject) == ("warning", "tenons-meet", "into-first")
    assert near.what == "rail/tenon and other/tenon come within 0 mm of each other in post."
    into = only(post_and_rails(27, 25))
    assert into.code == "clash"
    assert "they share 40 x 8 x 8 mm, 2560 mm3" in into.what
    assert into.remedy == "Make the tenons shorter, mitre their ends, or set one higher than the other."


def lidded(lid: float = 285, left: float = 0, front: float = 30, **groove: object) -> Job:
    """A box whose lid slides in grooves 6.5 wide and 5 deep along both sides, 45 high; its back stands over the groove."""
    cut = {"kind": "groove", "face": "inside", "from_": "bottom", "distance": 30, "width": 6.5, "depth": 5, **groove}
    side = part("side", "board", 300, 45, 15, feature("lid-groove", **cut), count=2, handed=True)
    back, low = part("back", "board", 100, 45, 15), part("front", "board", 100, front, 15)
    joints = [
        joint("back-1", "back/left", "side.left/inside", flush={"bottom": "bottom", "outside": "right"}),
        joint("back-2", "back/right", "side.right/inside", flush={"bottom": "bottom", "outside": "left"}),
        joint("front-1", "front/right", "side.left/inside", flush={"bottom": "bottom", "outside": "left"}),
        joint("front-2", "front/left", "side.right/inside", flush={"bottom": "bottom", "outside": "right"}),
        joint(
            "lid-1",
            "lid/bottom",
            "side.left/lid-groove",
            fit="sliding",
            fixed=("dry",),
            align={"inside": "top"},
            at={"left": left},
        ),
        joint("lid-2", "lid/top", "side.right/lid-groove", fit="sliding", fixed=("dry",)),
    ]
    return put_together([side, back, low, part("lid", "panel", lid, 109, 6)], joints)


def test_a_lid_that_slides_out_at_the_front() -> None:
    assert found(lidded()) == []


def test_a_lid_between_front_and_back_cannot_slide() -> None:
    said = only(lidded(lid=270, left=15, front=45))
    assert (said.level, said.code, said.subject) == ("error", "cannot-slide", "lid-1")
    assert said.what == (
        "lid is to slide in side.left/lid-groove: towards its left it goes 0 mm and meets back and towards its right it goes "
        "0 mm and meets front."
    )


def test_a_lid_that_moves_part_of_its_way_is_said_with_its_travel() -> None:
    said = only(lidded(lid=200, left=20, front=45))
    assert (said.level, said.code) == ("warning", "slides-part-way")
    assert "towards its left it goes 65 mm and meets back and towards its right it goes 5 mm and meets front" in said.what


def test_a_groove_stopped_before_the_lid_is_a_clash() -> None:
    said = only(lidded(stops={"left": 20}))
    assert (said.code, said.subject) == ("clash", "lid-1")
    # The lid lies midway between both grooves, half a millimetre from either floor.
    assert "they share 20 x 6 x 4.5 mm, 540 mm3" in said.what


def test_a_door_runs_from_end_to_end_of_its_track() -> None:
    track = {"kind": "groove", "face": "inside", "from_": "bottom", "distance": 20, "width": 6.5, "depth": 6}
    rails = part("rail", "board", 600, 60, 15, feature("track", **track), count=2, handed=True)
    post = part("post", "board", 200, 60, 15, count=2)
    joints = [
        joint("post-1", "post.1/left", "rail.left/inside", flush={"bottom": "bottom", "inside": "left"}),
        joint("post-2", "post.2/left", "rail.left/inside", flush={"bottom": "bottom", "outside": "right"}),
        joint("post-3", "post.1/right", "rail.right/inside", flush={"bottom": "bottom", "inside": "right"}),
        joint("post-4", "post.2/right", "rail.right/inside", flush={"bottom": "bottom"}),
        joint(
            "door-1",
            "door/bottom",
            "rail.left/track",
            fit="sliding",
            fixed=("dry",),
            align={"inside": "top"},
            at={"left": 100},
        ),
        joint("door-2", "door/top", "rail.right/track", fit="sliding", fixed=("dry",)),
    ]
    drawn = put_together([rails, post, part("door", "panel", 300, 211, 6)], joints)
    said = only(drawn)
    # The posts stand on the track, 15 from its ends: whether that is meant only the teacher knows.
    assert (said.level, said.code) == ("warning", "slides-part-way")
    assert "goes 85 mm and meets post.1" in said.what
    assert "goes 185 mm and meets post.2" in said.what


def test_what_is_to_slide_and_is_glued_elsewhere() -> None:
    drawn = lidded(lid=270, left=15, front=30)
    glued = joint("lid-3", "lid/left", "back/inside", fixed=("glue",))
    said = only(replace(drawn, joints={**drawn.joints, "lid-3": glued}))
    assert (said.code, said.subject) == ("cannot-slide", "lid-1")
    assert said.what == "lid is to slide in side.left/lid-groove, and other joints fix it to side.left."


def test_a_driven_fit_may_be_as_tight_as_it_is_and_no_tighter() -> None:
    def pushed(width: float) -> Job:
        rail = part(
            "rail",
            "board",
            300,
            90,
            15,
            feature("seat", "housing", face="inside", from_="left", distance=100, width=width, depth=5),
        )
        peg = part("tongue", "board", 80, 90, 15)
        into = joint("driven-in", "tongue/left", "rail/seat", flush="bottom", fit="driven", align={"inside": "left"})
        return put_together([rail, peg], [into])  # fmt: skip

    assert found(pushed(14.8)) == []
    assert codes(pushed(14.3)) == [("error", "clash", "driven-in")]


def test_end_play_is_shared_out_to_both_ends() -> None:
    """The roller of 14 7/8 between brackets 15 apart: 1/16 at each side, the book says."""
    placed = place(job("tests/cases/s09-towel-roller.yaml"))
    ends = placed.span("roller", "x")
    walls = (placed.span("bracket-closed", "x")[1], placed.span("bracket-open", "x")[0])
    assert ends[0] - walls[0] == pytest.approx(25.4 / 16)
    assert walls[1] - ends[1] == pytest.approx(25.4 / 16)


def test_pieces_without_a_place_are_left_out() -> None:
    drawn = box()
    loose = part("spare", "panel", 50, 50, 6)
    assert found(replace(drawn, parts={**drawn.parts, "spare": loose})) == []


def test_the_same_job_gives_the_same_findings(tmp_path: Path) -> None:
    low = damaged("herb-caddy", tmp_path, ("face: inside, at: {bottom: 160}", "face: inside, at: {bottom: 70}"))
    assert found(low) == found(low)


def with_feature(drawn: Part, more: object) -> Part:
    return replace(drawn, features={**drawn.features, more.name: more})  # type: ignore[attr-defined, dict-item]


def with_part(drawn: Job, changed: Part) -> Job:
    return replace(drawn, parts={**drawn.parts, changed.name: changed})
