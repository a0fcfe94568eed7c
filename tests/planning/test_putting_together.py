"""What the cards of joining steps say: one list in the order of doing, short sentences, names that a child can find."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sequencer.knowledge.wording import imperative_faults
from sequencer.model.plan import Plan, Step
from sequencer.planning.assembling import assembled
from sequencer.planning.bringing import Told
from sequencer.planning.closing import Closing
from sequencer.planning.going_together import label
from sequencer.planning.groups import fixing_of
from sequencer.planning.planner import make_plan
from sequencer.planning.putting_together import together_lines
from tests.made import EXAMPLES, ROOT, job, knowledge, plan, workshop

LOCKED = ("locking-puzzle", "woven-grid")
"""Drawings that cannot be put together."""
DRAWN = (
    *EXAMPLES,
    *(
        path.relative_to(ROOT).as_posix()
        for folder in ("assemblies", "cases")
        for path in sorted(Path(ROOT / "tests" / folder).glob("*.yaml"))
        if path.stem not in LOCKED
    ),
)
WHITE_GLUE = 10
"""Joints for which white glue stays open."""
JOINED = ("glue", "screw", "nail", "fit-dry")


@cache
def closings(name: str) -> tuple[Closing, ...]:
    """In which order the joints of a drawing are closed."""
    return assembled(job(name), WHITE_GLUE).closings


@cache
def lines(name: str) -> dict[str, tuple[Told, ...]]:
    """What the cards of a drawing say of each joining task."""
    return dict(together_lines(job(name), closings(name), knowledge().working))


def joining(made: Plan) -> list[Step]:
    return [step for step in made.steps if step.together]


def step(name: str, task: str) -> Step:
    (found,) = (each for each in plan(name).steps if each.kind == "work" and task in each.tasks)
    return found


@pytest.mark.parametrize("name", DRAWN)
def test_every_line_tells_one_short_thing_to_do(name: str) -> None:
    verbs = frozenset(verb.lower() for verb in knowledge().verbs)
    said = [each.line for told in lines(name).values() for each in told]
    assert said or len(job(name).joints) == 0
    assert [(line, fault) for line in said for fault in imperative_faults(line, verbs)] == []


@pytest.mark.parametrize("name", DRAWN)
def test_every_closing_is_told_and_names_every_piece_that_is_joined_there(name: str) -> None:
    """Those of an earlier glue-up go in as one, by the name of one of them; what is fixed dry by its key is told apart."""
    for group in dict.fromkeys(each.group for each in closings(name)):
        if group.fixing not in JOINED:
            continue
        (told,) = (said for task, said in lines(name).items() if task.startswith(f"{group.name}/{group.fixing}/"))
        text = " ".join(each.line for each in told)
        single = [piece for piece in group.pieces if _alone(name, group.name, piece)]
        missed = [label(job(name), piece) for piece in single if not _named(name, piece, text)]
        assert missed == [], text


def _alone(name: str, group: str, piece: str) -> bool:
    """Whether a piece comes to a group by itself."""
    return any((piece,) in each.bodies.values() for each in closings(name) if each.group.name == group)


def _named(name: str, piece: str, text: str) -> bool:
    letter = job(name).part_of(piece).letter
    each = (f"each {letter}", f"both {letter}")
    return label(job(name), piece) in text or any(word in text for word in each)


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_a_glue_card_is_one_list_in_the_order_of_doing(name: str, shop: str) -> None:
    glued = [each for each in joining(plan(name, shop)) if each.id.endswith("/glue/glue")]
    for each in glued:
        said = each.instructions
        places = [
            next(number for number, line in enumerate(said) if line.startswith(start))
            for start in ("Set ", "Brush ", ("Start with ", "Stand "), "Push ", "Check ", "Wipe ")
            if any(line.startswith(start) for line in said)
        ]
        assert len(places) >= 4
        assert places == sorted(places), said
        cramps = [number for number, line in enumerate(said) if line.startswith("Put ") and "cramp" in line]
        pushed = [number for number, line in enumerate(said) if line.startswith(("Push ", "Slide "))]
        assert not cramps or max(pushed) < min(cramps) < said.index("Wipe off the squeezed-out glue with a damp cloth.")


def test_two_frames_glued_in_one_step_are_both_told_and_cramped() -> None:
    glued = step("step-stool", "end-frame/glue/glue")
    assert "Make the second the same way: A 3, B 2, A 4." in glued.instructions
    assert [each.text for each in glued.settings if each.name == "cramps"] == ["2 cramps"]
    table = [each.line for each in lines("tests/assemblies/table-frame.yaml")["short-rail-in-place/glue/glue"]]
    again = table[table.index("Make the second the same way.") + 1 :]
    assert all(each in " ".join(again) for each in ("A right 1", "C 3", "C 4", "A left 2"))


def test_a_piece_is_screwed_on_before_the_next_one_comes() -> None:
    said = list(step("nest-box", "whole/screw/screw").instructions)
    brought = [number for number, line in enumerate(said) if line.startswith(("Push ", "Slide "))]
    assert len(brought) == 4
    drilled = said.index("Drill each pilot hole to the tape on the bit.")
    assert brought[0] < drilled < brought[1]
    for start, stop in zip(brought[1:], [*brought[2:], len(said)], strict=True):
        assert [line for line in said[start:stop] if line in SCREWED_NEXT] == [*SCREWED_NEXT], "told for each, in order"


SCREWED_NEXT = (
    "Mark through the holes into it.",
    "Drill it in the vice as before.",
    "Screw it on in its place, cramped square.",
)


# The roof comes on the box, and the seat on the stool: neither goes into a vice, and both stand on the bench.
@pytest.mark.parametrize(("name", "task"), [("nest-box", "roof-in-place"), ("step-stool", "seat-in-place")])
def test_what_is_screwed_into_a_whole_stands_on_the_bench_and_not_in_the_vice(name: str, task: str) -> None:
    fixed = step(name, f"{task}/screw/screw")
    said = fixed.instructions
    held = said.index("Stand the joined parts level on packed battens, cramped to the bench.")
    assert held < said.index("Mark through the holes with the bradawl.") < said.index("Take the top piece off.")
    assert "Keep a partner's hands out of line with the driver." in said
    assert "Ask a partner to steady from the side what no cramp reaches." in fixed.method
    assert not any("vice" in line for line in (*said, *fixed.method))
    assert (name == "step-stool") == ("Drill the joined parts, cramped to the bench." in said), "its second board"


def test_a_loose_piece_that_is_screwed_into_is_drilled_in_the_vice() -> None:
    fixed = step("nest-box", "whole/screw/screw")
    assert "Grip the other piece in the vice." in fixed.instructions
    assert not any("joined parts" in line and "batten" in line for line in (*fixed.instructions, *fixed.method))


def test_nailed_and_dry_closings_tell_their_order_too() -> None:
    walls = [each.line for each in lines("tests/cases/s04-bird-house.yaml")["walls/nail/nail"]]
    assert walls[:2] == ["Start with A 1.", "Push B onto the inside face of A 1."]
    grid = [each.line for each in lines("tests/assemblies/halved-grid.yaml")["short-strip-in-place/fit-dry/fit"]]
    assert grid == [
        "Stand A 1 on the bench.",
        "Stand A 2 beside it.",
        "Push B 1 down into the laps of both A.",
        "Push B 2 down into the laps of both A.",
    ]


@pytest.mark.parametrize(
    ("name", "task", "told"),
    [
        (
            "tests/assemblies/drawer.yaml",
            "whole/glue/glue",
            ["Push B left into the right rebate of A.", "Push C into the back housing of B left.", "Push B right onto A and C."],
        ),
        (
            "tests/cases/s06-table-drawer.yaml",
            "body/glue/glue",
            ["Push B left into the right sockets of A.", "Push C into the back housing of B left.", "Push B right onto A and C."],
        ),
        (
            "tests/cases/s05-knife-box.yaml",
            "frame/glue/glue",
            [
                "Push C 1 into the left housing of B 1.",
                "Push C 2 into the right housing of B 1.",
                "Push B 2 onto C 1 and C 2.",
            ],
        ),
    ],
)
def test_what_is_glued_into_two_housings_is_pressed_in_and_not_slid_down_them(name: str, task: str, told: list[str]) -> None:
    assert [each.line for each in lines(name)[task]][1 : len(told) + 1] == told


def test_a_place_is_named_by_its_joint_and_not_by_the_side_of_an_upright_leg() -> None:
    legs = [each.line for each in lines("tests/assemblies/table-frame.yaml")["long-rail-in-place/glue/glue"]]
    assert legs[1] == "Push B 1 into the high long mortise of A left 1."
    assert not [line for line in legs if "edge" in line or "face" in line]
    for name in DRAWN:
        drawn = job(name)
        for task, told in lines(name).items():
            joints = [joint for joint in drawn.joints.values() if joint.seat.feature and fixing_of(joint) == "glue"]
            if task.endswith("/glue/glue") and len(joints) == len(drawn.joints):
                assert not [each.line for each in told if " face of " in each.line or " edge of " in each.line], name


def test_what_the_drawing_fixes_by_a_size_stands_on_the_card_with_its_check() -> None:
    seat = step("step-stool", "seat-in-place/screw/screw")
    for line in (
        "Let D 1 stand 10 mm over A at the outer edge.",
        "Let D 1 stand 30 mm over A at each end.",
        "Leave 10 mm between D 1 and D 2.",
    ):
        assert line in seat.instructions
    box = step("nest-box", "whole/screw/screw")
    for line in ("Set D 20 mm from the foot end of C.", "Set C 5 mm from the front edge of B left."):
        assert line in box.instructions
    assert "Let E stand 30 mm over B at each end." in step("nest-box", "roof-in-place/screw/screw").instructions
    assert "Let E stand 6 mm over B at each end." in step("herb-caddy", "whole/glue/glue").instructions
    for each in (seat, box):
        assert [check.limit for check in each.checks if check.what == "places"] == ["within 1 mm"]
    assert not [check for check in step("step-stool", "end-frame/glue/glue").checks if check.what == "places"]


def test_a_sheet_that_lies_loose_is_laid_in_and_pinned_in_one_go() -> None:
    """Between two lessons it would slide out of its rebate."""
    tried, pinned = step("picture-frame", "backing-in/dry-fit/try"), step("picture-frame", "backing-in/nail/nail")
    lines = pinned.instructions
    laid = [lines.index(f"Lay {part} in the rebate, from the rear face.") for part in ("C", "D")]
    assert laid == sorted(laid)
    assert laid[-1] < lines.index("Lay each pin flat, its point against the rebate wall.")
    assert "Stay with it until it is pinned: loose, it falls out." in lines
    assert pinned.one_go
    assert not any("sheet-in/" in task for each in plan("picture-frame").steps for task in each.tasks)
    # It is tried before, taken out and kept apart; nothing is pared to fit it.
    assert tried.operation == "Try pieces in their rebate and take them out again"
    assert "Lay a sheet flat and apart, its film left on." in tried.instructions
    checks = (check.limit for each in (tried, pinned) for check in each.checks)
    said = " ".join((*tried.instructions, *tried.method, *lines, *pinned.method, tried.if_wrong, pinned.if_wrong, *checks))
    assert not [word for word in ("Pare", "gap", "Press joints") if word in said]


def test_a_sheet_that_nothing_is_pinned_over_is_laid_in_by_itself() -> None:
    drawn = job("picture-frame")
    joints = {name: joint for name, joint in drawn.joints.items() if name != "backing-in"}
    parts = {name: part for name, part in drawn.parts.items() if name != "backing"}
    made = make_plan(replace(drawn, joints=joints, parts=parts), workshop(), knowledge())
    (laid,) = (each for each in made.steps if "sheet-in/fit-dry/fit" in each.tasks)
    assert laid.operation == "Lay a loose part in its rebate"
    assert "Lay C in the rebate, from the rear face." in laid.instructions


def test_pieces_are_named_on_the_wood_as_the_cards_name_them() -> None:
    (marked,) = (each for each in plan("step-stool").steps if "leg/face-marks/mark" in each.tasks)
    assert marked.instructions[-1] == "Write letter and number beside the mark, as A 1."
    (sides,) = (each for each in plan("herb-caddy").steps if each.id == "side/mark-out/mark")
    assert "Write left or right on each of a mirrored pair." in sides.instructions
    (spine,) = (each for each in plan("step-stool").steps if each.id == "spine/mark-out/mark")
    assert not [line for line in spine.instructions if line.startswith("Write")]
