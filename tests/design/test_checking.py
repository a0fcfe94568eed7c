"""Sound jobs are left alone; a damaged one gets the one finding that names the damage, with its figures."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.design.checking import check_design, format_only_findings
from sequencer.findings import Finding, Place
from sequencer.model.job import Choice, Hardware, Job, Overall, Stock

from .jobs import BOARD, STICK, box, cross, feature, job, joint, knowledge, mitred_frame, part, seat, tenon_frame

KNOWLEDGE = knowledge()


def serious(checked: Job) -> list[Finding]:
    return [finding for finding in check_design(checked, KNOWLEDGE) if finding.level != "note"]


def only(checked: Job) -> Finding:
    found = serious(checked)
    assert len(found) == 1, [f"{each.code} {each.subject}: {each.what}" for each in found]
    return found[0]


def with_part(changed: Job, name: str, **fields: object) -> Job:
    return replace(changed, parts={**changed.parts, name: replace(changed.parts[name], **fields)})  # type: ignore[arg-type]


def with_joint(changed: Job, name: str, **fields: object) -> Job:
    return replace(changed, joints={**changed.joints, name: replace(changed.joints[name], **fields)})  # type: ignore[arg-type]


@pytest.mark.parametrize("sound", [box(), tenon_frame(), mitred_frame(), cross()], ids=["box", "tenons", "mitres", "cross"])
def test_nothing_is_found_on_a_sound_job(sound: Job) -> None:
    assert serious(sound) == []


# Panels --------------------------------------------------------------------------------------------------------------


@given(st.integers(1, 20))
def test_a_sheet_too_long_says_the_sum(extra: int) -> None:
    found = only(box(panel_long=extra))
    assert (found.level, found.code, found.subject) == ("error", "panel-too-long", "bottom")
    # 300 - 2 x 10 - 2 x 15 = 250 clear; common practice: panel = clear + groove depth at each end.
    assert "250 + 5 + 5 = 260 mm" in found.what
    assert f"{260 + extra} mm, {extra} mm too long" in found.what
    assert "at most 260 mm" in found.remedy


def test_a_sheet_too_short_to_be_held() -> None:
    barely, out = only(box(panel_wide=-4)), only(box(panel_wide=-6))
    assert (barely.level, barely.code) == ("warning", "panel-barely-held")
    assert "160 + 5 + 5 = 170 mm" in barely.what
    assert "stays only 1 mm" in barely.what
    assert (out.level, out.code) == ("error", "panel-falls-out")


def test_a_solid_panel_needs_room_across_its_grain_only() -> None:
    frame = tenon_frame()
    tight = with_part(frame, "panel", width=213.0, length=334.0)
    found = only(tight)
    assert (found.level, found.code, found.subject) == ("warning", "no-room-to-move", "panel")
    # Wood Handbook eq. 13-2: 213 x 0.00234 x 4 = 1.99 mm, and 200 + 7 + 7 - 213 leaves 1.
    assert "200 + 7 + 7 = 214 mm" in found.what
    assert "leaves 1 mm" in found.what
    assert "2 mm (213 x 0.00234 x 4, tangential)" in found.what
    assert "212" in found.remedy
    assert "13-2" in found.source


def test_quarter_sawn_wood_needs_less_room() -> None:
    frame = with_part(tenon_frame(), "panel", width=213.0)
    quarter = replace(frame, stock={**frame.stock, "plank": replace(frame.stock["plank"], sawn_as="quarter")})
    assert serious(quarter) == []  # 213 x 0.00116 x 4 = 0.99 mm


# Closing -------------------------------------------------------------------------------------------------------------


def two_rails(second: float) -> Job:
    """Two uprights joined by two shelves housed 5 deep; the shelves are 200 and `second` long."""
    housings = [
        feature(name, "housing", face="inside", from_="left", distance=distance, width=15, depth=5)
        for name, distance in (("low", 40), ("high", 200))
    ]
    upright = part("upright", "board", 300, 90, 15, *housings, count=2, handed=True)
    shelves = [part(name, "board", length, 90, 15) for name, length in (("low-shelf", 200), ("high-shelf", second))]
    joints = [
        joint(f"{name}-{side}", f"{name}-shelf/{end}", f"upright.{hand}/{name}", flush="bottom")
        for name in ("low", "high")
        for side, end, hand in ((1, "left", "left"), (2, "right", "right"))
    ]
    return job([upright, *shelves], joints)


@pytest.mark.parametrize(
    ("length", "code", "state"), [(202, "joint-too-tight", "2 mm too tight"), (197, "joint-open", "3 mm open")]
)
def test_a_joint_that_does_not_close(length: float, code: str, state: str) -> None:
    assert serious(two_rails(200)) == []
    found = only(two_rails(length))
    assert (found.level, found.code, found.subject) == ("error", code, "high-2")
    assert state in found.what


def test_two_alike_parts_where_a_pair_is_needed() -> None:
    sound = box()
    names = {"side.left": "side.1", "side.right": "side.2"}
    joints = {
        name: replace(each, seat=replace(each.seat, piece=names.get(each.seat.piece, each.seat.piece)))
        for name, each in sound.joints.items()
    }
    cuts = sound.parts["side"].features
    lopsided = {
        "side": replace(
            sound.parts["side"],
            handed=False,
            features={**cuts, "right-housing": replace(cuts["right-housing"], distance=25)},  # type: ignore[call-arg]
        ),
        "bottom": replace(sound.parts["bottom"], length=245.0),
    }
    found = only(replace(sound, joints=joints, parts={**sound.parts, **lopsided}))
    assert (found.level, found.code, found.subject) == ("error", "needs-a-pair", "side")
    assert "side.1 and side.2 are drawn alike" in found.what
    assert "handed: true" in found.remedy


@pytest.mark.parametrize("frames", [1, 2])
def test_alike_legs_that_must_be_pairs(frames: int) -> None:
    """Two legs to a frame, joined by a rail let in near the foot and a brace flush with the foot."""
    foot = feature("foot", "housing", face="inside", from_="left", distance=30, width=20, depth=5, stops={"top": 12})
    parts = [
        part("leg", "stick", 300, 40, 20, foot, count=2 * frames),
        part("rail", "stick", 200, 28, 20, count=2),
        part("brace", "stick", 190, 40, 20, count=2),
    ]
    joints = []
    for frame in range(1, frames + 1):
        left, right = f"leg.{2 * frame - 1}", f"leg.{2 * frame}"
        joints += [
            joint(f"rail-{frame}-left", f"rail.{frame}/left", f"{left}/foot", flush="bottom"),
            joint(f"rail-{frame}-right", f"rail.{frame}/right", f"{right}/foot", flush="bottom"),
            joint(f"brace-{frame}-1", f"brace.{frame}/left", f"{left}/inside", flush={"bottom": "bottom", "outside": "right"}),
            joint(f"brace-{frame}-2", f"brace.{frame}/right", f"{right}/inside", flush={"bottom": "bottom", "outside": "left"}),
        ]
    found = only(job(parts, joints, stock=[STICK]))
    assert (found.level, found.code, found.subject) == ("error", "needs-a-pair", "leg")
    assert "the other way round, left to right" in found.what


def test_outside_measure_names_the_piece_between() -> None:
    """124 over two 12 mm sides leaves 100 between: the common sum; 102 is 2 too long."""
    side = part("side", "thin", 200, 60, 12, count=2)
    middle = part("middle", "thin", 102, 60, 12)
    joints = [
        joint("one", "middle/left", "side.1/inside", flush={"bottom": "bottom"}, at={"left": 50}),
        joint("two", "middle/right", "side.2/inside", flush={"bottom": "bottom"}, at={"right": 50}),
    ]
    thin = Stock("thin", "radiata pine", "board", 90, 12, (2400,))
    over = Overall("width", seat("side.1/outside"), seat("side.2/outside"), 124)
    found = only(job([side, middle], joints, stock=[thin], overall=(over,)))
    assert (found.level, found.code, found.subject) == ("error", "piece-between-wrong", "middle")
    assert "124 - 2 x 12 = 100 mm" in found.what
    assert "drawn is 102 mm, 2 mm too long" in found.what


def test_outside_measure_with_housings() -> None:
    """190 outside, 15 mm boards, 5 mm housings: 170 (common practice); a box drawn 192 wide is 2 too large."""
    over = Overall("width", seat("side.left/outside"), seat("side.right/outside"), 190)
    assert serious(replace(box(), overall=(over,))) == []
    found = only(replace(box(end_extra=2, panel_wide=2), overall=(over,)))
    assert found.subject == "end"
    assert "190 - 2 x 15 + 2 x 5 = 170 mm; drawn is 172 mm, 2 mm too long" in found.what


def test_outside_measure_along_one_part() -> None:
    over = Overall("length", seat("end.1/inside"), seat("end.2/inside"), 245)
    found = only(replace(box(), overall=(over,)))
    assert (found.code, found.subject) == ("overall-wrong", "length")
    assert "add up to 250 mm; drawn is 245 mm: 5 mm too large" in found.what


# Fits ----------------------------------------------------------------------------------------------------------------


def test_a_bottom_thicker_than_its_groove() -> None:
    sheet = replace(box().stock["panel"], thickness=6.5)
    thick = with_part(replace(box(), stock={**box().stock, "panel": sheet}), "bottom", thickness=6.5)
    codes = {(each.level, each.code) for each in serious(thick)}
    assert codes == {("error", "too-tight")}
    assert "6.5 mm" in serious(thick)[0].what
    assert "0.5 mm too tight" in serious(thick)[0].what


def test_stated_play_overrides_the_fit() -> None:
    loose = with_joint(two_rails(200), "low-1", play=0.5)
    found = only(loose)
    assert (found.level, found.code, found.subject) == ("warning", "too-tight", "low-1")


def test_tenon_too_long_for_its_mortise() -> None:
    found = serious(tenon_frame(tenon=29))
    assert {(each.level, each.code) for each in found} == {("error", "tenon-too-long")}
    assert "29 mm long" in found[0].what
    assert "27 mm deep: 2 mm too long" in found[0].what


def test_tenon_without_room_for_glue() -> None:
    found = serious(tenon_frame(tenon=26.5))
    assert {(each.level, each.code) for each in found} == {("warning", "tenon-bottoms")}
    assert "0.5 mm is left" in found[0].what


def test_tenon_thicker_than_its_mortise() -> None:
    found = serious(tenon_frame(thick=8))
    assert {(each.level, each.code) for each in found} == {("error", "too-tight")}
    assert "8 mm" in found[0].what
    assert "1 mm too tight" in found[0].what


def test_halvings_that_do_not_add_up() -> None:
    found = only(cross(12, 10))
    assert (found.level, found.code, found.subject) == ("error", "halvings-do-not-add-up", "middle")
    assert "10 + 12 = 22 mm deep and the pieces 20 mm thick" in found.what


def test_a_tongue_in_a_fork_is_measured_where_it_is_thinned() -> None:
    """A rail 20 thick, let in 3 from both sides where it sits, fits a fork 14 wide; without the seats it does not."""

    def fork(*seats: object) -> Job:
        post = part("post", "stick", 200, 40, 20, feature("fork", "slot", face="inside", length=30, width=14, open="left", at={}))
        rail = part("rail", "stick", 200, 30, 20, *seats)  # type: ignore[arg-type]
        return job(
            [post, rail], [joint("sits", "rail/bottom", "post/fork", align={"left": "outside"}, at={"outside": 0})], stock=[STICK]
        )

    seats = [
        feature(name, "housing", face=face, from_="left", distance=0, width=40, depth=3)
        for name, face in (("one", "inside"), ("two", "outside"))
    ]
    assert [each.code for each in serious(fork())] == ["too-tight"]
    assert [each.code for each in serious(fork(*seats))] == []


def test_what_turns_may_have_end_play_but_must_stay_in() -> None:
    def roller(length: float, diameter: float = 10.5) -> Job:
        back = part("back", "board", 320, 100, 15)
        cheek = part("cheek", "board", 100, 90, 15, feature("pivot", "hole", face="inside", diameter=diameter, depth=8), count=2)
        rod = part("rod", "board", length, 10, 10, section="round")
        return job(
            [back, cheek, rod],
            [
                joint("cheek-1", "cheek.1/bottom", "back/inside", flush={"outside": "left", "left": "bottom"}),
                joint("cheek-2", "cheek.2/bottom", "back/inside", flush={"outside": "right", "left": "top"}),
                joint("turns-1", "rod/left", "cheek.1/pivot", fit="loose-pivot", fixed=("dry",)),
                joint("turns-2", "rod/right", "cheek.2/pivot", fit="loose-pivot", fixed=("dry",)),
            ],
        )

    # 320 - 2 x 15 + 2 x 8 = 306 between the floors of the holes.
    assert serious(roller(303)) == []
    out = only(roller(297))
    assert (out.code, out.subject) == ("joint-open", "turns-2")
    assert "9 mm open" in out.what
    assert only(roller(308)).code == "joint-too-tight"
    assert {each.code for each in serious(roller(303, diameter=10))} == {"too-tight"}


def test_glass_that_misses_its_rebate() -> None:
    frame = mitred_frame()
    glass = Stock("glass", "acrylic sheet", "bought", 0, 2, ())
    pane = part("pane", "glass", 234, 134, 2)

    def glazed(bottom: float) -> Job:
        lies = joint(
            "pane-in",
            "pane/outside",
            "low.1/glass-rebate",
            align={"top": "top"},
            at={"left": 33, "bottom": bottom},
            fixed=("dry",),
        )
        return job([*frame.parts.values(), pane], [*frame.joints.values(), lies], stock=[STICK, glass])

    assert serious(glazed(33)) == []
    found = [each for each in serious(glazed(39)) if each.code == "misses-rebate"]
    assert found[0].subject == "pane-in"
    assert "only 1 mm over low.1/glass-rebate, which is 8 mm wide" in found[0].what


def glazed_on(*sides: str, long: float = 234, left: float = 33) -> Job:
    """The frame of 220 x 120 in the clear, rebates 8 wide all round, with a pane that has a joint to each of some sides."""
    frame = mitred_frame()
    pane = part("pane", "glass", long, 134, 2)
    lies = [
        joint(f"pane-{number}", "pane/outside", f"{side}/glass-rebate", fixed=("dry",), **more)
        for number, side in enumerate(sides, 1)
        for more in [{"align": {"top": "top"}, "at": {"left": left, "bottom": 33}} if side == "low.1" else {}]
    ]
    glass = Stock("glass", "acrylic sheet", "bought", 0, 2, ())
    return job([*frame.parts.values(), pane], [*frame.joints.values(), *lies], stock=[STICK, glass])


def test_a_pane_that_reaches_one_of_two_alike_rebates() -> None:
    # 32 + 8 to the sight line at each side: 222 mm from 32 ends 6 mm short of the far rebate, from 39 it misses both.
    assert serious(glazed_on("low.1", "up.1", "up.2")) == []
    found = only(glazed_on("low.1", "up.1", "up.2", long=222))
    assert (found.code, found.level) == ("misses-rebate", "error")
    assert "only 0 mm over up." in found.what
    both = serious(glazed_on("low.1", "up.1", "up.2", long=219, left=40.5))
    assert [each.code for each in both] == ["misses-rebate"]


def test_a_pane_too_large_for_rebates_it_has_no_joint_to() -> None:
    # Walls at 32 and 300 - 32 = 268: a pane of 240 mm from 33 goes 5 mm into the wood behind the far one.
    assert serious(glazed_on("low.1")) == []
    found = only(glazed_on("low.1", long=240))
    assert (found.level, found.code, found.subject) == ("error", "too-large-for-rebate", "pane-1")
    assert "pane lies 5 mm in the wood behind up." in found.what
    assert serious(glazed_on("low.1", long=235)) == []


# Cuts ----------------------------------------------------------------------------------------------------------------


def board_with(*features: object) -> Job:
    return job([part("side", "board", 300, 90, 15, *features)], [])  # type: ignore[arg-type]


def groove(name: str, distance: float, **more: object) -> object:
    return feature(name, "groove", **{"face": "inside", "from_": "bottom", "distance": distance, "width": 6, "depth": 5, **more})


def test_cuts_near_each_other() -> None:
    found = only(board_with(groove("one", 20), groove("two", 27)))
    assert (found.level, found.code, found.subject) == ("warning", "cuts-near", "side/one")
    assert found.what == "Between one and two only 1 mm of wood is left along the width."
    assert serious(board_with(groove("one", 20), groove("two", 28))) == []


def test_grain_says_nothing_in_sheet() -> None:
    cuts = (
        feature("trench", "groove", face="inside", from_="left", distance=40, width=6, depth=2),
        feature("long", "housing", face="inside", from_="bottom", distance=40, width=6, depth=2),
    )
    solid = job([part("side", "board", 300, 90, 15, *cuts)], [])
    sheet = job([part("side", "panel", 300, 90, 6, *cuts)], [])
    said = {"across-the-grain", "along-the-grain"}
    assert said <= {each.code for each in check_design(solid, KNOWLEDGE)}
    assert said.isdisjoint(each.code for each in check_design(sheet, KNOWLEDGE))


def test_a_finding_about_a_feature_says_where_the_feature_stands() -> None:
    near = board_with(groove("one", 20), groove("two", 27, depth=13))
    line = {"one": Place("job.yaml", 12, 7), "two": Place("job.yaml", 13, 7)}
    placed = with_part(near, "side", place=Place("job.yaml", 8, 3), feature_places=line)
    found = {(each.code, each.subject): each.place for each in serious(placed)}
    assert found["cuts-near", "side/one"] == line["one"]
    assert found["thin-under-cut", "side/two"] == line["two"]
    without = with_part(placed, "side", feature_places={})
    assert {each.place for each in serious(without) if each.subject.startswith("side/")} == {Place("job.yaml", 8, 3)}


def test_grooves_that_run_into_each_other() -> None:
    found = only(board_with(groove("one", 20), groove("two", 24)))
    assert (found.code, found.subject) == ("cuts-meet", "side/one")


def test_a_groove_that_runs_into_a_housing_is_meant() -> None:
    housing = feature("house", "housing", face="inside", from_="left", distance=40, width=15, depth=5)
    assert serious(board_with(groove("one", 20), housing)) == []


def test_cuts_from_both_faces_meet_in_the_middle() -> None:
    through = board_with(groove("one", 20, depth=7.5), groove("two", 20, depth=7.5, face="outside"))
    assert only(through).code == "cuts-meet"
    thin = board_with(groove("one", 20, depth=7), groove("two", 20, depth=7, face="outside"))
    assert "only 1 mm of wood is left along the thickness" in only(thin).what


def test_halvings_of_one_end_from_both_faces_leave_no_end() -> None:
    def end(face: str, depth: float, width: float) -> object:
        return feature(face, "halving", face=face, from_="left", distance=0, width=width, depth=depth)

    gone = board_with(end("inside", 7.5, 20), end("outside", 7.5, 30))
    assert only(gone).code == "cuts-meet"
    assert "only 1 mm of wood is left along the thickness" in only(board_with(end("inside", 7, 20), end("outside", 7, 30))).what


def test_a_hole_half_in_a_groove() -> None:
    def hole(bottom: float, **more: object) -> object:
        return feature("hole", "hole", face="inside", diameter=10, at=({"left": 100, "bottom": bottom},), depth=8, **more)

    assert only(board_with(groove("one", 20), hole(28))).code == "cuts-meet"
    assert "1 mm" in only(board_with(groove("one", 20), hole(32))).what
    assert serious(board_with(groove("one", 20), hole(28, within="one"))) == []


# Stock ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "code", "words"),
    [
        ((2500, 90, 15), "too-long-for-stock", "2500 mm long along the grain; board comes at most 2400 mm"),
        ((300, 200, 15), "too-wide-for-stock", "200 mm wide across the grain; board is 190 mm wide"),
        ((300, 90, 18), "too-thick-for-stock", "18 mm thick; board is 15 mm thick"),
    ],
)
def test_a_part_larger_than_its_board(size: tuple[float, float, float], code: str, words: str) -> None:
    found = only(job([part("side", "board", *size)], []))
    assert (found.level, found.code, found.subject) == ("error", code, "side")
    assert words in found.what


def test_a_part_across_the_board() -> None:
    across = job([part("side", "board", 200, 90, 15, grain="y")], [])
    assert only(across).code == "too-wide-for-stock"


def test_a_part_of_sheet() -> None:
    assert serious(job([part("a", "panel", 1200, 600, 6)], [])) == []
    assert only(job([part("a", "panel", 600, 1200, 6)], [])).code == "grain-across-sheet"
    assert only(job([part("a", "panel", 1300, 600, 6)], [])).code == "too-large-for-stock"


# Fixing --------------------------------------------------------------------------------------------------------------


def screwed(length: float, gauge: int = 8, drilled: int = 8) -> Job:
    """A 15 mm cleat screwed onto a 20 mm rail: 35 mm of wood along the screw."""
    cleat = part(
        "cleat",
        "board",
        200,
        40,
        15,
        feature("holes", "screw-holes", face="inside", gauge=drilled, at=({"left": 50}, {"right": 50})),
    )
    rail = part("rail", "stick", 300, 40, 20)
    fixed = joint(
        "cleat-1",
        "cleat/outside",
        "rail/inside",
        flush={"left": "left", "bottom": "bottom"},
        fixed=("screws",),
        hardware="woodscrews",
    )
    screws = Hardware("woodscrews", "countersunk wood screw", 2, gauge, length)
    return job([cleat, rail], [fixed], stock=[BOARD, STICK], hardware={"woodscrews": screws})


def test_screws() -> None:
    assert serious(screwed(30)) == []
    through, close, little, none = (only(screwed(length)) for length in (40, 34, 25, 15))
    assert (through.level, through.code) == ("error", "screw-comes-through")
    assert "5 mm through" in through.what
    assert "at most 32 mm" in through.remedy
    assert (close.level, close.code) == ("warning", "screw-comes-through")
    assert "only 1 mm is left" in close.what
    assert (little.level, little.code) == ("warning", "screw-holds-little")
    assert "only 10 mm holds" in little.what
    assert (none.level, none.code) == ("error", "screw-holds-little")


def nailed(length: float | None, thick: float = 20) -> Job:
    """The same cleat, 15 mm thick, nailed to a rail: three times 15 is 45, and 6 mm are left before the points."""
    drawn = screwed(0)
    fixed = replace(drawn.joints["cleat-1"], fixed=("nails",), hardware="brads" if length else "")
    parts = {**drawn.parts, "rail": replace(drawn.parts["rail"], thickness=thick)}
    brads = {"brads": Hardware("brads", "brad", 2, None, length)} if length else {}
    return replace(drawn, joints={"cleat-1": fixed}, parts=parts, hardware=brads)


def test_nails() -> None:
    assert [each for each in check_design(nailed(45, 60), knowledge()) if each.code.startswith("nail")] == []
    assert [each for each in check_design(nailed(None, 60), knowledge()) if each.code.startswith("nail")] == []
    through, close, short, little, none = (
        next(each for each in check_design(drawn, knowledge()) if each.code.startswith("nail"))
        for drawn in (nailed(40), nailed(32), nailed(35, 60), nailed(25, 60), nailed(15, 60))
    )
    assert (through.level, through.code) == ("error", "nail-comes-through")
    assert "5 mm through" in through.what
    assert "at most 29 mm" in through.remedy
    assert (close.level, close.code) == ("warning", "nail-comes-through")
    assert "only 3 mm is left" in close.what
    assert (short.level, short.code) == ("note", "nail-holds-little")
    assert "about 45 mm" in short.remedy
    assert (little.level, little.code) == ("warning", "nail-holds-little")
    assert "only 10 mm holds" in little.what
    assert (none.level, none.code) == ("error", "nail-holds-little")
    (nothing,) = (each for each in check_design(nailed(None, 5), knowledge()) if each.code.startswith("nail"))
    assert "at most 14 mm stays in the wood" in nothing.what


def test_screw_gauge_against_its_holes() -> None:
    found = only(screwed(30, gauge=10))
    assert (found.level, found.code, found.subject) == ("error", "screw-gauge", "cleat-1")
    assert "gauge 8" in found.what
    assert "gauge 10" in found.what


def top_on_rail(fixed: tuple[str, ...], grain: str = "x", width: float = 250) -> Job:
    top = part("top", "wide", 250, width, 15)
    rail = part("rail", "stick", width if grain == "x" else 250, 40, 20)
    wide = replace(BOARD, name="wide", width=400)
    flush = {"top": "left", "left": "bottom"} if grain == "x" else {"left": "left", "bottom": "bottom"}
    return job([top, rail], [joint("top-1", "top/outside", "rail/inside", flush=flush, fixed=fixed)], stock=[wide, STICK])


def test_solid_wood_that_cannot_move() -> None:
    found = only(top_on_rail(("glue",)))
    assert (found.level, found.code, found.subject) == ("warning", "cannot-move", "top")
    # Wood Handbook eq. 13-2: 250 x 0.00234 x 4 = 2.34 mm.
    assert "2.3 mm is expected (250 x 0.00234 x 4, tangential)" in found.what
    assert serious(top_on_rail(("dry",))) == []
    assert serious(top_on_rail(("glue",), width=180)) == []  # 1.7 mm: a note
    assert serious(top_on_rail(("nails",))) == []
    assert [each.code for each in check_design(top_on_rail(("nails",)), KNOWLEDGE)] == ["cannot-move"]
    assert check_design(top_on_rail(("glue",), width=100), KNOWLEDGE) == ()
    assert serious(top_on_rail(("glue",), grain="y")) == []


# The rest ------------------------------------------------------------------------------------------------------------


def test_a_feature_alone_is_found_under_its_full_name() -> None:
    found = only(board_with(groove("one", 20, depth=14)))
    assert (found.level, found.code, found.subject) == ("error", "thin-under-cut", "side/one")


def test_a_part_in_no_joint_is_a_note() -> None:
    loose = box()
    loose = replace(loose, parts={**loose.parts, "lid": part("lid", "board", 100, 50, 15)})
    (found,) = check_design(loose, KNOWLEDGE)
    assert (found.level, found.code, found.subject) == ("note", "in-no-joint", "lid")


def test_what_was_not_measured_is_said() -> None:
    side, shelf = part("side", "board", 300, 190, 15), part("shelf", "board", 200, 120, 15)
    unclear = job([side, shelf], [joint("shelf-1", "shelf/left", "side/inside", flush={"bottom": "bottom"})])
    assert [(each.level, each.code) for each in check_design(unclear, KNOWLEDGE)] == [
        ("error", "joint-undecided"),
        ("note", "not-placed"),
    ]
    halves = [part(name, "board", 100, 50, 15) for name in ("a", "b", "c", "d")]
    joints = [
        joint(one + two, f"{two}/bottom", f"{one}/top", flush={"left": "left", "inside": "inside"}) for one, two in ("ab", "cd")
    ]
    (found,) = check_design(job(halves, joints), KNOWLEDGE)
    assert (found.code, found.what) == ("held-by-nothing", "No joint holds c and d to a.")


def test_a_joint_on_a_sloping_edge_is_a_note() -> None:
    sloped = part("a", "board", 100, 50, 15, feature("slope", "taper", edge="top", from_="left", amount=10))
    other = part("b", "board", 100, 50, 15)
    on_it = joint("ab", "b/bottom", "a/top", flush={"left": "left", "inside": "inside"})
    (found,) = check_design(job([sloped, other], [on_it]), KNOWLEDGE)
    assert (found.level, found.code, found.subject) == ("note", "not-square-there", "ab")
    assert "a/top is not square after slope" in found.what


def test_what_is_not_planned_is_said() -> None:
    assert format_only_findings(box()) == ()
    wide = with_part(box(), "end", together=("side",), together_until="corner-1", outlines_vary=True)
    wide = replace(wide, choices=(Choice("handle-length", 100, 140),))
    found = format_only_findings(wide)
    assert {each.code for each in found} == {"not-planned"}
    assert [each.subject for each in found] == ["end", "end", "handle-length"]
    assert "together with side until corner-1" in found[0].what
    assert "100 to 140 mm" in found[2].what


def test_the_same_job_gives_the_same_findings() -> None:
    damaged = replace(box(panel_long=3, end_extra=2))
    assert check_design(damaged, KNOWLEDGE) == check_design(damaged, KNOWLEDGE)


def test_every_error_says_what_to_do() -> None:
    damaged = [box(panel_long=3), two_rails(202), tenon_frame(tenon=29), cross(12, 10), screwed(40), top_on_rail(("glue",))]
    for each in (finding for one in damaged for finding in serious(one)):
        assert each.remedy.endswith(".")
        assert each.what.endswith(".")
        assert each.source


@pytest.mark.parametrize(
    ("distance", "level", "said"),
    [
        (0.0000001, "warning", "No wood is left between the groove and the bottom face."),
        (0.4, "error", "Only 0.4 mm of wood is left between the groove and the bottom face."),
        (83.7, "error", "Only 0.3 mm of wood is left between the groove and the top face."),
    ],
)
def test_a_groove_without_a_wall_beside_it_is_said(distance: float, level: str, said: str) -> None:
    groove = feature("run", "groove", face="inside", from_="bottom", distance=distance, width=6, depth=4)
    (found,) = [each for each in serious(job([part("side", "board", 320, 90, 15, groove)], [])) if each.code == "no-wall"]
    assert (found.level, found.subject, found.what) == (level, "side/run", said)
    assert found.remedy == "Leave 3 mm or more, 2 mm at the least, or write it as a rebate of that edge."


def test_a_wall_of_two_millimetres_is_let_pass_and_a_rebate_needs_one_on_its_far_side() -> None:
    def walls(kind: str, **fields: object) -> list[Finding]:
        made = job([part("side", "board", 320, 90, 15, feature("run", kind, depth=4, **fields))], [])
        return [each for each in serious(made) if each.code == "no-wall"]

    assert walls("groove", face="inside", from_="bottom", distance=2, width=6) == []
    assert walls("rebate", edge=("inside", "bottom"), width=80) == []
    (found,) = walls("groove", face="inside", from_="bottom", distance=1.5, width=6)
    assert found.what == "Only 1.5 mm of wood is left between the groove and the bottom face."
    (found,) = walls("rebate", edge=("inside", "bottom"), width=89.5)
    assert found.what == "Only 0.5 mm of wood is left between the rebate and the top face."
