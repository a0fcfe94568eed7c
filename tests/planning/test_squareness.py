"""What must measure alike on a glue-up: diagonals of frames and over four legs, and what is across two pieces on one rail."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from sequencer.design.placing import place
from sequencer.model.job import Job
from sequencer.model.plan import Plan, Step
from sequencer.planning.grouping import joint_groups
from sequencer.planning.squareness import square_figures
from sequencer.reading.job import read_job
from tests.made import ROOT, job, knowledge, plan

PLANS = ("step-stool", "picture-frame", "herb-caddy")


def figures(drawn: Job) -> list[dict[str, float]]:
    """What is measured at each group of joints, in order."""
    groups, placement = joint_groups(drawn), place(drawn)
    return [square_figures(drawn, group, placement, knowledge().working, groups[:at]) for at, group in enumerate(groups)]


def drawn(name: str) -> Job:
    return job(f"tests/assemblies/{name}.yaml")


# Legs of 44 stand 230 apart over their outsides, frames 300; spans as the head of the example has them.
def test_legs_on_one_rail_are_measured_across_and_four_legs_by_their_diagonals() -> None:
    found = figures(job("step-stool"))
    across = [each["joint.across"] for each in found if "joint.across" in each]
    assert across
    assert set(across) == {230.0}
    (legs,) = [each for each in found if "joint.diagonal-legs" in each]
    assert (legs["joint.diagonal-legs"], legs["joint.legs-within"]) == (round(hypot(230, 300)), 1.0)
    assert "joint.across" not in legs


# The frame is 400 x 280 and its legs 350 high: the short sides are closed first, then the long ones, and only then do four legs
# stand together.
def test_a_table_is_measured_across_its_legs_besides_its_sides() -> None:
    glued = [step for step in plan("tests/assemblies/table-frame.yaml").steps if step.tasks[0].endswith("/glue/glue")]
    limits = [[check.limit for check in step.checks if "diagonals" in check.how] for step in glued]
    sides = [f"both {round(hypot(wide, 350))} mm, equal within 1 mm" for wide in (280, 400)]
    assert limits == [sides[:1], [f"both {round(hypot(400, 280))} mm, equal within 1 mm", sides[1]]]


def test_two_pieces_on_one_rail_are_measured_at_the_rail_and_at_their_ends() -> None:
    (found,) = figures(drawn("dowelled-rail"))
    assert found["joint.across"] == 380.0
    assert "joint.diagonal" not in found


# The tapered faces of the stool's legs look at each other. Were they outside, the feet would measure less for the taper alone.
def test_what_is_tapered_outside_is_not_measured_there() -> None:
    stool = job("step-stool")
    leg = stool.parts["leg"]
    turned = replace(leg.features["foot-taper"], edge="bottom")
    other = replace(stool, parts={**stool.parts, "leg": replace(leg, features={**leg.features, "foot-taper": turned})})
    assert any("joint.across" in each for each in figures(stool))
    assert not any("joint.across" in each for each in figures(other))


# The two boards of the stool's seat lie side by side on its rails, which the spine holds apart: their corners say where the
# boards were put, and nothing of the stool.
def test_boards_that_only_lie_on_rails_are_no_frame_with_them() -> None:
    stool = job("step-stool")
    boards = next(at for at, group in enumerate(joint_groups(stool)) if any("seat" in joint.name for joint in group.joints))
    found = figures(stool)[boards]
    assert not [name for name in found if name.startswith("joint.diagonal")]
    assert found["joint.opposite"] == 0
    (tried,) = (step for step in plan("step-stool").steps if "seat-in-place/dry-fit/try" in step.tasks)
    assert not [check for check in tried.checks if "diagonals" in check.how or "opposite" in check.what]


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
@pytest.mark.parametrize("name", ["step-stool", "herb-caddy"])
def test_a_glue_up_is_told_how_close_it_must_be_square(name: str, shop: str) -> None:
    glued = [step for step in plan(name, shop).steps if step.tasks[0].endswith("/glue/glue") and step.kind == "work"]
    assert glued
    for step in glued:
        assert "Try the square at each corner, within 1 mm." in step.instructions
        ring = any("corner to corner" in check.what for check in step.checks)
        assert any(line.startswith("Check both diagonals, equal within ") for line in step.instructions) == ring
        assert all(any(figure.isdigit() for figure in line) for line in step.instructions if "diagonals" in line)


# The opening of the wedged stool is 220 x 50 inside: a corner half a degree out changes its diagonals by 0.8 mm only.
def test_a_small_opening_is_left_to_the_square() -> None:
    assert not any(name.startswith("joint.diagonal") for each in figures(drawn("wedged-stool")) for name in each)


@pytest.mark.parametrize("path", sorted(ROOT.glob("tests/assemblies/*.yaml")), ids=lambda path: path.stem)
def test_nobody_is_asked_to_measure_closer_than_a_millimetre(path: str) -> None:
    for each in figures(read_job(path)[0]):
        for name in ("joint.square-within", "joint.legs-within"):
            assert each.get(name, 1.0) >= 1.0
            assert each.get(name, 1.0).is_integer()


def together(made: Plan, station: str) -> list[Step]:
    return [step for step in made.steps if step.station_kind == station and step.kind == "work"]


@pytest.mark.parametrize("name", PLANS)
def test_the_dry_trial_is_measured_on_the_card_as_the_glue_up_is(name: str) -> None:
    made = plan(name)
    tried = {step.tasks[0].split("/")[0]: step for step in together(made, "assembly")}
    glued = [step for step in together(made, "gluing") if step.tasks[0].endswith("/glue/glue")]
    assert glued
    for step in glued:
        asked = {
            (check.what, check.how)
            for check in step.checks
            if "diagonals" in check.how or check.what in ("parallel", "out of wind")
        }
        on_trial = tried[step.tasks[0].split("/")[0]]
        assert asked <= {(check.what, check.how) for check in on_trial.checks if check.card}
        assert asked <= {(check.what, check.how) for check in step.checks if check.card}


@pytest.mark.parametrize("name", PLANS)
def test_what_a_check_is_made_with_is_laid_out(name: str) -> None:
    made = plan(name)
    listed = {tool.name for tool in made.tools}
    for step in made.steps:
        how = " ".join(check.how for check in step.checks)
        for word, tool in (
            ("winding strips", "pair of winding strips"),
            ("sliding sticks", "pair of sliding sticks"),
            ("tape", "tape measure"),
        ):
            if word in how and step.station_kind in ("assembly", "gluing"):
                assert tool in step.tools
                assert tool in listed


def test_over_which_pieces_a_rail_may_spread_or_pull_in_is_said_with_the_figure() -> None:
    """The caddy's handle goes in between its ends, which stand 320 mm apart outside by the drawing."""
    (step,) = (each for each in plan("herb-caddy").steps if "whole/glue/glue" in each.tasks)
    check = next(each for each in step.checks if each.what == "width outside")
    assert (check.how, check.limit) == ("measure over both B, beside E and at the far ends", "320 mm at each place, within 1 mm")
    assert check.card
    assert "Move the pieces or cramps until all measures agree." in step.if_wrong


def test_a_stool_is_tried_on_a_flat_board_in_the_glue_and_when_it_is_whole() -> None:
    steps = {task: each for each in plan("step-stool").steps for task in each.tasks}
    for task in ("spine-in-place/glue/glue", "whole/clean-up/clean"):
        check = next(each for each in steps[task].checks if each.what == "standing")
        assert check.limit == "no rocking, every foot touches"
        assert check.card
        assert "flat board" in steps[task].tools
    assert "Press every foot onto the flat board while the glue is wet." in steps["spine-in-place/glue/glue"].if_wrong
    assert "Draw round each foot along a flat block." in steps["whole/clean-up/clean"].if_wrong
    assert not [each for each in steps["end-frame/glue/glue"].checks if each.what == "standing"]
