"""What cards say of pins, screws, cramps and panels: only what is there, and how many of each."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sequencer.findings import has_errors
from sequencer.model.plan import Plan, Step
from sequencer.planning.choosing import choose_ways
from sequencer.planning.group_work import group_work
from sequencer.planning.grouping import joint_groups
from sequencer.planning.planner import make_plan
from sequencer.planning.shop import Shop
from sequencer.planning.work import hardware_of, part_work
from tests.made import EXAMPLES, WORKSHOPS, job, knowledge, plan, workshop

PLANS = [(name, shop) for name in EXAMPLES for shop in WORKSHOPS]


def closing(made: Plan, kind: str) -> list[Step]:
    kinds = {task.id: task.kind for task in made.tasks}
    return [step for step in made.steps if kinds[step.tasks[0]] == kind and step.kind == "work"]


# Behind the backing of the frame is a sheet of acrylic: a nail through the backing would crack it.
@pytest.mark.parametrize("shop", WORKSHOPS)
def test_the_backing_is_pinned_sideways_and_not_nailed(shop: str) -> None:
    steps = {step.tasks[0]: step for step in closing(plan("picture-frame", shop), "nail")}
    backing = " ".join(steps["backing-in/nail/nail"].instructions)
    assert "sideways into the wall of the rebate" in backing
    assert "nail punch" not in backing
    assert "nail punch" in " ".join(steps["frame/nail/nail"].instructions)
    assert any(each.name == "eye-protection" for each in steps["backing-in/nail/nail"].wear)


def test_pins_for_a_rebate_are_not_planned_together_with_nails_elsewhere() -> None:
    drawn = job("picture-frame")
    nailed = {
        name: replace(joint, fixed=("nails",), assembly="", after=())
        if name != "sheet-in"
        else replace(joint, fixed=("dry",), after=())
        for name, joint in drawn.joints.items()
    }
    # The sheet goes in between: it parts the two by itself.
    made = make_plan(replace(drawn, joints=nailed, assemblies={}), workshop(), knowledge())
    kinds = [task.joints for task in made.tasks if task.kind in ("nail", "fit-dry")]
    assert kinds == [("corner-1", "corner-2", "corner-3", "corner-4"), ("sheet-in", "backing-in")]
    # Taken as one group they have no way.
    one = replace(drawn, joints=nailed, assemblies={})
    shop = Shop(job=one, workshop=workshop(), knowledge=knowledge())
    choice = choose_ways([*part_work(one, knowledge().working), *group_work(one, joint_groups(one), knowledge=knowledge())], shop)
    assert has_errors(choice.findings)
    assert any("nailed straight into other joints" in finding.what for finding in choice.findings)


# Count on the drawing: 16 screws over eight joints, two of which are the roof's; two screws a joint.
def test_screws_are_shared_out_by_joints() -> None:
    notes = [note for step in closing(plan("nest-box"), "screw") for note in step.notes if note.startswith("Use:")]
    assert [note.split()[1] for note in notes] == ["12", "4"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_fastener_stands_on_one_card(name: str) -> None:
    drawn = job(name)
    used = {joint.hardware for joint in drawn.joints.values()} - {""}
    assert hardware_of(drawn, drawn.joints) == {thing: drawn.hardware[thing].count for thing in drawn.hardware if thing in used}


HELD_FOR_SCREWS = (
    "Stand the joined parts level on packed battens, cramped to the bench.",
    "Cramp it square, the screw holes on top.",
    "Mark through the holes with the bradawl.",
    "Take the top piece off.",
    "Grip the other piece in the vice.",
    "Drill each pilot hole to the tape on the bit.",
    "Cramp the top piece back on its marks.",
    "Drive each screw in nearly all the way.",
    "Tighten the screws once you have checked the square.",
)


# The second piece is drilled by itself. Screws of 50 go through 20 of the side: two thirds of the 30 left. The seat is 22 thick:
# two thirds of 28.
@pytest.mark.parametrize(("name", "depth"), [("nest-box", "20 mm from the point"), ("step-stool", "19 mm from the point")])
def test_the_pilot_hole_stands_on_the_card(name: str, depth: str) -> None:
    for step in closing(plan(name), "screw"):
        told = {setting.name: setting.text for setting in step.settings}
        assert told["depth"] == depth
        assert told["pilot"] == "2 mm"
        assert f"Put tape on the 2 mm bit, {depth}." in step.instructions
        # The card itself says how each is held while it is marked, drilled and screwed.
        whole = HELD_FOR_SCREWS[0] in step.instructions
        left_out = HELD_FOR_SCREWS[4] if whole else HELD_FOR_SCREWS[0]
        told_in_order = [step.instructions.index(line) for line in HELD_FOR_SCREWS if line != left_out]
        assert told_in_order == sorted(told_in_order)
        assert step.method.index("Take the top piece off.") < step.method.index("Drill each pilot hole to the tape on the bit.")


# The flutes of a 2 mm bit are 24 long: two thirds of 40 are more, half of it is less. Half of 60 is more than the bit drills, so
# that nobody is told to; nor where no gauge says which bit it is.
def test_no_pilot_hole_is_deeper_than_its_bit_drills() -> None:
    drawn = job("nest-box")

    def told(**other: object) -> tuple[set[str], bool]:
        things = {name: replace(thing, **other) if thing.gauge else thing for name, thing in drawn.hardware.items()}
        made = make_plan(replace(drawn, hardware=things), workshop(), knowledge())
        texts = {each.text for step in closing(made, "screw") for each in step.settings if each.name == "depth"}
        return texts, any(each.code == "staff-decide" and "pilot" in each.what for each in made.findings)

    assert told(length=60.0) == ({"24 mm from the point"}, False)
    assert told(length=80.0) == ({"staff decide"}, True)
    assert told(gauge=None) == ({"staff decide"}, True)


# The two laps of the spine lie 234 apart, and 70 is the height of spine and rail where they cross, half let into half.
def test_laps_far_apart_take_a_cramp_each() -> None:
    spine = next(step for step in closing(plan("step-stool"), "glue") if step.tasks[0].startswith("spine"))
    told = {setting.name: setting.value for setting in spine.settings}
    assert (told["cramps"], told["open"]) == (2, 70 + 2 * 18)  # over blocks of 18 under both jaws


@pytest.mark.parametrize(("name", "shop"), PLANS)
def test_a_card_speaks_of_glue_and_loose_parts_only_where_they_are(name: str, shop: str) -> None:
    made = plan(name, shop)
    glued = {task.feature and task.id.split("/")[0] for task in made.tasks if task.kind == "glue"}
    for step in (*closing(made, "dry-fit"), *closing(made, "glue")):
        said = " ".join((*step.instructions, *step.method))
        group = step.tasks[0].split("/")[0]
        assert ("in order for gluing" in said) == (group in glued and "dry-fit" in step.tasks[0])
        if name != "herb-caddy":
            assert "loose part" not in said
    if name == "herb-caddy":
        assert any("loose parts in before" in " ".join(step.instructions) for step in closing(made, "dry-fit"))


# Each glue-up takes its own cramps, four for the four corners of a frame.
def test_cramps_are_laid_out_for_every_place_at_a_time() -> None:
    made = plan("picture-frame")
    (glue,) = closing(made, "glue")
    cramps = next(setting.value for setting in glue.settings if setting.name == "cramps")
    line = next(tool for tool in made.tools if tool.name == "sash cramp")
    places = workshop().stations[glue.station].count
    assert cramps == 4
    assert (line.each, line.total) == (4, 4 * min(places, -(-made.class_.students // (2 if workshop().pairs else 1))))


def lengths(made: Plan, kind: str) -> list[str]:
    steps = closing(made, kind)
    return [setting.text for step in steps for setting in step.settings if setting.name == "length"]


# The book names brads of 1 in for walls of 1/2 in: half is in the second piece. Where it names none, three
# times 12.7 are asked, 38.1, and 40 is the next nail sold.
def test_a_card_says_how_long_the_nails_are() -> None:
    drawn = job("tests/cases/s04-bird-house.yaml")
    assert lengths(make_plan(drawn, workshop(), knowledge()), "nail")[:1] == ["25.4 mm long, 12.7 mm in the second piece"]
    bare = replace(drawn, joints={name: replace(joint, hardware="") for name, joint in drawn.joints.items()}, hardware={})
    assert lengths(make_plan(bare, workshop(), knowledge()), "nail")[:1] == ["40 mm long, 27.3 mm in the second piece"]


# Back and sides of the nest box hold 20 of a screw; the case asks for 60 where the drawing says nothing.
def test_screws_of_no_stated_length_are_worked_out_and_drilled_for() -> None:
    drawn = job("nest-box")
    hardware = {name: replace(thing, length=None) for name, thing in drawn.hardware.items()}
    made = make_plan(replace(drawn, hardware=hardware), workshop(), knowledge())
    assert lengths(made, "screw") == ["60 mm long, 40 mm in the second piece"] * 2
    told = {setting.name: setting.text for step in closing(made, "screw") for setting in step.settings}
    assert told["depth"] == "24 mm from the point"  # two thirds of 40 are more than the flutes of a 2 mm bit


def test_where_the_joints_of_a_step_differ_each_is_named_with_its_length() -> None:
    drawn = job("nest-box")
    bare = {name: replace(thing, length=None) for name, thing in drawn.hardware.items()}
    thick = {**drawn.parts, "back": replace(drawn.parts["back"], thickness=15)}
    made = make_plan(replace(drawn, hardware=bare, parts=thick), workshop(), knowledge())
    said = [note for step in closing(made, "screw") for note in step.notes]
    assert any(note.startswith("Take screws 45 mm long for back left and back right") for note in said)
    assert any(note.startswith("Take screws 60 mm long for front left") for note in said)


# Six places, each with its cramps; but the workshop has 32 of them. Corner blocks go one to a cramp, scrap blocks two.
@pytest.mark.parametrize("name", ["tests/assemblies/stopped-shelf.yaml", "tests/assemblies/table-frame.yaml", "picture-frame"])
def test_no_more_cramps_are_asked_for_than_there_are_and_blocks_go_with_them(name: str) -> None:
    made = plan(name)
    listed = {tool.name: tool for tool in made.tools}
    asked = listed["sash cramp"]
    there = sum(each.count for each in workshop().counted.values() if (each.kind or each.name) == "sash-cramps")
    assert asked.each <= asked.total <= there
    if name == "picture-frame":
        assert (listed["corner block"].each, listed["corner block"].total) == (4, 4 * closing_places(made))
    else:
        assert listed["scrap block"].each == 2 * asked.each
    for finding in made.findings:
        if finding.code == "cramps-at-once":
            at_once = int(re.search(r": (\d+) can be glued at once", finding.what)[1])  # type: ignore[index]
            goes = int(re.search(r"in (\d+) goes", finding.what)[1])  # type: ignore[index]
            assert (goes - 1) * at_once < workshop().students <= goes * at_once


def closing_places(made: Plan) -> int:
    (glue,) = closing(made, "glue")
    return workshop().stations[glue.station].count
