"""Slots for splines: sawn in from the corner that the mitres make, never in the middle of an uncut stick."""

from __future__ import annotations

from sequencer.planning.order import YIELDING
from sequencer.planning.steps import LEAVE_WHOLE
from tests.made import making, plan

FRAME = "tests/assemblies/splined-frame.yaml"


def test_a_slot_is_sawn_in_from_the_end_that_its_mitre_makes() -> None:
    made = plan(FRAME)
    at = {task: step.number for step in made.steps for task in step.tasks}
    why = {(reason.before, reason.after): reason for reason in made.reasons}
    for part in ("long-piece", "short-piece"):
        for side in ("left", "right"):
            mitre, slot = f"{part}/{side}-mitre/cut", f"{part}/{side}-slot/cut"
            assert at[mitre] < at[slot]
            assert (slot, mitre) not in why
            assert why[mitre, slot].kind == "reach"
            assert why[mitre, slot].kind not in YIELDING
    assert not any(LEAVE_WHOLE in step.instructions for step in made.steps if "slot" in step.title)
    assert not any(
        "cut apart" in note or "Leave it whole" in note for step in made.steps if "slot" in step.title for note in step.notes
    )


def test_slots_measured_from_the_point_of_a_mitre_come_where_they_are_drawn() -> None:
    proof = making(FRAME).proof
    assert proof.held
    sawn = [record for record in proof.tasks if record.task.endswith("-slot/cut")]
    assert len(sawn) == 4
    assert all(looked.held for record in sawn for looked in record.looked)


# The glue of a spline is on its cheeks: the cramp lies across the thickness, 18 and a block of 18 under each jaw.
def test_a_spline_is_pressed_between_the_cheeks_of_its_slot() -> None:
    step = next(each for each in plan(FRAME).steps if each.id == "spline-in-place/glue/glue")
    assert [line for line in step.together if "cramp across" in line] == [
        "Put one cramp across A 1, over each C.",
        "Put one cramp across A 2, over each C.",
    ]
    told = {setting.name: setting.value for setting in step.settings}
    assert (told["cramps"], told["open"]) == (4, 18 + 2 * 18)
