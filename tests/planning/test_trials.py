"""What is glued has been tried dry before, with all that is joined to it, and nothing is tried before it is cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Task
from sequencer.planning.grouping import joint_groups
from sequencer.planning.making_room import Room, rooms
from sequencer.planning.order import chosen_between, reason_graph
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import EXAMPLES, ROOT, WORKSHOPS, job, knowledge, plan, workshop

BOOKS = (
    "tests/cases/s05-knife-box.yaml",
    "tests/cases/s06-table-drawer.yaml",
    "tests/cases/s07-glass-door-frame.yaml",
    "tests/cases/s08-keyed-tabouret.yaml",
    "tests/cases/s09-towel-roller.yaml",
    "tests/assemblies/drawer.yaml",
    "tests/assemblies/table-frame.yaml",
    "tests/assemblies/wedged-stool.yaml",
)
TABOURET = "tests/cases/s08-keyed-tabouret.yaml"
LATE = {
    TABOURET: {"key-1", "key-2", "key-3", "key-4"},
    "tests/cases/s09-towel-roller.yaml": {"pivot-1", "pivot-2"},
}
"""Cut joints that are first put together when their pieces have been glued to others: keys are fitted as they are driven, pivots
turn in their holes."""
FIRST = ("dry-fit", "fit-dry", "key")
"""Work that brings the pieces of a joint together for the first time."""


def cuts_of(drawn: Job, joint: str) -> set[str]:
    """The tasks that cut both halves of a joint."""
    found = drawn.joints[joint]
    return {f"{drawn.part_of(seat.piece).name}/{seat.feature}/cut" for seat in (found.its, found.seat) if seat.feature}


def pieces_of(drawn: Job, joint: str) -> set[str]:
    return {drawn.joints[joint].enters_piece, drawn.joints[joint].seat.piece}


def places(made: Plan) -> dict[str, int]:
    return {task.id: number for number, task in enumerate(made.tasks)}


@pytest.mark.parametrize("name", [*EXAMPLES, *BOOKS])
def test_a_joint_is_tried_when_both_its_halves_are_cut(name: str) -> None:
    made, drawn = plan(name), job(name)
    at = places(made)
    trials = [task for task in made.tasks if task.kind == "dry-fit"]
    assert trials
    for task in trials:
        late = [cut for joint in task.joints for cut in cuts_of(drawn, joint) if at.get(cut, -1) > at[task.id]]
        assert late == [], task.id


@pytest.mark.parametrize("name", [*EXAMPLES, *BOOKS])
def test_every_cut_joint_of_a_piece_is_tried_before_the_piece_is_glued(name: str) -> None:
    made, drawn = plan(name), job(name)
    at, late = places(made), set[str]()
    for task in made.tasks:
        if task.kind != "glue":
            continue
        pieces = {piece for each in task.joints for piece in pieces_of(drawn, each)}
        for joint in drawn.joints:
            tried = min(at[other.id] for other in made.tasks if other.kind in FIRST and joint in other.joints)
            if pieces & pieces_of(drawn, joint) and cuts_of(drawn, joint) and tried > at[task.id]:
                late.add(joint)
    assert late == LATE.get(name, set())


def test_the_tenons_of_a_tabouret_are_tried_before_its_stretchers_are_glued_together() -> None:
    made = plan(TABOURET)
    at = places(made)
    runs = [task.id for task in made.tasks if task.kind == "dry-fit"]
    assert [task.joints for task in made.tasks if task.id == "whole/dry-fit/try"] == [("leg-1", "leg-2", "leg-3", "leg-4")]
    assert all(at[trial] < at["lower-cross-glued/glue/glue"] for trial in runs if trial != "top-1/dry-fit/try")
    (reason,) = [
        each for each in made.reasons if (each.before, each.after) == ("whole/dry-fit/try", "lower-cross-glued/glue/glue")
    ]
    assert reason.sentence == "The whole set is tried dry before any of it is glued."
    assert reason.harm == "A joint that does not close is found when its pieces can no longer be turned or eased."
    assert reason.source == "common practice"


def test_trials_go_on_as_the_pieces_go_together() -> None:
    made = plan(TABOURET)
    runs = [task.id for task in made.tasks if task.kind == "dry-fit"]
    order = ["lower-cross-glued/dry-fit/try", "whole/dry-fit/try", "whole-glue/dry-fit/try", "top-1/dry-fit/try"]
    assert [trial for trial in runs if trial in order] == order


def test_what_can_only_be_tried_on_what_is_glued_is_tried_then() -> None:
    """The tenons of the stool's rail stand out until their glue has set; only then does the seat come down."""
    made = plan("step-stool")
    at = places(made)
    assert at["end-frame/cure/wait"] < at["seat-in-place/dry-fit/try"] < at["seat-in-place/screw/screw"]


def test_what_stays_loose_has_no_trial_of_its_own() -> None:
    kinds = {task.id for task in plan("tests/cases/s09-towel-roller.yaml").tasks if task.kind == "dry-fit"}
    assert not [name for name in kinds if name.startswith("pivot")]


BEVEL = Room("roof-in-place", "roof", "back-bevel", "back")


@pytest.mark.parametrize("shop", WORKSHOPS)
def test_a_roof_is_tried_when_the_edge_that_lies_against_the_back_is_bevelled(shop: str) -> None:
    """No joint names the bevel, and the back is screwed on before: only the shapes tell that the two meet."""
    made = plan("nest-box", shop)
    at = places(made)
    assert at["roof/back-bevel/cut"] < at["roof-in-place/dry-fit/try"]
    (reason,) = [
        each for each in made.reasons if (each.before, each.after) == ("roof/back-bevel/cut", "roof-in-place/dry-fit/try")
    ]
    assert (reason.kind, reason.source) == ("fit", "common practice")
    assert reason.sentence == "The back bevel makes room for the back, so it is cut before they are tried."


def test_a_cut_that_meets_nothing_need_not_come_before_a_trial(tmp_path: Path) -> None:
    drawn = job("nest-box")
    assert BEVEL in set(rooms(drawn, joint_groups(drawn)))
    text = (ROOT / "examples" / "nest-box" / "job.yaml").read_text(encoding="utf-8")
    assert text.count("edge: bottom, low: inside") == 1
    file = tmp_path / "job.yaml"
    file.write_text(text.replace("edge: bottom, low: inside", "edge: top, low: inside"), encoding="utf-8")
    front = read_job(file)[0]
    assert not [each for each in rooms(front, joint_groups(front)) if each.feature == "back-bevel"]


def test_what_met_before_is_not_told_again() -> None:
    """The copes of a door make room for its own corners once, not again for the glass that comes on to it."""
    drawn = job("tests/cases/s07-glass-door-frame.yaml")
    told = [each for each in rooms(drawn, joint_groups(drawn)) if each.other in ("stile", "top-rail", "bottom-rail")]
    assert {each.group for each in told} == {"frame"}
    frame = job("picture-frame")
    alone = tuple(replace(each, after=()) for each in joint_groups(frame))
    assert len(list(rooms(frame, alone))) < len(list(rooms(frame, joint_groups(frame))))


def test_room_that_a_seat_has_made_is_not_made_again_by_what_crosses_it() -> None:
    """The floor of a caddy stands in its grooves alone, which run on through the housing and the rebates."""
    drawn = job("herb-caddy")
    found = {(each.feature, each.other) for each in rooms(drawn, joint_groups(drawn))}
    assert {feature for feature, other in found if other == "floor"} == {"floor-groove"}
    assert ("pot-end-rebate", "end") in found
    said = [each.sentence for each in plan("herb-caddy").reasons if "room for the floor" in each.sentence]
    assert not [each for each in said if "groove" not in each]


def test_a_housing_that_is_deeper_than_the_groove_across_it_makes_room(tmp_path: Path) -> None:
    """A floor that is long enough to stand 2 mm past its groove, in the housing alone, needs the housing too."""
    text = (ROOT / "examples" / "herb-caddy" / "job.yaml").read_text(encoding="utf-8")
    file = tmp_path / "job.yaml"
    groove = "floor-groove: {kind: groove, face: inside, from: bottom, distance: floor-up, width: panel, depth: cut}"
    assert text.count(groove) == 2
    file.write_text(text.replace(groove, groove.replace("depth: cut", "depth: 3"), 1), encoding="utf-8")
    drawn = read_job(file)[0]
    found = {each.feature for each in rooms(drawn, joint_groups(drawn)) if (each.part, each.other) == ("side", "floor")}
    assert "divider-housing" in found


NOT_WOOD = ("rags", "make-dowels", "make-wedges", "cure", "dry")


def wet_tasks(made: Plan) -> list[tuple[Task, str]]:
    """Gluings and coats, each with its wait."""
    ends = {"glue": "cure/wait", "coat": ""}
    return [
        (task, f"{task.id.split('/')[0]}/{ends[task.kind]}" if ends[task.kind] else f"{task.id.rpartition('/')[0]}/wait")
        for task in made.tasks
        if task.kind in ends
    ]


@pytest.mark.parametrize("name", [*EXAMPLES, *BOOKS])
def test_what_is_joined_is_tried_before_its_finish(name: str) -> None:
    made = plan(name)
    at = places(made)
    trials = [task for task in made.tasks if task.kind == "dry-fit"]
    for coat, wait in wet_tasks(made):
        if coat.kind == "coat":
            late = [each.id for each in trials if set(each.parts) & set(coat.parts) and at[coat.id] < at[each.id]]
            assert late == [] or all(at[wait] < at[each] for each in late)


@pytest.mark.parametrize("name", [*EXAMPLES, *BOOKS])
def test_the_order_says_of_all_work_whether_it_comes_before_the_glue_or_when_it_has_set(name: str) -> None:
    """Of the parts that are glued or coated, nothing is left open: it leads to the gluing, or follows on the wait, or belongs
    to the joint itself and is done while it is wet."""
    made = plan(name)
    graph = reason_graph([task.id for task in made.tasks], made.reasons)
    for wet, wait in wet_tasks(made):
        for task in made.tasks:
            if task.id == wet.id or task.kind in NOT_WOOD or not set(task.parts) & set(wet.parts):
                continue
            pairs = ((task.id, wet.id), (wait, task.id), (task.id, wait))
            assert any(chosen_between(graph, *pair) for pair in pairs), (task.id, wet.id)


def test_a_backing_is_tried_before_the_frame_is_glued_and_a_seat_before_the_spine() -> None:
    """Neither is demanded: the backing could be tried in the glued frame, the seat when the spine has set."""
    for name, trial, glue in (
        ("picture-frame", "backing-in/dry-fit/try", "frame/glue/glue"),
        ("step-stool", "seat-in-place/dry-fit/try", "spine-in-place/glue/glue"),
    ):
        made = plan(name)
        assert places(made)[trial] < places(made)[glue]
        (reason,) = [each for each in made.reasons if (each.before, each.after) == (trial, glue)]
        assert reason.kind == "choice"
        assert reason.sentence.startswith("Either could come first; this is done while nothing is wet")


def test_a_trial_that_is_decided_to_come_after_the_glue_waits_until_it_has_set() -> None:
    trial, glue, cure = "backing-in/dry-fit/try", "frame/glue/glue", "frame/cure/wait"
    decision = Decision(glue, "Head of technology", "The opening is measured in the glued frame.", before=trial)
    made = make_plan(replace(job("picture-frame"), decisions=(decision,)), workshop(), knowledge())
    assert places(made)[glue] < places(made)[cure] < places(made)[trial] < places(made)["whole/coat-1/coat"]
    (reason,) = [each for each in made.reasons if (each.before, each.after) == (cure, trial)]
    assert (reason.kind, reason.sentence) == ("cure", "Parts are left alone until their glue has set.")
