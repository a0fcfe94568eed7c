"""The picture of every step of every example in both workshops: what it shows, and that it can be read where it is printed."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from hashlib import sha256
from math import dist

import pytest

from sequencer.model.marks import Between
from sequencer.model.plan import Step, Task
from sequencer.model.work import WORK_KINDS
from sequencer.paper import staff_sheet
from sequencer.paper.drawing import picture
from sequencer.paper.job_card import ROOMS, CardEntry, job_card
from sequencer.paper.pages import Drawings
from sequencer.paper.pictured import Pictured
from sequencer.paper.scene import Scene
from sequencer.paper.step_pictures import MOST, scenes_of
from sequencer.paper.svg import Box, Picture
from sequencer.solid.solids import Solid, joined
from sequencer.solid.solids import box as solid_box
from tests.made import EXAMPLES, ROOT, WORKSHOPS, job, making, proved
from tests.paper.sample import make

SVG = "{http://www.w3.org/2000/svg}"
SAWN = "caddy grooved on the saw"
PLANS = [*(f"{example}, {shop}" for example in EXAMPLES for shop in WORKSHOPS), SAWN]
JOINING = frozenset({"dry-fit", "glue", "screw", "nail", "fit-dry", "clean-inside"})
BORED = frozenset({"hole", "screw-holes"})
TOOLS = {
    "mitre-saw": {"fence", "stop", "blade"},
    "saw-bench": {"fence", "blade"},
    "scroll-saw": {"blade"},
    "pillar-drill": {"bit"},
}
"""What a machine's picture names at least: what is set, and what cuts."""


@cache
def pictured(name: str) -> Pictured:
    """A plan carried out."""
    if name == SAWN:
        return Pictured(*make())
    example, shop = name.split(", ")
    return Pictured(proved(example, shop), job(example), making(example, shop))


@cache
def shown(name: str, step: str) -> Picture:
    """A step's picture in the room it is printed in: the first on the job card where it can be read, or the staff sheet's."""
    given = pictured(name)
    found = next(each for each in given.plan.steps if each.id == step)
    if found.card == "staff":
        return picture(found, given, *staff_sheet.PICTURE)
    pictures = [picture(found, given, *ROOMS["beside"])]
    if not pictures[0].readable:
        pictures += [picture(found, given, *ROOMS[where]) for where in ("under", "across")]
    return next((each for each in pictures if each.readable), pictures[0])


def steps(name: str, *kinds: str) -> Iterator[tuple[Step, list[Task]]]:
    """The steps of a plan with their tasks; only of some kinds of step, where they are named."""
    given = pictured(name)
    for step in given.plan.steps:
        if step.kind in kinds or not kinds:
            yield step, [given.tasks[task] for task in step.tasks]


def words(drawn: Picture, kind: str) -> list[str]:
    """The texts of a kind in a picture."""
    return [each.text or "" for each in ET.fromstring(drawn.svg).iter(f"{SVG}text") if each.get("class") == kind]


def kinds(drawn: Picture) -> set[str]:
    """The kinds of lines in a picture."""
    return {each.get("class", "") for each in ET.fromstring(drawn.svg).iter(f"{SVG}path")}


def figures(marks: object) -> set[float]:
    """All that marks say in mm, and the widths between two lines."""
    if isinstance(marks, bool) or marks is None or isinstance(marks, str):
        return set()
    if isinstance(marks, int | float):
        return {round(float(marks), 1)}
    if isinstance(marks, tuple):
        return {number for each in marks for number in figures(each)}
    assert is_dataclass(marks)
    width = {round(marks.far - marks.near, 1)} if isinstance(marks, Between) else set()
    return width | {number for field in fields(marks) for number in figures(getattr(marks, field.name))}


@pytest.mark.parametrize("name", PLANS)
def test_every_step_has_a_picture_that_can_be_read(name: str) -> None:
    for step, _ in steps(name):
        drawn = shown(name, step.id)
        if step.kind == "guards-back":
            assert not drawn.svg, step.id
            continue
        assert drawn.svg, step.id
        assert drawn.readable, step.id
        assert ET.fromstring(drawn.svg).get("aria-label") == step.title
        assert not words(drawn, "missing"), step.id


def test_only_putting_guards_back_has_no_picture() -> None:
    assert [step.kind for step, _ in steps(SAWN) if not shown(SAWN, step.id).svg] == ["guards-back"]


@pytest.mark.parametrize("name", PLANS)
def test_texts_are_large_enough_stand_apart_and_stay_inside(name: str) -> None:
    for step, _ in steps(name):
        drawn = shown(name, step.id)
        paper = Box(-0.6, -0.6, drawn.width + 0.6, drawn.height + 0.6)
        for number, box in enumerate(drawn.texts):
            assert box.left >= paper.left, step.id
            assert box.right <= paper.right, step.id
            assert box.top >= paper.top, step.id
            assert box.bottom <= paper.bottom, step.id
            assert not any(box.overlaps(other, -0.05) for other in drawn.texts[number + 1 :]), step.id
        for element in ET.fromstring(drawn.svg or "<svg/>").iter(f"{SVG}text"):
            assert float(element.get("font-size", "0")) >= 3.175, element.text  # 9 pt


@pytest.mark.parametrize("name", PLANS)
def test_what_is_cut_away_is_hatched_and_only_where_something_is_cut(name: str) -> None:
    for step, tasks in steps(name, "work", "set-up"):
        found = kinds(shown(name, step.id))
        if any(task.layouts and task.kind != "rough-length" for task in tasks):
            assert "waste contour" in found, step.id
            # The rim of a small hole leaves no room for lines; what a blade takes from below lies under the wood.
            small = {task.kind for task in tasks} <= BORED
            below = all(layout.lie.tool == "below" for task in tasks for layout in task.layouts)
            assert "hatch" in found or small or below, step.id
        elif not any(task.kind == "mark-out" for task in tasks):
            assert not {"waste contour", "hatch", "waste"} & found, step.id


def test_wood_and_waste_are_the_piece_as_it_comes_to_the_step() -> None:
    """What is drawn is cut from the state of the making: earlier cuts are in it, later ones are not."""
    compared = 0
    for name in PLANS:
        given = pictured(name)
        for step, tasks in steps(name, "work"):
            stock = tasks[0].kind == "rough-length"
            if len(tasks) > 1 or not tasks[0].layouts or step.station_kind in TOOLS or stock:
                continue
            # Stock is shown once for both hands.
            for cell, state in zip(scenes_of(step, given), given.states[tasks[0].id], strict=False):
                wood, waste = (
                    sum(thing.solid.volume for thing in cell.scene.things if thing.look == look) for look in ("wood", "waste")
                )
                if wood + waste > 0.99 * state.before.body.volume:  # else it is drawn broken
                    compared += 1
                    assert waste == pytest.approx(state.removed.volume, abs=0.5), step.id
                    assert wood == pytest.approx(state.after.body.volume, abs=0.5), step.id
    assert compared >= 8


@pytest.mark.parametrize("name", PLANS)
def test_the_rest_of_a_board_is_stock_and_no_waste(name: str) -> None:
    blanks = [step for step, tasks in steps(name, "work") if {task.kind for task in tasks} == {"rough-length"}]
    assert blanks
    for step in blanks:
        assert not {"waste contour", "hatch"} & kinds(shown(name, step.id)), step.id


@pytest.mark.parametrize("name", PLANS)
def test_both_hands_are_drawn_and_named(name: str) -> None:
    for step, tasks in steps(name, "work"):
        named = words(shown(name, step.id), "caption")
        for task in tasks:
            hands = [layout.hand for layout in task.layouts if layout.hand]
            # What is squared first makes the pieces of a pair left and right.
            if task.kind in WORK_KINDS and not any(each.kind == "first-end" for each in tasks):
                assert not [caption for caption in named if "hand" in caption], step.id  # stock has no hand yet
            else:
                for hand in hands:
                    assert [caption for caption in named if caption.endswith(f"{hand} hand")], step.id


def test_some_parts_have_two_hands_and_some_cuts_one() -> None:
    hands = [{layout.hand for layout in task.layouts} for name in PLANS for _, tasks in steps(name) for task in tasks]
    assert {"left", "right"} in hands
    assert {None} in hands


@pytest.mark.parametrize("name", PLANS)
def test_sizes_are_figures_of_the_settings_or_of_what_is_set_out(name: str) -> None:
    for step, tasks in steps(name, "work", "set-up"):
        cuts = [task for task in tasks if task.layouts]
        known = {round(setting.value, 1) for task in cuts for setting in task.settings if setting.value is not None}
        known |= {number for task in cuts for layout in task.layouts for number in figures(layout.marks)}
        sizes = [size for size in words(shown(name, step.id), "size") if not size.endswith(" left on")] if cuts else []
        said = {float(size) for size in sizes}
        assert {round(size, 1) for size in said} <= known, step.id


@pytest.mark.parametrize("name", PLANS)
def test_a_length_that_is_cut_stands_in_the_picture(name: str) -> None:
    parts = pictured(name).job.parts
    for step, tasks in steps(name, "work"):
        for task in tasks:
            if task.kind == "length" and task.layouts:
                assert f"{parts[task.part].worked.length:g}" in words(shown(name, step.id), "size"), step.id


@pytest.mark.parametrize("name", PLANS)
def test_joining_shows_every_part_of_the_step(name: str) -> None:
    for step, tasks in steps(name, "work"):
        if {task.kind for task in tasks} & JOINING:
            assert {work.letter for work in step.parts} <= {word.split()[0] for word in words(shown(name, step.id), "letter")}, (
                step.id
            )


@pytest.mark.parametrize("name", PLANS)
def test_what_is_brought_together_is_shown_apart_with_its_ways_in(name: str) -> None:
    given = pictured(name)
    for step, tasks in steps(name, "work"):
        joints = {joint for task in tasks for joint in task.joints if task.kind in JOINING}
        new = joints - {joint.name for joint in given.joined_before(step)}
        if not new:
            continue
        apart, *after = scenes_of(step, given)
        assert apart.scene.arrows, step.id
        assert [cell.caption for cell in after] == ([] if tasks[0].kind == "clean-inside" else ["together"]), step.id


def test_the_two_hands_of_a_side_are_named_where_they_go_in() -> None:
    step = next(step for step, _ in steps("herb-caddy, full") if step.id == "box/glue/glue")
    assert {"left", "right"} <= set(words(shown("herb-caddy, full", step.id), "name"))


def test_what_is_glued_already_moves_as_one() -> None:
    """The divider goes down into the box, and the handle through both of its ends."""
    given = pictured("herb-caddy, full")
    step = next(step for step in given.plan.steps if step.id == "whole/glue/glue")
    apart = scenes_of(step, given)[0].scene
    ways = {tuple(round(to - at) for at, to in zip(arrow.start, arrow.stop, strict=True)): arrow for arrow in apart.arrows}
    assert {way for way in ways if way[2] < 0 and way[:2] == (0, 0)}
    assert {way for way in ways if way[0] and way[1:] == (0, 0)}
    assert len(apart.things) == 7


def test_a_frame_that_is_glued_is_nailed_as_it_stands() -> None:
    given = pictured("picture-frame, full")
    step = next(step for step in given.plan.steps if step.title == "Nail together: frame")
    (cell,) = scenes_of(step, given)
    assert not cell.scene.arrows
    assert not cell.caption


@pytest.mark.parametrize("shop", WORKSHOPS)
def test_hardware_that_goes_on_the_back_is_fixed_with_the_back_on_top(shop: str) -> None:
    given = pictured(f"picture-frame, {shop}")
    step = next(step for step in given.plan.steps if step.title.startswith("Fix the hanger"))
    (cell,) = scenes_of(step, given)
    frame = joined(each.solid for each in cell.scene.things if each.letter in ("A", "B"))
    low, high = frame.bounds.span("z")
    assert high - low == pytest.approx(20.0), "it lies flat"
    slices = [frame & solid_box((-1e3, -1e3, at), (1e3, 1e3, at + 5.0)) for at in (low, high - 5.0)]
    assert slices[1].volume < slices[0].volume, "the rebate, which is in the back, is open to the top"
    hung, other = given.whole(step.tasks[0]).lying_with("long-piece.2", "outside"), ("long-piece.2", "long-piece.1")
    upper, lower = (hung.boxes[piece] for piece in other)
    assert upper.low.y > lower.low.y, "its top is away from the viewer"


def test_hardware_is_shown_as_the_work_stands_where_no_face_is_named() -> None:
    given = pictured("picture-frame, full")
    step = next(step for step in given.plan.steps if step.title.startswith("Fix the hanger"))
    hanger = replace(given.job.hardware["hanger"], on=None)
    bare = Pictured(given.plan, replace(given.job, hardware={**given.job.hardware, "hanger": hanger}), given.making)
    (cell,) = scenes_of(step, bare)
    low, high = joined(each.solid for each in cell.scene.things).bounds.span("z")
    assert high - low > 150.0, "it stands up"


@pytest.mark.parametrize("name", PLANS)
def test_machines_show_what_is_set_and_which_way_to_feed(name: str) -> None:
    for step, tasks in steps(name, "work", "set-up"):
        if step.station_kind not in TOOLS or not any(task.layouts for task in tasks):
            continue
        drawn = shown(name, step.id)
        named = {word.split(" ")[-1] for word in words(drawn, "name")}
        assert named >= TOOLS[step.station_kind], step.id
        assert "feed" in kinds(drawn), step.id
        assert "tool contour" in kinds(drawn), step.id


def test_all_kinds_of_machine_in_the_table_are_looked_at() -> None:
    assert {step.station_kind for name in PLANS for step, _ in steps(name, "set-up")} == set(TOOLS)


@pytest.mark.parametrize("name", PLANS)
def test_face_marks_are_drawn_only_once_they_are_made(name: str) -> None:
    given = pictured(name)
    marking = [task for _, tasks in steps(name) for task in tasks if task.kind == "face-marks"]
    marked = {part for task in marking for part in (task.part, *task.parts)}
    done: set[str] = set()
    for step, tasks in steps(name, "work"):
        if any(task.kind == "face-marks" for task in tasks):
            done |= {part for task in tasks for part in (task.part, *task.parts) if part}
            assert "face-side" in kinds(shown(name, step.id)), step.id
        elif all(task.layouts and task.part in marked - done for task in tasks):
            assert not {"face-side", "face-edge"} & kinds(shown(name, step.id)), step.id
        rounds = [task for task in tasks if task.layouts and given.job.parts[task.part].section == "round"]
        if rounds and len(rounds) == len(tasks):
            assert not {"face-side", "face-edge"} & kinds(shown(name, step.id)), step.id


@pytest.mark.parametrize("name", PLANS)
def test_waiting_says_how_long(name: str) -> None:
    for step, _ in steps(name, "wait"):
        assert words(shown(name, step.id), "wait") == [f"{step.minutes / 60:g} hours"]


def test_a_students_card_shows_no_staff_step() -> None:
    plan, drawn, made = make()
    pages = job_card(plan, Drawings(plan, drawn, made, {}), "a4")
    blocks = [entry for page in pages for entry in page.entries if isinstance(entry, CardEntry)]
    pictures = [each for block in blocks for each in block.pictures]
    students = {step.id for step in plan.steps if step.card == "student" and step.kind == "work"}
    assert {each.step.id for each in pictures} == students
    staffs = {step.title for step in plan.steps if step.card == "staff"}
    assert staffs
    for each in pictures:
        assert ET.fromstring(each.drawing).get("aria-label") not in staffs


def test_waste_left_on_is_drawn_until_it_is_trimmed() -> None:
    given = pictured("step-stool, full")
    trim = next(step for step in given.plan.steps if step.tasks == ("leg/right-allowance/trim",))
    assert words(shown("step-stool, full", trim.id), "size") == ["20"]
    (cell,) = scenes_of(trim, given)
    waste = sum(thing.solid.volume for thing in cell.scene.things if thing.look == "waste")
    assert waste == pytest.approx(given.states["leg/right-allowance/trim"][0].removed.volume, abs=0.5)
    mark = next(step for step, tasks in steps("step-stool, full") if tasks[0].id == "leg/mark-out/mark")
    assert "20 left on" in words(shown("step-stool, full", mark.id), "size")


def test_no_step_of_the_examples_has_more_pictures_than_are_drawn() -> None:
    for name in PLANS:
        for step, _ in steps(name, "work"):
            assert len(scenes_of(step, pictured(name))) <= MOST, step.id


def _all(name: str) -> str:
    given = pictured(name)
    drawn = (picture(step, given, 57.0, 34.0).svg for step in given.plan.steps)
    return sha256("\n".join(drawn).encode()).hexdigest()


_SCRIPT = """
import sys
from tests.paper.test_step_pictures import _all
print(_all(sys.argv[1]))
"""


@pytest.mark.parametrize("name", ["picture-frame, full", "step-stool, hand-tools"])
def test_pictures_are_the_same_every_time_and_in_another_process(name: str) -> None:
    first = _all(name)
    pictured.cache_clear()
    assert _all(name) == first
    other = subprocess.run(
        [sys.executable, "-c", _SCRIPT, name],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONHASHSEED": "11"},
    )
    assert other.stdout.strip() == first


@pytest.mark.parametrize("name", PLANS)
def test_pictures_hold_no_ids_and_no_long_figures(name: str) -> None:
    for step, _ in steps(name):
        svg = shown(name, step.id).svg
        assert " id=" not in svg
        assert not re.search(r"\d\.\d{3}", "".join(re.findall(r' d="([^"]*)"', svg))), step.id


def _named(scene: Scene, name: str) -> Solid:
    return next(thing.solid for thing in scene.things if thing.name == name)


def _middle(solid: Solid) -> tuple[float, float]:
    low, high = solid.bounds.low, solid.bounds.high
    return (low.x + high.x) / 2, (low.y + high.y) / 2


def test_a_cramp_stands_well_clear_of_the_bit() -> None:
    """Further off than a chuck is wide, about 60 mm with its guard (common practice)."""
    seen = 0
    for name in PLANS:
        for step, _ in steps(name, "work"):
            if step.station_kind != "pillar-drill" or "machine-clamp" not in {thing.name for thing in step.holding}:
                continue
            for cell in scenes_of(step, pictured(name)):
                bit = next(thing.solid for thing in cell.scene.things if thing.name.endswith(" bit"))
                cramp = next((thing.solid for thing in cell.scene.things if thing.name == "cramp"), None)
                if cramp is not None:
                    seen += 1
                    assert dist(_middle(bit), _middle(cramp)) > 60.0, step.id
    assert seen >= 5


def test_the_clamp_of_a_mitre_saw_is_on_the_wood_that_stays_beside_the_stop() -> None:
    sawn = [step for step, _ in steps(SAWN, "work") if step.station_kind == "mitre-saw"]
    assert sawn
    for step in sawn:
        for cell in scenes_of(step, pictured(SAWN)):
            clamp, blade, stop = (_middle(_named(cell.scene, name))[0] for name in ("clamp", "blade", "stop"))
            assert abs(clamp - stop) < abs(clamp - blade)
            assert _named(cell.scene, "guard").bounds.low.z > max(
                thing.solid.bounds.high.z for thing in cell.scene.things if thing.look == "wood"
            )


def test_wood_is_pushed_to_the_blade_of_a_scroll_saw() -> None:
    """The arrow comes over the wood to the blade: the wood moves, the blade does not."""
    seen = 0
    for name in PLANS:
        for step, _ in steps(name, "work"):
            if step.station_kind not in ("scroll-saw", "band-saw"):
                continue
            for cell in scenes_of(step, pictured(name)):
                seen += 1
                (arrow,) = cell.scene.arrows
                blade = _middle(_named(cell.scene, "blade"))
                start, stop = (dist((end.x, end.y), blade) for end in (arrow.start, arrow.stop))
                assert stop < start
                wood = [thing.solid.bounds for thing in cell.scene.things if thing.look in ("wood", "waste")]
                assert any(each.low.x < arrow.stop.x < each.high.x and each.low.y < arrow.stop.y < each.high.y for each in wood)
    assert seen


def test_tenons_that_are_alike_at_both_ends_are_drawn_once_and_as_they_become() -> None:
    given = pictured("step-stool, full")
    (step,) = (step for step, tasks in steps("step-stool, full", "work") if {task.kind for task in tasks} == {"tenon"})
    assert len(step.tasks) == 2
    assert [each.caption for each in scenes_of(step, given)] == ["left tenon and right tenon", "when sawn"]
    said = [[size.label for size in each.scene.sizes] for each in scenes_of(step, given)]
    assert said == [["26", "7", "8"], ["5", "45"]]
