"""Different small parts of one section on one stick: cut there at their own places, and sawn off it last."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Job
from sequencer.model.plan import Plan, Task
from sequencer.model.stock_lists import StripPiece
from sequencer.paper.drawing import picture
from sequencer.paper.job_card import ROOMS
from sequencer.paper.pictured import Pictured
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

HOLE = "hole: {kind: hole, face: inside, at: {left: 15, top: 10}, diameter: 6}"
TRENCH = "trench: {kind: housing, face: inside, from: left, distance: 25, width: 12, depth: 6}"
FURROW = "furrow: {kind: groove, face: outside, from: bottom, distance: 12, width: 6, depth: 5}"


def drawn(folder: Path, block: str = HOLE, stop: str = TRENCH, *, first: str = "", second: str = "") -> Job:
    """Two blocks 45 mm long and a stop of 60, of one board."""
    file = folder / "job.yaml"
    file.write_text(
        f"""format: 1
job: Small parts
stock:
  stick: {{material: European beech, hardness: hardwood, form: board, width: 40, thickness: 20, lengths: [2000], surface: planed}}
parts:
  block: {{count: 2, stock: stick, length: 45, {first} features: {{{block}}}}}
  stop: {{stock: stick, length: 60, {second} features: {{{stop}}}}}
""",
        encoding="utf-8",
    )
    return read_job(file)[0]


def planned(job: Job, shop: str = "well-equipped") -> Plan:
    return make_plan(job, workshop(shop), knowledge())


def failures(plan: Plan, job: Job) -> list[str]:
    return [look.says for look in carry_out(plan, job).proof.failures]


def test_two_kinds_of_small_part_lie_on_one_stick_with_room_for_the_saw_and_an_end_to_hold(tmp_path: Path) -> None:
    """25 to square the end, 45, 10, 45, 10, 60, a kerf of 1 and 100 to hold (common practice: a hand's width): 296."""
    job = drawn(tmp_path)
    plan = planned(job)
    (strip,) = plan.strips
    assert strip.name == "block+stop"
    assert [(piece.called, piece.start) for piece in strip.pieces] == [("A 1", 25), ("A 2", 80), ("B 1", 135)]
    assert (strip.length, strip.count, strip.sets) == (296, 27, 1)
    assert strip.why.startswith("By themselves A and B are too short to be held for their cuts; ")
    assert [(blank.strip, blank.yields) for blank in plan.blanks] == [("block+stop", 2), ("block+stop", 1)]
    assert plan.blanks[0].why == "out of one stick with B, too short to be held by themselves: they are cut apart last"
    assert not [each for each in plan.findings if each.code == "stick-each"]
    assert failures(plan, job) == []


def test_all_is_marked_and_cut_on_the_stick_before_any_part_is_sawn_off(tmp_path: Path) -> None:
    plan = planned(drawn(tmp_path))
    place = {task.id: number for number, task in enumerate(plan.tasks)}
    assert [task.id for task in plan.tasks if task.part][-2:] == ["block/length/cut", "stop/length/cut"]
    for first in ("block/hole/cut", "stop/trench/cut", "block/mark-out/mark", "stop/mark-out/mark"):
        assert place[first] < place["block/length/cut"]
    steps = {task: step for step in plan.steps if step.kind == "work" for task in step.tasks}
    assert steps["block/mark-out/mark"] is steps["stop/mark-out/mark"]
    assert steps["block/length/cut"] is steps["stop/length/cut"]
    assert "Draw face marks, letter and number on each part." in steps["stop/mark-out/mark"].instructions
    assert steps["stop/length/cut"].instructions[-1] == "Saw the new end square at the next line each time."


@pytest.mark.parametrize(
    ("given", "why"),
    [
        ({"first": "handed: true,"}, "left and right ones are measured from different ends"),
        ({"second": "marks: {face_side: outside, face_edge: bottom},"}, "one stick has one face side"),
        ({"second": "width: 35,"}, "one stick has one section"),
        ({"stop": f"{TRENCH}, {FURROW}"}, "a furrow along the stick would be in both"),
        ({"block": f"{HOLE}, {FURROW}", "stop": f"{TRENCH}, {FURROW.replace('12', '14')}"}, "the furrows are not alike"),
    ],
)
def test_parts_that_one_stick_cannot_give_have_their_own(given: dict[str, str], why: str, tmp_path: Path) -> None:
    job = drawn(tmp_path, **given)
    plan = planned(job)
    assert [blank.strip for blank in plan.blanks] == ["", ""], why
    assert failures(plan, job) == []


def test_what_runs_alike_along_both_is_cut_once(tmp_path: Path) -> None:
    job = drawn(tmp_path, f"{HOLE}, {FURROW}", f"{TRENCH}, {FURROW}")
    plan = planned(job)
    assert [strip.name for strip in plan.strips] == ["block+stop"]
    place = {task.id: number for number, task in enumerate(plan.tasks)}
    assert max(place["block/furrow/cut"], place["stop/furrow/cut"]) < place["block/length/cut"]
    assert failures(plan, job) == []


@pytest.mark.parametrize(("count", "shared"), [(7, True), (8, False)])
def test_a_stick_is_no_longer_than_is_handy_at_the_bench(count: int, shared: bool, tmp_path: Path) -> None:
    """25 + 2 x 55 + 7 x 41 + 6 x 10 + 101 = 583; an eighth stop makes 634, and 600 are handy."""
    job = drawn(tmp_path)
    stop = replace(job.parts["stop"], count=count, length=41.0)
    job = replace(job, parts={**job.parts, "stop": stop})
    plan = planned(job)
    assert ("block+stop" in [strip.name for strip in plan.strips]) == shared
    assert failures(plan, job) == []


def laid(plan: Plan, **starts: float) -> Plan:
    """The plan with some pieces elsewhere on its stick."""
    (strip,) = plan.strips

    def moved(piece: StripPiece) -> StripPiece:
        return replace(piece, start=starts.get(piece.called.replace(" ", ""), piece.start))

    return replace(plan, strips=(replace(strip, pieces=tuple(map(moved, strip.pieces))),))


def test_the_proof_notices_two_parts_with_no_room_between_them_for_two_saw_cuts(tmp_path: Path) -> None:
    job = drawn(tmp_path)
    plan = planned(job)
    assert failures(laid(plan, A2=72.0), job) == ["2 mm are left between two parts, where the saw takes 1 mm twice"]
    assert failures(laid(plan, A2=73.0), job) == []


def test_the_proof_notices_a_cut_that_runs_into_the_next_part(tmp_path: Path) -> None:
    """A trench of 25 + 47 ends 12 behind a part of 60, and the next begins 10 behind it."""
    job = drawn(tmp_path)
    plan = planned(job)

    def wide(task: Task) -> Task:
        if task.id != "stop/trench/cut":
            return task
        changed = (replace(each, value=47.0) if each.name == "width" else each for each in task.settings)
        return replace(task, settings=tuple(changed))

    says = failures(replace(plan, tasks=tuple(map(wide, plan.tasks))), job)
    assert "the cut runs 12 mm beyond its part on the stick, and the next part lies 10 mm off" in says


def texts(svg: str, kind: str) -> list[str]:
    return re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', svg)


def test_the_card_frames_the_part_that_is_cut_and_measures_from_its_own_line(tmp_path: Path) -> None:
    job = drawn(tmp_path)
    plan = planned(job)
    given = Pictured(plan, job, carry_out(plan, job))
    drawn_at = {}
    for step in plan.steps:
        if step.kind == "work" and step.id in given.sticks:
            drawn_at |= {task: picture(step, given, *ROOMS["beside"]) for task in step.tasks}
    trench, hole, apart = (drawn_at[name].svg for name in ("stop/trench/cut", "block/hole/cut", "block/length/cut"))
    for svg, framed, named in ((trench, 1, "B 1"), (hole, 2, "A 1 and A 2"), (apart, 0, "")):
        assert texts(svg, "piece") == ["A 1", "A 2", "B 1"]
        assert svg.count('class="here"') == framed
        assert not named or named in texts(svg, "caption")
    # The stop begins 2 x (45 + 10) behind the squared end, and its trench is 25 from its own line.
    assert {"110 to B 1", "25", "12"} <= {*texts(trench, "size")}
    assert not [words for words in texts(hole, "size") if " to " in words]


def test_a_stick_of_one_part_frames_nothing(tmp_path: Path) -> None:
    """The stop is long enough by itself, so the two blocks have their stick alone."""
    job = drawn(tmp_path)
    job = replace(job, parts={**job.parts, "stop": replace(job.parts["stop"], length=160.0)})
    plan = planned(job)
    given = Pictured(plan, job, carry_out(plan, job))
    assert given.sticks
    assert all(not stick.here for stick in given.sticks.values())
