"""What steps call the parts they join, word for word: no two steps of a plan that do different work are called alike."""

from __future__ import annotations

from collections import Counter

import pytest

from sequencer.asking.orders import why_before
from sequencer.planning.joined_names import what_is_joined
from tests.made import job, knowledge, plan

JOINING = ("dry-fit", "fit-dry", "glue", "screw", "nail", "key", "make-wedges", "wedge", "flush")


def _titles(name: str) -> list[str]:
    tasks = {task.id: task for task in plan(name).tasks}
    return [step.title for step in plan(name).steps if step.kind == "work" and tasks[step.tasks[0]].kind in JOINING]


def test_the_whole_is_only_what_lacks_nothing() -> None:
    """The roof is still missing when the box of the nest is screwed together."""
    assert _titles("nest-box") == [
        "Try it dry: back, side, front and floor",
        "Try it dry: roof in place",
        "Screw together: back, side, front and floor",
        "Screw together: roof in place",
    ]
    assert [title for title in _titles("herb-caddy") if title.startswith("Glue")] == [
        "Glue and cramp: box",
        "Glue and cramp: the whole",
    ]


def test_wedges_say_which_joint_they_are_for() -> None:
    titles = _titles("tests/assemblies/wedged-stool.yaml")
    for doing in ("Saw the wedges", "Drive the wedges", "Trim the wedges flush"):
        assert [title for title in titles if title.startswith(doing)] == [f"{doing}: rail into leg", f"{doing}: leg into seat"]


def test_what_has_no_name_of_its_own_says_what_is_joined_to_what() -> None:
    titles = set(_titles("tests/cases/s08-keyed-tabouret.yaml"))
    assert {
        "Try it dry: lower over across lower under",
        "Put together dry: lower under and lower over into leg",
        "Glue and cramp: upper under and upper over into leg",
        "Screw together: top to upper under",
    } <= titles
    assert not [title for title in titles if "glued" in title or title.endswith(": the whole")]


@pytest.mark.parametrize("name", ["herb-caddy", "nest-box", "step-stool", "picture-frame", "tests/assemblies/wedged-stool.yaml"])
def test_no_two_joining_steps_are_called_alike(name: str) -> None:
    assert max(Counter(_titles(name)).values()) == 1


def test_parts_that_take_each_other_stand_in_a_row() -> None:
    drawn = job("nest-box")
    assert what_is_joined(drawn, list(drawn.joints.values())) == "back, side, front, floor and roof"


def test_a_note_that_several_cuts_bear_is_printed_once() -> None:
    made = plan("tests/cases/s08-keyed-tabouret.yaml")
    step = next(each for each in made.steps if each.kind == "work" and "lower-under/left-key-mortise/cut" in each.tasks)
    assert step.notes.count("Slope the outer end: 3/4 in long on top, 5/8 in underneath.") == 1


def test_wedges_come_off_with_the_end_they_stand_in() -> None:
    """One cut through tenon and wedges: no step of their own, and `why` knows that the glue must hold them first."""
    made = plan("tests/cases/s07-glass-door-frame.yaml")
    assert not [task for task in made.tasks if task.kind == "flush"]
    titles = [step.title for step in made.steps]
    assert "Trim end and wedges flush: left of the top rail and right of the top rail (B)" in titles
    assert "Trim flush: foot of the stile and head of the stile (A)" in titles
    step = next(each for each in made.steps if "top-rail/left-allowance/trim" in each.tasks)
    assert "Saw the wedges off in the same cut." in step.notes
    said = " ".join(why_before(made, knowledge(), "frame/wedge", "top-rail/left-allowance").split())
    assert said.endswith(
        "[cure]: The wedges in the end are sawn off with it, when the glue holds them. otherwise: The saw pulls a wedge out of "
        "wet glue. source: common practice"
    )
