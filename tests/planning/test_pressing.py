"""Where cramps press, against what a joiner would say of the same drawing."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sequencer.design.placing import place
from sequencer.knowledge.wording import MOST_WORDS, imperative_faults
from sequencer.model.job import Job
from sequencer.planning.closing import closings
from sequencer.planning.going_together import cramp_lines
from sequencer.planning.grouping import joint_groups
from sequencer.planning.planner import ways_of
from sequencer.planning.pressing import Press, presses
from sequencer.solid.going_in import blocking_of
from tests.interlocking import corner
from tests.made import EXAMPLES, job, knowledge, plan, workshop

DOOR = "tests/cases/s07-glass-door-frame.yaml"
DRAWER = "tests/assemblies/drawer.yaml"
TABLE_DRAWER = "tests/cases/s06-table-drawer.yaml"
FINGERS = "tests/assemblies/finger-box.yaml"
GLUED = (
    *EXAMPLES,
    DOOR,
    DRAWER,
    FINGERS,
    TABLE_DRAWER,
    "tests/cases/s08-keyed-tabouret.yaml",
    "tests/assemblies/captured-handle.yaml",
    "tests/assemblies/panel-door.yaml",
    "tests/assemblies/stopped-shelf.yaml",
    "tests/assemblies/table-frame.yaml",
    "tests/assemblies/wedged-stool.yaml",
)
WORKING = knowledge().working
BLOCKS = 2 * WORKING.jaw_block


def pressed(drawn: Job) -> list[Press]:
    """The cramps of all glue-ups of a job."""
    placement = place(drawn)
    return [each for group in joint_groups(drawn) for each in presses(drawn, group.joints, placement, WORKING)]


def lines(drawn: Job) -> list[str]:
    """What all glue-ups of a job say of their cramps."""
    placement = place(drawn)
    found = closings(drawn, joint_groups(drawn), placement, blocking_of(drawn))
    return [line for each in found for line in cramp_lines(drawn, each, placement, WORKING)]


def fixed(drawn: Job, *how: str) -> Job:
    """The job with all its joints fixed in another way."""
    return replace(drawn, joints={name: replace(each, fixed=how) for name, each in drawn.joints.items()})


def test_no_jaw_bears_on_the_end_of_a_tenon_that_is_wedged() -> None:
    """The tenons of the door reach the outer edge of the stile, and stand out 1/8 inch until they are sawn off."""
    found = pressed(job(DOOR))
    assert len(found) == 2
    for each in found:
        assert sorted(end.piece for end in each.ends) == sorted(each.over)
        for end in each.ends:
            assert end.driven == "wedge"
            assert end.block == WORKING.jaw_block + 4
            low, high = end.spans[each.jaws.run]
            for at in each.jaws.places:
                assert at + WORKING.cramp_jaw / 2 <= low + 1e-6 or at - WORKING.cramp_jaw / 2 >= high - 1e-6
    assert lines(job(DOOR)) == [
        "Put one cramp from A left to A right, at each of B and C.",
        "Put a notched block 22 mm thick round each tenon end.",
        "Set each jaw beside its tenon, to leave room for wedges.",
    ]


def test_the_cramps_of_the_door_open_over_its_tenons_and_the_blocks() -> None:
    (glued,) = (step for step in plan(DOOR).steps if step.id == "frame/glue/glue")
    wanted = 9 * 25.4 + 2 * 25.4 / 8 + BLOCKS
    assert [each.opening for each in pressed(job(DOOR))] == [pytest.approx(wanted)] * 2
    (open_,) = (each.value for each in glued.settings if each.name == "open")
    assert open_ == pytest.approx(wanted)


@pytest.mark.parametrize(("reach", "enough"), [(230, False), (265, False), (275, True)])
def test_a_cramp_that_opens_only_as_far_as_the_work_is_too_short(reach: float, enough: bool) -> None:
    shop = workshop()
    cramps = {name: replace(each, reach=reach) if each.kind == "sash-cramps" else each for name, each in shop.counted.items()}
    ways = {
        way.operation: way
        for _, found, _ in ways_of("frame/glue/glue", job(DOOR), replace(shop, counted=cramps), knowledge())
        for way in found
    }
    assert ways["glue-with-sash-cramps"].possible is enough


def test_a_tenon_right_through_that_is_only_glued_is_kept_from_the_jaws_and_a_blind_one_is_not_in_the_way() -> None:
    through = lines(fixed(job(DOOR), "glue"))
    assert "Put a notched block 22 mm thick round each tenon end." in through
    assert not any("wedges" in line for line in through)
    assert "Set each cramp in the middle of its joint." in through
    assert not any(each.ends for each in pressed(job("step-stool")))


def test_a_block_of_scrap_lies_under_each_jaw() -> None:
    (glued,) = (step for step in plan("step-stool").steps if step.id == "end-frame/glue/glue")
    assert {each.opening for each in pressed(job("step-stool"))} == {230 + BLOCKS, 70 + BLOCKS}
    assert [each.text for each in glued.settings if each.name == "open"] == ["more than 266 mm"]
    assert glued.instructions[0] == "Set 2 cramps with 18 mm scrap blocks to the dry work."
    # Corner blocks are counted by the way of gluing that takes them.
    (mitres,) = (step for step in plan("picture-frame").steps if step.id == "frame/glue/glue")
    assert not any("scrap" in line for line in mitres.instructions)


def test_an_end_in_a_rebate_at_the_corner_is_drawn_both_ways() -> None:
    """The shoulder of a rebate closes across the way that its floor does."""
    caddy = [(each.over, each.between, each.across) for each in pressed(job("herb-caddy"))]
    assert caddy == [
        (("side.left", "side.right"), "end.1", False),
        (("side.left", "side.right"), "end.2", False),
        (("end.1", "end.2"), "side.left", True),
        (("end.1", "end.2"), "side.right", True),
        # The divider stands in a housing with wood on both sides of it.
        (("side.left", "side.right"), "divider", False),
    ]
    assert {each.opening for each in pressed(job("herb-caddy")) if each.across} == {320 + BLOCKS}


def test_the_sides_of_a_drawer_are_drawn_to_its_front_and_to_each_other() -> None:
    assert lines(job(DRAWER))[:3] == [
        "Put one cramp from B right to A.",
        "Put one cramp from B left to A.",
        "Put one cramp from B right to B left, at each of A and C.",
    ]


def test_a_single_end_in_a_rebate_is_drawn_to_the_far_end_of_the_other_piece() -> None:
    drawn = job(DRAWER)
    alone = replace(drawn, joints={"corner-left": drawn.joints["corner-left"]})
    assert lines(alone)[:2] == ["Put one cramp from B right to A.", "Put one cramp from B right to the right end of A."]
    across = next(each for each in pressed(alone) if each.across)
    assert across.opening == 260 + BLOCKS


def test_tails_are_pressed_down_between_their_pins_and_not_along_them() -> None:
    """The sides of a table drawer go into its front across it: they lock against a pull along them, which closes nothing."""
    assert lines(job(TABLE_DRAWER))[:4] == [
        "Put one cramp from B right to B left, at each of A and C.",
        "Lay blocks on the tails only, clear of the pins.",
        "Set each cramp in the middle of its joint.",
        "Put one cramp from E 1 to A.",
    ]
    (tails,) = (each for each in pressed(job(TABLE_DRAWER)) if each.tails)
    placement = place(job(TABLE_DRAWER))
    low, high = placement.span("front", "y")
    assert tails.jaws.run == "y"
    # Two half pins of 5/16 inch: nothing is pressed there, and what is left is short enough for one cramp.
    assert high - low > WORKING.cramp_span > high - low - 2 * 5 / 16 * 25.4
    assert tails.jaws.places == (pytest.approx((low + high) / 2),)


def test_a_single_dovetailed_corner_is_pressed_from_the_tails_to_the_far_end_of_the_pins() -> None:
    drawn = fixed(corner(90, 12, 15, tails=3, pin=6, slope=6), "glue")
    (found,) = pressed(drawn)
    assert (found.over, found.tails) == (("side", "front"), True)
    assert found.opening == 310 + BLOCKS
    assert lines(drawn)[:2] == [
        "Put one cramp from A to the left end of B.",
        "Lay blocks on the tails only, clear of the pins.",
    ]


def test_fingers_are_closed_both_ways() -> None:
    assert lines(job(FINGERS))[:2] == [
        "Put one cramp from A 1 to A 2, at each B.",
        "Put one cramp from B 1 to B 2, at each A.",
    ]


@pytest.mark.parametrize("name", GLUED)
def test_what_is_said_of_cramps_is_one_short_imperative_a_line(name: str) -> None:
    """The name of a piece counts as one word, and so do several of them in a row."""
    for line in lines(job(name)):
        named = re.sub(r"\b([A-Z]) (?:left|right|\d)(?: \d)?\b", r"\1", line)
        named = re.sub(r"\b[A-Z](?:, [A-Z])*(?: and [A-Z])\b", "A", named)
        assert len(named.split()) <= MOST_WORDS, line
        assert not list(imperative_faults(named, {verb.lower() for verb in knowledge().verbs})), line


@pytest.mark.parametrize("name", GLUED)
def test_no_jaw_hangs_over_an_edge(name: str) -> None:
    drawn = job(name)
    placement = place(drawn)
    for each in pressed(drawn):
        for axis, places in ((each.jaws.run, each.jaws.places), (each.jaws.beside, (each.jaws.level,))):
            spans = [placement.span(piece, axis) for piece in each.over]
            low, high = max(low for low, _ in spans), min(high for _, high in spans)
            half = min(WORKING.cramp_jaw, high - low) / 2
            assert high > low, (each, axis)
            for at in places:
                assert low + half - 1e-6 <= at <= high - half + 1e-6, (each, axis)


def test_one_cramp_stands_in_the_middle_of_a_narrow_piece_and_several_from_the_ends_of_the_joint() -> None:
    """A rail 70 wide whose tenon lies off its middle; sides of a caddy 90 high."""
    stool, caddy = job("step-stool"), job("herb-caddy")
    (rail,) = (each for each in pressed(stool) if each.between == "end-rail.1")
    low, high = place(stool).span("end-rail.1", rail.jaws.run)
    assert high - low == 70
    assert rail.jaws.places == (pytest.approx((low + high) / 2),)
    for each in pressed(caddy):
        low, high = place(caddy).span("side.left", each.jaws.run)
        if each.between != "divider":
            assert high - low == 90
            assert each.jaws.places == (pytest.approx((low + high) / 2),)
    shelf = job("tests/assemblies/stopped-shelf.yaml")
    for each in pressed(shelf):
        if each.between == "low-board":
            low, high = place(shelf).span("low-board", each.jaws.run)
            assert each.jaws.places == (low + 50, high - 50)
    assert lines(shelf)[-1] == "Set the outer cramps 50 mm from the ends of the joint."
