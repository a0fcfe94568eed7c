"""Strips: which parts come out of one long piece, where each piece lies in it, and when the limits keep them apart."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import ceil
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.features.base import mm
from sequencer.features.groove import Groove
from sequencer.findings import Refused
from sequencer.model.job import Decision, Job, Part, Stock
from sequencer.model.plan import Plan
from sequencer.model.stock_lists import Strip
from sequencer.model.workshop import Workshop
from sequencer.planning.blanks import parting
from sequencer.planning.planner import make_plan
from sequencer.planning.steps import LEAVE_WHOLE
from sequencer.planning.strips import Wanted, lay_out, shared_blanks
from sequencer.planning.wide_boards import beside
from sequencer.proving.making import carry_out
from sequencer.proving.strips import cuts_apart
from tests.made import job, knowledge, making, plan, without_station_kind, workshop

WORKING = knowledge().working
FRAME = (Wanted("long-piece", 2, 246.0, 3.0), Wanted("short-piece", 2, 196.0, 3.0))


def test_four_sides_of_a_frame_with_a_kerf_of_3() -> None:
    """25 trim; 25 + 246 + 3 = 274; 274 + 246 + 3 = 523; 523 + 196 + 3 = 722; the last ends at 722 + 196 = 918."""
    places = lay_out(FRAME, 1, 25.0)
    assert [(each.part, each.number, each.start) for each in places] == [
        ("long-piece", 1, 25.0),
        ("long-piece", 2, 274.0),
        ("short-piece", 1, 523.0),
        ("short-piece", 2, 722.0),
    ]
    assert places[-1].stop == 918.0


def test_two_sets_lie_one_behind_the_other() -> None:
    """The second set begins a kerf behind the first: 918 + 3 = 921; it ends at 921 + 918 - 25 = 1814."""
    places = lay_out(FRAME, 2, 25.0)
    assert (places[4].part, places[4].number, places[4].start) == ("long-piece", 3, 921.0)
    assert places[-1].stop == 1814.0


def test_a_cut_aslant_is_longer_along_the_strip() -> None:
    """A kerf of 3 at 45 degrees is 3 / 0.707 = 4.24 along the strip: 5 in whole millimetres. At right angles it stays 3. The
    saw's own is taken where one is chosen: 6 / 0.707 = 8.49."""
    assert parting(job("picture-frame").parts["long-piece"], WORKING) == 5.0
    assert parting(job("herb-caddy").parts["side"], WORKING) == 3.0
    assert parting(job("picture-frame").parts["long-piece"], WORKING, 6.0) == 9.0
    assert parting(job("herb-caddy").parts["side"], WORKING, 2.8) == 2.8


def test_a_strip_is_no_longer_than_the_room_there_is() -> None:
    """With its mitres 25 + 2 x (246 + 5) + 2 x 196 + 5 + 25 = 949."""
    parts = [job("picture-frame").parts[name] for name in ("long-piece", "short-piece")]
    found = shared_blanks(parts, WORKING, 949.0, {})
    assert {name: (blank.length, blank.yields) for name, blank in found.items()} == {
        "long-piece": (949.0, 2),
        "short-piece": (949.0, 2),
    }
    assert shared_blanks(parts, WORKING, 948.9, {}) == {}


wanted = st.lists(
    st.builds(
        Wanted,
        st.sampled_from("abcdef"),
        st.integers(1, 6),
        st.floats(20, 900, allow_nan=False),
        st.floats(1, 8, allow_nan=False),
    ),
    min_size=1,
    max_size=5,
    unique_by=lambda each: each.part,
)


@given(wanted, st.integers(1, 4), st.floats(0, 60, allow_nan=False))
def test_pieces_never_overlap_and_every_cut_has_its_room(pieces: list[Wanted], sets: int, trim: float) -> None:
    places = lay_out(pieces, sets, trim)
    cuts = {each.part: each.cut for each in pieces}
    assert places[0].start == trim
    for before, after in pairwise(places):
        assert after.start - before.stop == pytest.approx(cuts[before.part])
    assert len(places) == sets * sum(each.count for each in pieces)
    assert len({(each.part, each.number) for each in places}) == len(places)
    # The sum by hand: everything but the last cut.
    whole = trim + sets * sum(each.count * (each.length + each.cut) for each in pieces) - cuts[places[-1].part]
    assert places[-1].stop == pytest.approx(whole)


@given(st.floats(400, 3000, allow_nan=False), st.integers(1, 3), st.floats(0, 200, allow_nan=False))
def test_a_strip_that_is_given_holds_all_its_pieces_within_its_room(room: float, sets: int, end: float) -> None:
    parts = [job("picture-frame").parts[name] for name in ("long-piece", "short-piece")]
    least = 25 + sets * (2 * 251 + 2 * 201) - 5 + max(end, 25)
    found = shared_blanks(parts, WORKING, room, {}, sets=sets, end=end)
    assert bool(found) == (least <= room)
    for blank in found.values():
        assert least <= blank.length <= room
        assert blank.waste == pytest.approx(blank.length - least + max(end, 25))


def frame(**lengths: tuple[float, ...]) -> Job:
    drawn = job("picture-frame")
    return replace(
        drawn, stock={name: replace(each, lengths=lengths.get(name, each.lengths)) for name, each in drawn.stock.items()}
    )


def strips(drawn: Job, where: Workshop | None = None) -> tuple[Strip, ...]:
    return make_plan(drawn, where or workshop(), knowledge()).strips


def bench_for(longest: float) -> Workshop:
    """The full workshop with less room to plough."""
    school = workshop()
    bench = school.stations["ploughing"]
    return replace(
        school, stations={**school.stations, "ploughing": replace(bench, figures={**bench.figures, "longest": longest})}
    )


def lengths(found: tuple[Strip, ...]) -> list[tuple[str, float]]:
    return [(strip.name, strip.length) for strip in found]


ONE = [("long-piece+short-piece", 949.0)]
TWO = [("long-piece", 547.0), ("short-piece", 447.0)]
"""25 + 246 + 5 + 246 + 25 and 25 + 196 + 5 + 196 + 25."""


def test_the_sides_of_the_frame_come_out_of_one_strip() -> None:
    (strip,) = plan("picture-frame").strips
    assert [(piece.called, piece.start) for piece in strip.pieces] == [("A 1", 25), ("A 2", 276), ("B 1", 527), ("B 2", 728)]
    assert (strip.length, strip.end, strip.count) == (949, 25, 27)


@pytest.mark.parametrize(("longest", "found"), [(949.0, ONE), (948.0, TWO), (547.0, TWO)])
def test_a_strip_too_long_for_the_bench_is_two(longest: float, found: list[tuple[str, float]]) -> None:
    assert lengths(strips(frame(), bench_for(longest))) == found


@pytest.mark.parametrize(("bought", "found"), [(949.0, ONE), (948.0, TWO)])
def test_a_strip_too_long_for_the_stock_is_two(bought: float, found: list[tuple[str, float]]) -> None:
    """Without the mitre saw, which does not cut off a blank that leaves too short a rest of such a board to hold."""
    assert lengths(strips(frame(strip=(bought,)), without_station_kind(workshop(), "mitre-saw"))) == found


def test_parts_of_another_profile_do_not_share() -> None:
    drawn = job("picture-frame")
    part = drawn.parts["short-piece"]
    deeper = replace(part.features["rebate"], depth=9.0)  # type: ignore[call-arg]
    other = replace(drawn, parts={**drawn.parts, "short-piece": replace(part, features={**part.features, "rebate": deeper})})
    assert lengths(strips(other)) == TWO


@cache
def apart() -> Plan:
    return make_plan(frame(), bench_for(948.0), knowledge())


def test_one_strip_saves_set_ups_and_is_marked_in_one_go() -> None:
    def steps(made: Plan, kind: str) -> list[tuple[str, ...]]:
        return [step.tasks for step in made.steps if step.tasks[0].endswith(kind)]

    assert steps(plan("picture-frame"), "rebate/cut") == [("long-piece/rebate/cut", "short-piece/rebate/cut")]
    assert len(steps(apart(), "rebate/cut")) == 2
    assert len(steps(plan("picture-frame"), "piece/mark-out/mark")) == 1
    assert len(plan("picture-frame").steps) == len(apart().steps) - 3


def test_all_that_is_done_on_the_whole_strip_comes_before_the_first_piece_is_cut_off() -> None:
    reasons = {(each.before, each.after): each for each in plan("picture-frame").reasons}
    assert reasons["short-piece/rebate/cut", "long-piece/left-mitre/cut"].sentence == (
        "The long piece and short piece are one stick until they are cut apart: first all that is done on the whole of it."
    )
    place = {task.id: number for number, task in enumerate(plan("picture-frame").tasks)}
    whole = [name for name in place if name.endswith(("rebate/cut", "piece/mark-out/mark"))]
    mitres = [name for name in place if name.endswith("mitre/cut")]
    assert max(place[name] for name in whole) < min(place[name] for name in mitres)
    assert not any((r.before, r.after) == ("short-piece/rebate/cut", "long-piece/left-mitre/cut") for r in apart().reasons)


def test_blanks_of_a_strip_name_it() -> None:
    named = {blank.part: (blank.strip, blank.length) for blank in plan("picture-frame").blanks}
    assert named["long-piece"] == named["short-piece"] == ("long-piece+short-piece", 949)
    assert named["backing"][0] == ""


@cache
def grooved_by_staff(longest: float = 2400.0, apart: str = "mitre-saw") -> tuple[Plan, Job]:
    """The caddy's sides grooved on the saw bench and cut to length at a station."""
    asked = (
        Decision("side/floor-groove", "Technician", "for this check", way="groove-on-saw"),
        Decision("side/first-end", "Technician", "for this check", station=apart),
        Decision("side/length", "Technician", "for this check", station=apart),
    )
    drawn, school = replace(job("herb-caddy"), decisions=asked), workshop()
    bench = school.stations["saw-bench"]
    bench = replace(bench, figures={**bench.figures, "longest": longest})
    return make_plan(drawn, replace(school, stations={**school.stations, "saw-bench": bench}), knowledge()), drawn


def test_what_staff_do_is_laid_out_for_several_students() -> None:
    """Two sides of 320 a student. For three: 25 + 6 x 320 + 5 x 2.8 + 150 to hold at the mitre saw = 2109. A fourth student's
    would make 2754.6, and the saw bench has room for 2400, as long as the boards are. 54 sides with spares are nine strips."""
    made, drawn = grooved_by_staff()
    (strip,) = made.strips
    assert (strip.length, strip.sets, len(strip.pieces), strip.count, strip.end) == (2109, 3, 6, 9, 150)
    assert strip.why.endswith("It holds the parts of 3 students.")
    assert carry_out(made, drawn).proof.held


@pytest.mark.parametrize(("longest", "sets", "length"), [(2109.0, 3, 2109), (2108.0, 2, 1464), (1463.0, 1, 818)])
def test_as_many_students_as_the_station_has_room_for(longest: float, sets: int, length: float) -> None:
    """25 + 4 x 320 + 3 x 2.8 + 150 = 1463.4 for two, in whole millimetres 1464. For one 25 + 2 x 320 + 2.8 + 150 = 817.8."""
    (strip,) = grooved_by_staff(longest)[0].strips
    assert (strip.sets, strip.length) == (sets, length)


def test_a_strip_that_students_cut_apart_is_one_students() -> None:
    (strip,) = grooved_by_staff(apart="hand-sawing")[0].strips
    assert (strip.sets, len(strip.pieces)) == (1, 2)


def test_a_class_strip_is_marked_by_staff_and_the_setting_is_tried_on_a_piece_that_can_be_held() -> None:
    made, _ = grooved_by_staff()
    who = {task.id: task.who.operator for task in made.tasks if task.kind == "face-marks"}
    assert who.pop("side/face-marks/mark") == "staff"
    assert set(who.values()) == {"student"}
    marked = [step for step in made.steps if "side/face-marks/mark" in step.tasks]
    assert [(step.card, step.tasks) for step in marked] == [("staff", ("side/face-marks/mark",))]
    # The saw bench asks 300 mm of any piece.
    assert made.strips[0].trial == 300
    # The rebate plane asks 150.
    assert plan("picture-frame").strips[0].trial == 150
    # Nothing runs along the stick that the splines are sawn off.
    assert strip_of(plan(SPLINES), "spline").trial == 0


def test_the_card_says_for_how_many_pieces_a_strip_is_cut() -> None:
    def notes(made: Plan) -> list[str]:
        return [note for step in made.steps for note in step.notes if note.startswith("Cut one strip") and step.kind == "work"]

    assert notes(plan("picture-frame")) == ["Cut one strip for 2 of A and 2 of B."]
    assert notes(grooved_by_staff()[0]) == ["Cut one strip for 6 of A."]
    assert notes(plan("herb-caddy")) == []


def blocks(sawn_at: str = "mitre-saw", **figures: float) -> tuple[Plan, Job]:
    """Short grooved blocks that are cut apart at a station whose kerf is another."""
    block = Part(
        "block",
        "A",
        12,
        "board",
        55.0,
        60.0,
        18.0,
        {"groove": Groove(name="groove", face="inside", from_="bottom", distance=20.0, width=6.0, depth=5.0)},
        face_side="inside",
        face_edge="bottom",
    )
    board = Stock("board", "radiata pine", "board", 60.0, 18.0, (2400.0,), surface="planed", hardness="softwood")
    asked = (
        Decision("block/groove", "Technician", "for this check", way="rout-groove"),
        Decision("block/first-end", "Technician", "for this check", station=sawn_at),
        Decision("block/length", "Technician", "for this check", station=sawn_at),
    )
    drawn = Job("Blocks", {}, {"board": board}, {"block": block}, {}, decisions=asked)
    school = workshop()
    saw = school.stations[sawn_at]
    saw = replace(saw, figures={**saw.figures, **figures})
    return make_plan(drawn, replace(school, stations={**school.stations, sawn_at: saw}), knowledge()), drawn


@pytest.mark.parametrize(
    ("saw", "figures", "room"),
    [
        ("mitre-saw", {"kerf": 6.0}, 6.0),
        ("mitre-saw", {"kerf": 1.8}, 1.8),
        ("mitre-saw", {}, 2.8),
        # Sawn by hand, the ends are trued: 2 mm besides what the saw takes, which is 1 where nobody says more.
        ("hand-sawing", {}, 3.0),
        ("hand-sawing", {"kerf": 1.6}, 3.6),
    ],
)
def test_between_two_pieces_lies_what_the_saw_takes_that_cuts_them_apart(
    saw: str, figures: dict[str, float], room: float
) -> None:
    """12 pieces, and the last of them still ends before what is kept."""
    made, drawn = blocks(saw, **figures)
    (strip,) = made.strips
    assert {round(after.start - before.stop, 6) for before, after in pairwise(strip.pieces)} == {room}
    assert strip.pieces[0].start == 25
    assert strip.length == ceil(25 + 12 * 55 * strip.sets + (12 * strip.sets - 1) * room + strip.end - 1e-6)
    assert carry_out(made, drawn).proof.held


def test_a_wider_kerf_leaves_room_for_fewer_students() -> None:
    """Twelve blocks take 12 x 55 and their kerfs; router table and boards leave room for one strip of so many."""
    narrow, wide = (blocks(kerf=kerf)[0].strips[0] for kerf in (1.8, 30.0))
    assert (narrow.sets, wide.sets) == (2, 1)


SPLINES = "tests/assemblies/splined-frame.yaml"


def splines(**figures: float) -> Plan:
    """The splined frame where the saws at the bench have other figures."""
    school = workshop()
    bench = school.stations["hand-sawing"]
    bench = replace(bench, figures={**bench.figures, **figures}, by="Head of technology", why="tried with our hooks")
    return make_plan(job(SPLINES), replace(school, stations={**school.stations, "hand-sawing": bench}), knowledge())


def strip_of(made: Plan, name: str) -> Strip:
    (found,) = (strip for strip in made.strips if strip.name == name)
    return found


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_pieces_too_small_for_every_station_come_out_of_one_strip(shop: str) -> None:
    """Four splines of 30: 25 + 4 x 30 + 3 x 3, and 101 stay behind: a kerf, and a hand's width to hold."""
    made = plan(SPLINES, shop)
    strip = strip_of(made, "spline")
    assert [piece.start for piece in strip.pieces] == [25, 58, 91, 124]
    assert (strip.length, strip.end, strip.count) == (255, 101, 27)
    worked = {task.kind: task.piece for task in made.tasks if task.part == "spline" and task.in_the_long}
    # Sheet is sawn 5 mm over width.
    assert worked == {"width": (255, 35, 4), "first-end": (255, 30, 4), "separate": (255, 30, 4)}
    assert making(SPLINES, shop).proof.held


def test_a_strip_says_what_speaks_against_a_blank_by_itself() -> None:
    assert strip_of(plan(SPLINES), "spline").why == (
        "A single blank is too small. The piece is too short to cramp under the batten: length of the piece as it is "
        "worked is 55 mm, at least 100 mm is needed. So the piece is brought to size whole; the pieces are cut apart after that."
    )


@pytest.mark.parametrize(("shortest", "length"), [(90.0, 245), (100.0, 255), (120.0, 275)])
def test_the_end_that_is_held_is_as_long_as_the_saw_asks(shortest: float, length: float) -> None:
    """The splines without the last kerf: 25 + 4 x 30 + 3 x 3 = 154; then a kerf and a piece as long as is asked."""
    assert strip_of(splines(shortest=shortest), "spline").length == length


def test_a_piece_that_can_be_worked_by_itself_is_no_strip() -> None:
    """A spline of 30 is held itself while its blank is cut to length."""
    assert [strip.name for strip in splines(shortest=30.0).strips] == ["long-piece+short-piece"]


def test_where_a_strip_does_not_help_either_the_refusal_is_that_of_the_piece_by_itself() -> None:
    """A sheet 99 long gives no piece of the 100 that the vice asks for."""
    drawn = job(SPLINES)
    sheet = replace(drawn.stock["spline-sheet"], lengths=(99.0,))
    with pytest.raises(Refused) as refused:
        make_plan(replace(drawn, stock={**drawn.stock, "spline-sheet": sheet}), workshop(), knowledge())
    said = [each for each in refused.value.findings if each.code == "no-way"]
    assert {each.subject for each in said} >= {"spline/length/cut"}
    assert all("length of the piece as it is worked is 55 mm, at least 100 mm is needed" in each.what for each in said[:1])


def test_the_blank_and_the_last_cut_say_what_the_strip_is_for() -> None:
    steps = {step.tasks: step for step in plan(SPLINES).steps if step.kind == "work"}
    notes = {tasks: step.notes for tasks, step in steps.items()}
    # A student reads it before all else, staff in a note.
    assert steps["spline/rough-length/cut",].instructions[0] == "Cut one strip for 4 of C."
    assert notes["spline/rough-length/cut",] == ()
    assert notes["spline/width/cut",] == ("Use the long piece, about 255 mm.",)
    assert notes["spline/first-end/square", "spline/length/cut"] == ("Cut it off the end of the long piece, about 255 mm.",)


@pytest.mark.parametrize("name", ["picture-frame", SPLINES, "tests/assemblies/turned-peg.yaml"])
@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_a_card_says_first_not_to_cut_the_stick_up_until_the_step_that_does(name: str, shop: str) -> None:
    made = plan(name, shop)
    tasks = {task.id: task for task in made.tasks}
    sticks = {blank.part: blank.strip or blank.part for blank in made.blanks}
    apart: set[str] = set()
    told = 0
    for step in made.steps:
        own = [tasks[task] for task in step.tasks]
        cut = {sticks[task.part] for task in own if task.part and cuts_apart(task)}
        whole = all(task.in_the_long and sticks[task.part] not in apart | cut for task in own)
        said = [number for number, line in enumerate(step.instructions) if line == LEAVE_WHOLE]
        if whole and step.card == "student":
            assert said == [0], step.id
            told += 1
        elif cut or {sticks.get(task.part) for task in own} & apart or step.card == "staff":
            assert not said, step.id
        apart |= cut
    assert told


def test_marking_out_leaves_the_stick_whole_and_a_blank_by_itself_is_no_stick() -> None:
    steps = {step.id: step for step in plan("picture-frame").steps if step.kind == "work"}
    marked = steps["long-piece/mark-out/mark"]
    assert marked.instructions[0] == LEAVE_WHOLE
    assert not any("Lay all pieces" in line for line in (*marked.instructions, *marked.method))
    assert steps["long-piece/face-marks/mark"].instructions[0] == LEAVE_WHOLE
    leg = next(step for step in plan("step-stool").steps if "leg/mark-out/mark" in step.tasks)
    assert leg.instructions[0] == "Lay all pieces of A together, ends level."
    assert not any(LEAVE_WHOLE in step.instructions for step in plan("herb-caddy").steps)


@pytest.mark.parametrize("name", ["picture-frame", "herb-caddy"])
def test_what_staff_are_shown_of_a_test_is_made_on_waste_that_is_laid_out(name: str) -> None:
    """The planes ask 150 mm of any piece; the waste is of the section that is worked."""
    shown = [step for step in plan(name, "hand-tools").steps if "Show the test" in step.stop]
    assert shown
    for step in shown:
        task = next(task for task in plan(name, "hand-tools").tasks if task.id == step.tasks[0])
        assert task.piece is not None
        lines = [number for number, line in enumerate(step.instructions) if "the piece of waste first." in line]
        # The test is made once the plane is set, before the piece itself is begun.
        assert len(lines) == 1
        assert step.instructions[lines[0] - 1].startswith("Set ")
        assert lines[0] + 1 < len(step.instructions)
        waste = [tool for tool in step.tools if tool.startswith("piece of waste")]
        assert f"piece of waste, {mm(task.piece[1])} x {mm(task.piece[2])} mm, at least 150 mm long" in waste
        # Each student cuts a test of their own, however few planes there are.
        counted = {thing.name: thing.total for thing in plan(name, "hand-tools").tools}
        assert [counted[tool] for tool in waste] == [workshop("hand-tools").students] * len(waste)


PEG = "tests/assemblies/turned-peg.yaml"


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_a_peg_too_short_to_plane_round_is_planed_on_a_longer_stick_and_cut_off_last(shop: str) -> None:
    """25 trim, 60 of peg, a kerf of 1, and 100 to hold."""
    made = plan(PEG, shop)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    assert place["peg/shape/cut"] < place["peg/first-end/square"] < place["peg/length/cut"]
    assert "peg/mark-out/mark" not in place
    own = {task.id: task for task in made.tasks if task.part == "peg"}
    assert own["peg/shape/cut"].piece == (186, 12, 12)
    assert own["peg/shape/cut"].in_the_long
    assert {own[f"peg/{kind}"].operation for kind in ("first-end/square", "length/cut")} == {"saw-round-stock"}
    (blank,) = (blank for blank in made.blanks if blank.part == "peg")
    assert (blank.length, blank.yields, blank.pieces) == (186, 1, 27)
    assert blank.why == "long enough to be worked, with an end to hold: the part is cut off it after"
    assert making(PEG, shop).proof.held


def test_the_cradle_is_as_long_as_the_stick_that_lies_in_it() -> None:
    (cradle,) = (jig for jig in plan(PEG).jigs if jig.name == "cradle")
    assert cradle.pieces[0].length == 186 + 20


def test_a_peg_long_enough_is_planed_round_by_itself() -> None:
    drawn = job(PEG)
    longer = replace(drawn, parts={**drawn.parts, "peg": replace(drawn.parts["peg"], length=100.0)})
    made = make_plan(longer, workshop(), knowledge())
    assert [task.in_the_long for task in made.tasks if task.id == "peg/shape/cut"] == [False]


HOOK, TABOURET = "tests/cases/s01-bench-hook.yaml", "tests/cases/s08-keyed-tabouret.yaml"


@pytest.mark.parametrize("shop", ["full", "well-equipped", "hand-tools"])
def test_the_blocks_of_the_bench_hook_are_ripped_planed_and_squared_once(shop: str) -> None:
    """Foster, Carpentry and Woodwork, fig. 90: one strip, planed once, cut into two. 25 + 2 x 150.8 + 3 + 25, rounded up."""
    made = plan(HOOK, shop)
    strip = strip_of(made, "block")
    assert (strip.length, len(strip.pieces), strip.count) == (355, 2, 27)
    own = {task.kind: task for task in made.tasks if task.part == "block"}
    assert (own["width"].piece, own["separate"].piece) == (
        (355, pytest.approx(254), pytest.approx(22.225)),
        (355, pytest.approx(44.45), pytest.approx(22.225)),
    )
    place = {task.kind: number for number, task in enumerate(made.tasks) if task.part == "block"}
    assert place["width"] < place["first-end"] < place["separate"] < place["mark-out"] < place["screw-holes"]
    assert making(HOOK, shop).proof.held


def test_four_keys_come_out_of_one_strip_with_an_end_to_hold() -> None:
    """25 + 4 x 63.5 + 3 x 3, and behind the last a kerf and 100 to hold."""
    made = plan(TABOURET)
    strip = strip_of(made, "key")
    assert (strip.length, [piece.start for piece in strip.pieces]) == (389, [25, 91.5, 158, 224.5])
    assert strip.why == (
        "A single blank is too small. The piece is too short to hold on the bench hook clear of the saw: length left to hold "
        "beside a cut to length is 76.2 mm, at least 100 mm is needed. So the piece is brought to size whole; the "
        "pieces are cut apart after that."
    )
    assert making(TABOURET).proof.held


def test_a_strip_that_only_saves_work_says_how_much() -> None:
    """A part of 125 is held itself while it is sawn off; four together save three first ends, blanks and face marks."""
    strip = strip_of(tabouret(count=4, length=125.0), "key")
    assert strip.why == (
        "Worked one by one, the 4 pieces take 31.5 minutes more. So the piece is brought to size whole; the pieces are cut apart "
        "after that."
    )


def test_bench_work_on_a_whole_strip_takes_its_time_once() -> None:
    """By the piece a first end takes 4 minutes, a blank 5 and face marks 1 1/2; cutting off takes each of the four its 4."""
    took = {step.tasks: step.minutes for step in plan(TABOURET).steps if step.kind == "work" and step.tasks[0].startswith("key/")}
    assert took["key/rough-length/cut",] == 5
    assert took["key/face-marks/mark",] == 1.5
    assert took["key/first-end/square", "key/length/cut"] == 4 + 4 * 4


def test_a_rebate_along_a_shared_strip_takes_its_time_once_and_each_mitre_its_own() -> None:
    """12 minutes for what is 600 long, and the strip is 949: 18.98. Its four pieces have two mitres each, of 8 minutes. Marking
    out, piece by piece, takes 8 for each of the four."""
    took = {step.tasks: step.minutes for step in plan("picture-frame").steps if step.kind == "work"}
    assert took["long-piece/rebate/cut", "short-piece/rebate/cut"] == pytest.approx(12 * 949 / 600)
    assert sum(minutes for tasks, minutes in took.items() if tasks[0].endswith("mitre/cut")) == 8 * 8
    assert took["long-piece/mark-out/mark", "short-piece/mark-out/mark"] == 4 * 8


def tabouret(decisions: tuple[Decision, ...] = (), longest: float = 2400.0, **changed: Any) -> Plan:
    """The keys of the tabouret alone, or others, of stock so long."""
    drawn = job(TABOURET)
    key = replace(drawn.parts["key"], **changed)
    wide = {name: replace(stock, width=max(stock.width, key.width), lengths=(longest,)) for name, stock in drawn.stock.items()}
    alone = replace(
        drawn,
        stock=wide,
        parts={"key": replace(key, features={})},
        joints={},
        overall={},
        hardware={},
        decisions=decisions,
        finish=(),
    )
    return make_plan(alone, workshop(), knowledge())


@pytest.mark.parametrize(
    ("changed", "strips"),
    [
        ({}, 1),
        ({"count": 1, "length": 125.0}, 0),
        # 175 and 25 over length are 200; longer pieces have room for vice and both hands.
        ({"count": 2, "length": 175.0}, 1),
        ({"count": 2, "length": 176.0}, 0),
        # Half as wide as long is a stick.
        ({"count": 3, "length": 110.0, "width": 54.9}, 1),
        ({"count": 3, "length": 110.0, "width": 55.1}, 0),
        # 25 + 4 x 128 - 3 + 25 = 559; five would be 687, and 600 is enough at the bench.
        ({"count": 4, "length": 125.0}, 1),
        ({"count": 5, "length": 125.0}, 0),
        ({"count": 4, "length": 125.0, "longest": 558.0}, 0),
        ({"count": 4, "length": 125.0, "grain": "y"}, 0),
    ],
)
def test_only_alike_short_sticks_that_one_strip_gives_are_worked_in_one(changed: dict[str, Any], strips: int) -> None:
    assert len(tabouret(**changed).strips) == strips


def test_a_decision_about_a_blank_stays() -> None:
    asked = Decision("key/first-end", "Technician", "for this check", station="hand-sawing")
    assert tabouret((asked,), count=4, length=125.0).strips == ()


def test_a_board_that_several_pieces_lie_beside_each_other_in_is_told() -> None:
    """Sawn by hand (254 + 1) / (44.45 + 5 + 1) = 5.05; the base, 196.85 wide, lies in it once. The note and the steps say one
    thing."""
    made = plan(HOOK)
    found = {each.subject: each for each in made.findings if each.code == "stock-wide"}
    assert found.keys() == {"block"}
    (step,) = (each for each in made.steps if each.kind == "work" and "block/width/cut" in each.tasks)
    assert (step.who.operator, step.station) == ("student", "hand-sawing")
    assert found["block"].what == (
        f"The block is 44.4 mm wide and its stock board 254 mm: at step {step.number} students bring each blank to width at "
        f"{step.station_title}. 5 such pieces lie beside each other in the board, with 5 mm over on each and 1 mm between them "
        "for the saw, and one is planned for."
    )
    assert "strips 50 mm wide" in found["block"].remedy


def test_a_wider_kerf_leaves_room_for_fewer_beside_each_other() -> None:
    """(254 + 3.2) / (49.45 + 3.2) = 4.9; just as wide as five and their four kerfs it gives five."""
    assert (beside(254.0, 49.45, 1.0), beside(254.0, 49.45, 3.2)) == (5, 4)
    assert beside(5 * 49.45 + 4 * 3.2, 49.45, 3.2) == 5


def test_where_staff_rip_the_board_the_note_says_so() -> None:
    asked = Decision("block/width", "Technician", "for this check", way="rip-on-band-saw")
    made = make_plan(replace(job(HOOK), decisions=(asked,)), workshop(), knowledge())
    (found,) = (each for each in made.findings if each.code == "stock-wide")
    (step,) = (each for each in made.steps if each.kind == "work" and "block/width/cut" in each.tasks)
    assert f"at step {step.number} staff bring each blank to width at {step.station_title}. 5 such pieces" in found.what
    assert "1.2 mm between them for the saw" in found.what


def test_a_board_that_gives_two_beside_each_other_is_not_told() -> None:
    """A stretcher of 69.85 and 5 more lies once in 127, a key's strip fills its stock."""
    assert [each for each in plan(TABOURET).findings if each.code == "stock-wide"] == []
