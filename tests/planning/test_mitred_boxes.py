"""How mitred boxes and very small frames are tried and glued: rolled up in tape, or in blocks as high as their sides."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.design.placing import place
from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Step
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.reading.job import read_job
from tests.made import ROOT, job, knowledge, plan, workshop

BOX = "tests/assemblies/splined-box.yaml"
FRAME = "tests/assemblies/sawn-splines.yaml"
IN_BLOCKS = "glue-mitred-box-with-corner-blocks"


def changed(tmp_path: Path, name: str, **sizes: float) -> Job:
    """A job whose named sizes are others."""
    text = (ROOT / name).read_text(encoding="utf-8")
    (line,) = (each for each in text.splitlines() if each.startswith("sizes:"))
    named = dict(each.split(": ") for each in line.removeprefix("sizes: {").removesuffix("}").split(", "))
    now = "sizes: {" + ", ".join(f"{key}: {value}" for key, value in {**named, **sizes}.items()) + "}"
    file = tmp_path / "job.yaml"
    file.write_text(text.replace(line, now), encoding="utf-8")
    return read_job(file)[0]


def gluing(drawn: Job, group: str) -> dict[str, Way]:
    ((_, found, _),) = ways_of(f"{group}/glue/glue", drawn, workshop(), knowledge())
    return {way.operation: way for way in found if way.meant}


def step_of(made: Plan, task: str) -> Step:
    return next(step for step in made.steps if task in step.tasks)


def said(step: Step) -> str:
    checks = (f"{check.what} {check.how} {check.limit}" for check in step.checks)
    return " ".join((*step.instructions, *step.method, *checks, step.stop, step.if_wrong, step.guard_line))


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_a_small_box_is_tried_and_glued_in_tape(shop: str) -> None:
    made = plan(BOX, shop)
    tried, glued = step_of(made, "box/dry-fit/try"), step_of(made, "box/glue/glue")
    assert (tried.operation, glued.operation) == ("Roll a mitred box up dry in tape", "Roll a mitred box up in tape")
    assert glued.title == "Glue and tape: box"
    for step in (tried, glued):
        assert not [word for word in ("face down", "corner block", "cramp") if word in said(step)]
        assert "strong tape" in step.tools
        assert any("both diagonals across the top" in check.how and check.card for check in step.checks)
        assert not step.holding
    wait = step_of(made, "box/cure/wait")
    assert any(line.startswith("Keep the tape on for ") for line in wait.instructions)
    assert not any("cramps" in line for line in wait.instructions)


def test_the_row_runs_to_the_right_round_the_outside_of_the_box() -> None:
    """Whoever stands before a wall of the box, outside, sees the next piece of the row at the right: plane geometry."""
    tried = step_of(plan(BOX), "box/dry-fit/try")
    assert tried.instructions[1:3] == (
        "Lay A 1, B 2, A 2, B 1 in a row.",
        "Turn each outside face up, the bottom edge towards you.",
    )
    placement = place(job(BOX))
    row = [  # the drawing has y upwards: seen from above, x lies against the clock from z
        (sum(placement.span(piece, "z")) / 2, sum(placement.span(piece, "x")) / 2)
        for piece in ("front.1", "side.2", "front.2", "side.1")
    ]
    centre_x, centre_y = (sum(each[axis] for each in row) / 4 for axis in (0, 1))
    for (x, y), (next_x, next_y) in zip(row, [*row[1:], row[0]], strict=True):
        # To the right of whoever looks inwards at it is a quarter turn against the clock from the way the wall looks.
        right = (-(y - centre_y), x - centre_x)
        assert (next_x - x) * right[0] + (next_y - y) * right[1] > 0


def test_a_loose_bottom_goes_in_before_the_row_is_rolled_up() -> None:
    lines = step_of(plan(BOX), "box/glue/glue").instructions
    assert lines.index("Push C into A 1.") + 1 == lines.index("Roll the row up, A 1 to B 1.")
    assert "Keep glue out of grooves that hold a loose part." in lines


def test_the_tape_of_the_trial_comes_off_so_that_insides_are_cleaned_as_single_pieces() -> None:
    made = plan(BOX)
    tried, glued = step_of(made, "box/dry-fit/try"), step_of(made, "box/glue/glue")
    assert tried.instructions[-1] == "Take all the tape off again."
    assert "Write letters on the outside, never on a mitre." in tried.instructions
    assert glued.instructions[0] == "Lay the row taped as in the dry trial, mitres up."
    assert "Pull tape tight across each joint, top, middle and bottom." in glued.method


def test_a_gaping_mitre_of_a_box_is_planed_in_the_vice() -> None:
    """The mitre shooting board is for mitres across the width: common practice."""
    tried = step_of(plan(BOX), "box/dry-fit/try")
    assert "Plane one shaving from both edges inwards." in tried.if_wrong
    assert "jack plane" in tried.tools
    assert "mitre shooting board" not in (*tried.tools, tried.if_wrong, *tried.method)


def test_a_thick_box_stands_in_blocks_as_high_as_its_sides(tmp_path: Path) -> None:
    """Sides of 16: tape draws up to 15."""
    found = gluing(changed(tmp_path, BOX, thick=16), "box")
    assert [each.what for each in found["roll-box-up-in-tape"].obstacles if "too thick in its sides for tape" in each.what]
    assert found[IN_BLOCKS].possible
    # For a box nothing is meant that lays it down like a frame.
    assert set(found) == {"roll-box-up-in-tape", "glue-mitred-box-with-band-cramp", IN_BLOCKS}


def test_a_box_that_is_to_be_cramped_is_tried_standing_in_its_blocks() -> None:
    drawn = job(BOX)
    decided = replace(drawn, decisions=(Decision("box/glue/glue", "Head of technology", "the blocks are there", way=IN_BLOCKS),))
    made = make_plan(decided, workshop(), knowledge())
    tried, glued = step_of(made, "box/dry-fit/try"), step_of(made, "box/glue/glue")
    assert tried.operation == "Put the mitred box together dry and check"
    assert "Put a corner block round each corner, 80 mm high." in glued.instructions
    assert "Stand the box on its edges on a flat board." in glued.instructions
    assert "Loosen them only enough, to leave them set to size." in tried.instructions
    assert "face down" not in said(tried) + said(glued)
    (blocks,) = (jig for jig in made.jigs if jig.name == "tall-corner-blocks")
    (block,) = blocks.pieces
    # 80 high as its sides are wide; legs of 30, a fifth of the shortest side of 150.
    assert sorted((block.length, block.width, block.thickness)) == [60, 60, 80]
    assert any(line.startswith("Keep the cramps on for ") for line in step_of(made, "box/cure/wait").instructions)


def test_a_high_corner_takes_cramps_at_more_than_one_height(tmp_path: Path) -> None:
    """Beyond 100 mm a joint takes two cramps, as any other does: four corners, eight cramps."""
    high = gluing(changed(tmp_path, BOX, high=160), "box")
    assert {IN_BLOCKS: high[IN_BLOCKS].figures["joint.cramps"]} == {IN_BLOCKS: 8.0}
    assert [each.what for each in high["roll-box-up-in-tape"].obstacles if "too high for tape" in each.what]


@pytest.mark.parametrize(("short", "leg"), [(180, 30), (120, 30), (119, 29), (100, 25)])
def test_corner_blocks_are_no_longer_than_a_quarter_of_the_shortest_side(tmp_path: Path, short: float, leg: float) -> None:
    way = gluing(changed(tmp_path, FRAME, short=short), "frame")["glue-mitres-with-corner-blocks"]
    assert way.possible
    assert way.figures["joint.corner-block"] == leg
    # The cramps open over the frame, and over a block at either end that is as thick as its leg is long.
    assert [each.value for each in way.settings if each.name == "open"] == [240 + 2 * leg]


def test_a_very_small_frame_is_rolled_up_in_tape(tmp_path: Path) -> None:
    made = make_plan(changed(tmp_path, FRAME, long=120, short=100, wide=18, leg=14), workshop("hand-tools"), knowledge())
    tried, glued = step_of(made, "frame/dry-fit/try"), step_of(made, "frame/glue/glue")
    assert (tried.operation, glued.operation) == (
        "Roll a small mitred frame up dry in tape",
        "Roll a small mitred frame up in tape",
    )
    assert "Lay A 1, B 1, A 2, B 2 in a row." in tried.instructions
    assert "Lay the frame face down on a flat board." in glued.instructions
    assert not [jig for jig in made.jigs if "blocks" in jig.name]


def test_opposite_pieces_are_held_together_before_they_are_glued() -> None:
    for name, task in ((BOX, "box"), ("picture-frame", "frame")):
        (check,) = (each for each in step_of(plan(name), f"{task}/dry-fit/try").checks if each.what == "opposite pieces")
        assert (check.limit, check.how, check.card) == (
            "alike in length within 0.5 mm", "hold them together, one end level", True,
        )  # fmt: skip


# Two slopes of 12 * sqrt(2) = 17 mm, each 1 in 59 (1 degree) out in the same sense: 2 * 17 * 0.017 = 0.58 mm between them.
def test_mitres_of_a_box_that_students_plane_by_eye_are_warned_of_with_how_far_they_gape() -> None:
    made = plan(BOX, "hand-tools")
    (warned,) = (each for each in made.findings if each.code == "hand-mitres")
    sawn = step_of(made, "front/left-mitre/cut")
    assert (warned.level, sawn.who.operator) == ("warning", "student")
    assert f"Step {sawn.number}: the mitres of A and B" in warned.what
    assert "out by 1 degree gape 0.6 mm over 12 mm" in warned.what
    assert "donkey's ear" in warned.remedy
    assert "staff" in warned.remedy
    assert "common practice" in warned.source


@pytest.mark.parametrize("name", ["picture-frame", "nest-box"])
def test_mitres_that_are_shot_and_ends_that_only_slope_are_not_warned_of(name: str) -> None:
    """The frame is trimmed on its shooting board; the slope of the nest box's front meets no other slope."""
    assert not [each for each in plan(name, "hand-tools").findings if each.code == "hand-mitres"]
