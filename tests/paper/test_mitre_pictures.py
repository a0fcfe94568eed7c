"""Pictures of mitres: which end is the left one, the row that is rolled up, and blocks and cramps round a frame or box."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sequencer.model.job import Decision
from sequencer.model.plan import Step
from sequencer.paper.pictured import Pictured, Shown
from sequencer.paper.scene import Scene, Thing
from sequencer.paper.step_pictures import shown as scenes
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.reading.job import read_job
from sequencer.solid.solids import Solid, box
from tests.made import ROOT, job, knowledge, making, plan, workshop

FRAME, BOX = "picture-frame", "tests/assemblies/splined-box.yaml"


@cache
def pictured(name: str) -> Pictured:
    return Pictured(plan(name), job(name), making(name))


def shown(given: Pictured, task: str) -> tuple[Shown, ...]:
    return scenes(step_of(given, task), given)


def step_of(given: Pictured, task: str) -> Step:
    return next(each for each in given.plan.steps if task in each.tasks and each.kind == "work")


def named(scene: Scene, name: str) -> list[Thing]:
    return [each for each in scene.things if each.name == name]


@pytest.mark.parametrize(
    ("name", "task", "faces", "sizes"),
    [
        (FRAME, "long-piece/left-mitre/cut", "front face", ["246", "196"]),
        (BOX, "front/left-mitre/cut", "top edge", ["220", "150"]),
    ],
)
def test_each_mitred_part_is_seen_square_on_with_its_left_and_right_end(
    name: str, task: str, faces: str, sizes: list[str]
) -> None:
    """Of the drawings: 246 and 196 long with mitres across 30; 220 and 150 with mitres through 12."""
    first, second, *cuts = shown(pictured(name), task)
    assert [each.caption for each in (first, second)] == [f"A, seen on its {faces}", f"B, seen on its {faces}"]
    for each, length in zip((first, second), sizes, strict=True):
        (size,) = each.scene.sizes
        assert (size.label, size.stop.x - size.start.x) == (length, pytest.approx(float(length)))
        # It stands at the long side.
        (wood,) = (thing.solid for thing in each.scene.things)
        cut = wood & _slab(size.start.z - size.away.z * 0.5)
        assert cut.bounds.size("x") > float(length) - 2
        left, right = each.scene.arrows
        assert (left.label, right.label) == ("left", "right")
        # Each points inwards at its own end.
        middle = (left.stop.x + right.stop.x) / 2
        assert left.start.x < left.stop.x < middle < right.stop.x < right.start.x
    assert [each.caption for each in cuts] == ["left mitre", "right mitre"]


def test_a_box_is_shown_as_a_taped_row_turned_over_and_rolled_up() -> None:
    given = pictured(BOX)
    row, over, rolled = shown(given, "box/dry-fit/try")
    letters = [each.letter for each in sorted((each for each in row.scene.things if each.letter), key=_left)]
    assert letters == ["A 1", "B 2", "A 2", "B 1"]
    assert [each.letter for each in sorted((each for each in over.scene.things if each.letter), key=_left)] == letters
    # Points touch, and the tape lies over them: three lengths at each of three joints.
    wood = sorted((each.solid.bounds for each in row.scene.things if each.letter), key=lambda each: each.low.x)
    assert [each.low.x for each in wood[1:]] == pytest.approx([each.high.x for each in wood[:-1]])
    tapes = [each.solid.bounds for each in row.scene.things if each.look == "tool"]
    assert len(tapes) == 9
    assert {round((each.low.x + each.high.x) / 2, 1) for each in tapes} == {220.0, 370.0, 590.0}
    assert named(rolled.scene, "tape")
    # Turned over, the long sides lie on the bench and the mitres look up.
    for each in (thing.solid for thing in over.scene.things):
        low, high = each.bounds.low.z, each.bounds.high.z
        assert (each & _slab(low + 0.5)).bounds.size("x") > (each & _slab(high - 0.5)).bounds.size("x") + 20
    glued = shown(given, "box/glue/glue")
    assert [each.caption for each in glued] == ["turned over, mitres up", "rolled up"]


def _left(thing: Thing) -> float:
    return thing.solid.bounds.low.x


def test_a_frame_lies_on_its_face_in_blocks_with_cramps_both_ways() -> None:
    *_, cramped = shown(pictured(FRAME), "frame/glue/glue")
    assert cramped.caption == "together"
    blocks = [each.solid.bounds for each in cramped.scene.things if each.look == "behind"]
    cramps = [each.solid.bounds for each in cramped.scene.things if each.look == "tool"]
    assert (len(blocks), len(cramps)) == (4, 4)
    along = [each.size("x") > each.size("y") for each in cramps]
    assert sorted(along) == [False, False, True, True]
    # 30 beyond each side of 246 by 196, and as far along it.
    assert {(round(each.size("x")), round(each.size("y"))) for each in blocks} == {(60, 60)}
    # What lies on the bench is the front: the rebate in the back is open above.
    wood = [each.solid for each in cramped.scene.things if each.letter]
    low = min(each.bounds.low.z for each in wood)
    area = [sum((each & _slab(at)).volume for each in wood) for at in (low + 0.5, low + 19.5)]
    assert area[0] > area[1]


def _slab(level: float) -> Solid:
    return box([-1e4, -1e4, level - 0.4], [1e4, 1e4, level + 0.4])


def test_a_cramped_box_stands_in_blocks_as_high_as_its_sides() -> None:
    drawn = job(BOX)
    way = Decision("box/glue/glue", "Head of technology", "the blocks are there", way="glue-mitred-box-with-corner-blocks")
    decided = replace(drawn, decisions=(way,))
    made = make_plan(decided, workshop(), knowledge())
    given = Pictured(made, decided, carry_out(made, decided))
    for task in ("box/dry-fit/try", "box/glue/glue"):
        *_, cramped = shown(given, task)
        blocks = [each.solid.bounds for each in cramped.scene.things if each.look == "behind"]
        wood = [each.solid.bounds for each in cramped.scene.things if each.letter in ("A", "B")]
        assert len(blocks) == 4
        assert {(each.low.z, each.high.z) for each in blocks} == {(each.low.z, each.high.z) for each in wood}
        assert {round(each.size("z")) for each in blocks} == {80}


def test_a_high_box_is_drawn_with_all_the_cramps_that_its_card_asks_for(tmp_path: Path) -> None:
    """Sides of 130 take two cramps a corner: eight, half of them each way, at two heights."""
    text = (ROOT / BOX).read_text(encoding="utf-8").replace("high: 80", "high: 130")
    (tmp_path / "job.yaml").write_text(text, encoding="utf-8")
    drawn = read_job(tmp_path / "job.yaml")[0]
    way = Decision("box/glue/glue", "Head of technology", "the blocks are there", way="glue-mitred-box-with-corner-blocks")
    decided = replace(drawn, decisions=(way,))
    made = make_plan(decided, workshop(), knowledge())
    given = Pictured(made, decided, carry_out(made, decided))
    (glued,) = (step for step in made.steps if "box/glue/glue" in step.tasks)
    assert glued.instructions[0] == "Set 8 cramps to the dry work."
    for task in ("box/dry-fit/try", "box/glue/glue"):
        *_, cramped = shown(given, task)
        cramps = [each.solid for each in cramped.scene.things if each.look == "tool"]
        assert len(cramps) == 8
        assert sum(each.bounds.size("x") > each.bounds.size("y") for each in cramps) == 4
        assert len({round(each.bounds.low.z) for each in cramps if each.bounds.size("x") > each.bounds.size("y")}) == 2
        # None of them runs through another, or through what it presses.
        wood = [each.solid for each in cramped.scene.things if each.look != "tool"]
        for number, each in enumerate(cramps):
            assert not [other for other in (*cramps[number + 1 :], *wood) if (each & other).volume > 1.0]
