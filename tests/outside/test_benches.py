"""Sanders, held drills and jigs against published rules, tolerances and plain geometry. mm, dB(A)."""

from __future__ import annotations

import re
from itertools import pairwise
from math import atan2, degrees

import pytest

from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.planning.jigs import jig_pieces
from tests.features.samples import make
from tests.made import knowledge, without_guard, workshop
from tests.outside.bench import against, board, possible

STATIONS = knowledge().stations
SERIES = (40, 50, 60, 80, 100, 120, 150, 180, 220, 240, 280, 320)
"""FEPA P grits in order; from memory, P150 to P240 also in a table of sizes read in a copy."""


# 29 CFR 1910.213(p)(4): belt sanders guarded at nip points and over the unused run. Read in a copy that restates it.
def test_a_belt_without_its_cover_over_nip_points_and_unused_run_is_not_used() -> None:
    corner = board(make("rounded-corner", name="corner", corners=["top/left"], radius=6), length=450)
    shop = workshop("well-equipped")
    assert possible(corner, "rail/corner", "round-corner-on-belt", shop)
    assert "belt cover" in against(corner, "rail/corner", "round-corner-on-belt", without_guard(shop, "belt-cover"))


# German state rules on school years: belt sander only with extraction, not in years 5 and 6. Read in a copy that quotes them.
def test_a_belt_without_extraction_is_not_used_and_nobody_is_alone_at_it() -> None:
    corner = board(make("rounded-corner", name="corner", corners=["top/left"], radius=6), length=450)
    bare = without_guard(workshop("well-equipped"), "dust-extraction")
    assert "dust extraction" in against(corner, "rail/corner", "round-corner-on-belt", bare)
    assert STATIONS["belt-sander"].who.supervision == "beside"


# Trade body: sanding machine without controls, 97 dB(A). Read in a copy that restates it.
@pytest.mark.parametrize("station", ["belt-sander", "bobbin-sander", "disc-sander"])
def test_a_sanding_machine_nobody_has_measured_counts_as_loud_as_published(station: str) -> None:
    noise = STATIONS[station].noise
    assert noise is not None
    assert noise.default == 97


# An abrasive maker's shop notes, 2009: at most one grit is skipped, stop at 180 to 220 under a finish. Read in a copy.
@pytest.mark.parametrize(
    "operation",
    [
        "sand-outside-by-orbital",
        "sand-inside-by-orbital",
        "level-joints-by-belt",
        "sand-outside-by-hand",
        "sand-inside-by-hand",
        "soften-edges-by-hand",
    ],
)
def test_no_two_grits_are_skipped_and_the_last_is_as_published(operation: str) -> None:
    done = next(station.operations[operation] for station in STATIONS.values() if operation in station.operations)
    for paper in {finish.sanded_to for finish in knowledge().finishes.values()}:
        request = Request({"finish.paper": paper}, done.use, grades=knowledge().abrasives)
        (papers,) = SETTINGS[done.settings].work(request)
        grits = [int(found) for found in re.findall(r"P(\d+)", papers.text)]
        assert grits[-1] == paper
        assert all(SERIES.index(finer) - SERIES.index(coarser) <= 2 for coarser, finer in pairwise(grits))
        assert 180 <= grits[-1] <= 220


# Community workshop rules, 2008: glued work waits 24 hours before a machine sands it. Read in a copy.
def test_glue_has_set_since_the_last_lesson_before_a_machine_sands_it() -> None:
    assert "Check that the glue has set since the last lesson." in (
        STATIONS["hand-held-sanders"].operations["sand-outside-by-orbital"].instructions.set
    )


# Scottish National 5 woodwork as taught: drilling position and sanding to a line within 1 mm. Read on a school's site.
@pytest.mark.parametrize(
    ("station", "operation", "what"),
    [
        ("mains-drill", "drill-hole-by-mains-drill", "place of the hole"),
        ("belt-sander", "trim-end-on-belt", "length"),
        ("bobbin-sander", "sand-curve-on-bobbin", "shape of the {name}"),
    ],
)
def test_what_is_drilled_or_sanded_to_a_line_is_within_a_millimetre(station: str, operation: str, what: str) -> None:
    check = next(each for each in STATIONS[station].operations[operation].checks if each.what == what)
    assert "1 mm" in check.limit


# A school's accident report: work spun round by a spindle sander. Read in a copy. A curve as tight as the bobbin is refused.
@pytest.mark.parametrize(("radius", "goes"), [(120.0, True), (19.0, False)])
def test_no_curve_is_as_tight_as_the_bobbin(radius: float, goes: bool) -> None:
    half = min(radius - 1, 70.0)
    points = [
        {"at": {"left": 225 - half, "top": 0}},
        {"arc_to": {"left": 225 + half, "top": 0}, "radius": radius, "turn": "left"},
    ]
    curve = board(make("outline", name="hollow", edge="top", points=points), length=450)
    assert possible(curve, "rail/hollow", "sand-curve-on-bobbin", workshop("well-equipped")) is goes


# Plain geometry, worked out here: fences square to each other close a frame's corner; each stands 45 degrees to the blade.
def test_the_fences_of_a_mitre_sled_stand_square_to_each_other() -> None:
    pieces = {piece.name: piece for piece in jig_pieces(knowledge().jigs["mitre-sled"], {"part.thickness": 18.0})}
    turns = []
    for name in ("fence", "other-fence"):
        _, (x1, y1), (x2, y2), _ = pieces[name].bodies[0].outline
        turns.append(degrees(atan2(y2 - y1, x2 - x1)) % 180)
        assert abs(turns[-1] % 90 - 45) < 0.01
    assert abs(abs(turns[0] - turns[1]) - 90) < 0.01


SLEDS = ("crosscut-sled", "mitre-sled")
BLADE = 400.0
"""Where the blade passes a sled as the list of jigs draws it, mm from its left side: midway between the runners."""


# 29 CFR 1910.213(d)(1), hood over the blade of a crosscut table saw (as restated in NIOSH 2004-101); Cal. Title 8
# s.4300.1(a)(2) and WAC 296-806-48012(4), at most 6.4 mm over the wood. Read in copies. A hood 100 mm wide is taken here.
@pytest.mark.parametrize("thick", [6.0, 12.0, 18.0, 40.0])
@pytest.mark.parametrize("name", SLEDS)
def test_a_crown_guard_6_mm_over_the_wood_clears_the_sled(name: str, thick: float) -> None:
    pieces = jig_pieces(knowledge().jigs[name], {"part.width": 60.0, "part.thickness": thick})
    base = next(piece for piece in pieces if piece.name == "base")
    guard = base.bodies[0].size[2] + thick + 6
    crossing = set()
    for piece in pieces:
        for body in piece.bodies:
            beside = [x for x, _ in body.outline] or [body.low[0], body.low[0] + body.size[0]]
            if min(beside) < BLADE + 50 and max(beside) > BLADE - 50:
                assert body.low[2] + body.size[2] <= guard, piece.name
                crossing.add(piece.name)
    assert {"base", "low-back", "front", "exit-block"} <= crossing


# HSE cross-cut saw page, 2019: no hand within 300 mm of the blade. Read in a copy. Common practice: no metal near its path.
@pytest.mark.parametrize("name", SLEDS)
def test_grips_and_clamps_of_a_sled_keep_clear_of_the_blade(name: str) -> None:
    pieces = {piece.name: piece for piece in jig_pieces(knowledge().jigs[name], {"part.width": 60.0, "part.thickness": 18.0})}
    for what, least in (("grip", 300), ("clamp-seat", 100)):
        assert len(pieces[what].bodies) == 2
        for body in pieces[what].bodies:
            assert min(abs(edge - BLADE) for edge in (body.low[0], body.low[0] + body.size[0])) >= least, what


# Common practice: what is cut on a sled is clamped to it, its end at a stop, and both hands are on the sled.
@pytest.mark.parametrize("name", ["crosscut-with-sled", "cut-apart-on-sled", "cut-mitre-on-sled"])
def test_what_is_cut_on_a_sled_is_held_by_no_hand(name: str) -> None:
    done = STATIONS["saw-bench"].operations[name]
    assert {"sled-clamp", "stop-block"} <= set(done.holding.all_of)
    assert {"crown-guard", "riving-knife"} <= set(done.guards.all_of)
    assert any("toggle clamp" in line for line in done.instructions.card)
    assert any("both hands on" in line.lower() for line in done.instructions.cut)


# Plain geometry, worked out here: a round of radius r touches flanks at 45 degrees r / sqrt 2 out from the middle of the V.
@pytest.mark.parametrize("across", [10.0, 25.0, 60.0])
def test_a_round_of_any_size_lies_on_both_flanks_of_its_v(across: float) -> None:
    (block,) = jig_pieces(knowledge().jigs["v-block"], {"part.width": across})
    left, foot, right = block.bodies[0].outline[3:6][::-1]
    assert right[0] - foot[0] == pytest.approx(foot[0] - left[0], abs=0.15)  # sizes are given to 0.1
    assert right[0] - foot[0] > across / 2 / 2**0.5
