"""Dowels, biscuits and wedges, planned, tried on the solids as they were made, and damaged."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from sequencer.design.checking import check_design
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.paper.pictured import Pictured
from sequencer.paper.step_pictures import scenes_of
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.proving.outcome import SAME
from tests.loose import biscuited, dowelled, wedged, with_features
from tests.made import job, knowledge, workshop
from tests.made import plan as made_plan
from tests.proving import damage

JOBS: dict[str, tuple[Job, str]] = {
    "dowels": (dowelled(), "hand-tools"),
    "bought dowels": (dowelled(bought=True), "full"),
    "biscuits": (biscuited(), "well-equipped"),
    "wedges in kerfs": (wedged(), "hand-tools"),
    "wedges beside the tenon": (wedged(kerfs=False), "full"),
}
WORK = {
    "dowels": ["make-dowels", "dry-fit", "clean-inside", "dowel", "glue", "cure"],
    "bought dowels": ["dry-fit", "clean-inside", "dowel", "glue", "cure"],
    "biscuits": ["dry-fit", "clean-inside", "biscuit", "glue", "cure"],
    "wedges in kerfs": ["make-wedges", "dry-fit", "clean-inside", "glue", "wedge", "cure", "flush"],
    "wedges beside the tenon": ["make-wedges", "dry-fit", "clean-inside", "glue", "wedge", "cure", "flush"],
}
NOTES = {
    "dowels": ["Use: dowel rod, diameter 8 mm, for 4 dowels 32 mm long.", "Use: 4 dowels, diameter 8 x 32 mm."],
    "bought dowels": ["Use: 4 dowel, diameter 8 mm x 32 mm."],
    "biscuits": ["Use: 3 biscuits, 47 x 15 mm."],
    # A wedge in a kerf fills it and opens half of what the mortise is longer, twice: 1 + 2 x 3 / 2.
    "wedges in kerfs": [
        "Use: an offcut with straight grain, planed 10 mm thick, 150 mm long, for 2 wedges.",
        "Use: 2 wedges, 40 x 10 x 4 mm.",
    ],
    # Beside the tenon it is as long as the mortise slopes: three quarters of 60.
    "wedges beside the tenon": [
        "Use: an offcut with straight grain, planed 10 mm thick, 150 mm long, for 2 wedges.",
        "Use: 2 wedges, 45 x 10 x 3 mm.",
    ],
}
BOUGHT = {
    "dowels": "dowel rod, diameter 8 mm",
    "bought dowels": "dowel, diameter 8 mm x 32 mm",
    "biscuits": "biscuits, 47 x 15 mm",
    "wedges in kerfs": "offcut with straight grain, planed 10 mm thick, 150 mm long",
    "wedges beside the tenon": "offcut with straight grain, planed 10 mm thick, 150 mm long",
}


@cache
def planned(name: str) -> Plan:
    drawn, shop = JOBS[name]
    return make_plan(drawn, workshop(shop), knowledge())


def failures(plan: Plan, drawn: Job) -> list[tuple[str, str]]:
    return [(look.check, look.says) for look in carry_out(plan, drawn).proof.failures]


@pytest.mark.parametrize("name", JOBS)
def test_it_is_drawn_without_error_planned_and_proved(name: str) -> None:
    drawn, _ = JOBS[name]
    assert [str(each) for each in check_design(drawn, knowledge()) if each.level == "error"] == []
    plan = planned(name)
    assert "not-planned" not in {each.code for each in plan.findings}
    made = carry_out(plan, drawn)
    assert [look.says for look in made.proof.failures] == []
    assert max(part.difference for part in made.proof.parts) <= SAME
    assert any(look.check == "loose" and look.held for task in made.proof.tasks for look in task.looked)


@pytest.mark.parametrize("name", JOBS)
def test_loose_pieces_have_work_of_their_own_in_the_order_of_the_trade(name: str) -> None:
    kinds = [task.kind for task in planned(name).tasks if not task.part and task.kind != "clean-up"]
    assert sorted(kinds) == sorted(WORK[name])
    assert [kind for kind in kinds if not kind.startswith("make-")] == [
        kind for kind in WORK[name] if not kind.startswith("make-")
    ]
    for made, needed in (("make-dowels", "dry-fit"), ("make-wedges", "glue")):
        assert made not in kinds or kinds.index(made) < kinds.index(needed)


@pytest.mark.parametrize("name", JOBS)
def test_cards_say_what_to_lay_out(name: str) -> None:
    used = [note for step in planned(name).steps for note in step.notes if note.startswith("Use:")]
    assert used == NOTES[name]
    students = workshop(JOBS[name][1]).students
    listed = [(thing.name, thing.total) for thing in planned(name).hardware]
    wanted = 3 if name == "biscuits" else 1 if name.startswith("wedges") else 4
    assert listed == ([(BOUGHT[name], wanted * students)] if name in BOUGHT else [])


@pytest.mark.parametrize("name", JOBS)
def test_every_sentence_has_its_figures(name: str) -> None:
    """No figure is left to staff, and none is printed as a name."""
    for step in planned(name).steps:
        assert not [said for said in (*step.instructions, *step.method) if "{" in said or "staff" in said.casefold()]


@pytest.mark.parametrize(("name", "kind"), [(name, kind) for name in JOBS for kind in ("dowel", "biscuit", "wedge")])
def test_loose_pieces_forgotten_or_put_in_too_late_are_noticed(name: str, kind: str) -> None:
    plan, drawn = planned(name), JOBS[name][0]
    found = next((task.id for task in plan.tasks if task.kind == kind), None)
    if found is None:
        assert kind not in WORK[name]
        return
    assert {check for check, _ in failures(damage.without(plan, found), drawn)} >= {"joined", "there"}
    after = next(task.id for task in plan.tasks if task.kind == ("cure" if kind == "wedge" else "glue"))
    assert "there" in {check for check, _ in failures(damage.swapped(plan, found, after), drawn)}


def test_wedges_before_the_joint_is_closed_are_noticed() -> None:
    plan, drawn = planned("wedges in kerfs"), JOBS["wedges in kerfs"][0]
    swapped = damage.swapped(plan, "corner/glue/glue", "corner/wedge/wedge")
    assert ("there", "corner is not closed yet") in failures(swapped, drawn)


def test_holes_bored_too_shallow_are_noticed_when_the_dowels_go_in() -> None:
    """Not only does the part differ from its drawing: the dowel meets the bottom."""
    plan, drawn = planned("dowels"), JOBS["dowels"][0]
    task = next(task for task in plan.tasks if task.kind == "dowel-holes" and task.part == "side")
    holes = tuple(
        replace(layout, marks=replace(layout.marks, depth=6.0)) if hasattr(layout.marks, "depth") else layout
        for layout in task.layouts
    )
    settings = tuple(replace(each, value=6.0) if each.name == "depth" else each for each in task.settings)
    damaged = damage.with_task(plan, replace(task, layouts=holes, settings=settings))
    says = [text for check, text in failures(damaged, drawn) if check == "loose"]
    assert says
    assert all("does not go home" in text for text in says)


def test_kerfs_not_sawn_are_noticed_when_the_wedges_go_in() -> None:
    plan, drawn = planned("wedges in kerfs"), JOBS["wedges in kerfs"][0]
    found = failures(damage.without(plan, "rail/kerfs/cut"), drawn)
    assert "loose" in {check for check, _ in found}
    assert any("the kerfs are not sawn" in says for _, says in found)


# Keys, which are parts of their own.

TABOURET = "tests/cases/s08-keyed-tabouret.yaml"


def test_keys_are_driven_when_the_tenons_are_home() -> None:
    plan = made_plan(TABOURET)
    (key,) = [task for task in plan.tasks if task.kind == "key"]
    assert key.operation == "fit-keys"
    assert key.joints == ("key-1", "key-2", "key-3", "key-4")
    assert key.minutes == 4 * knowledge().stations["assembly"].operations["fit-keys"].minutes.each
    assert "not-planned" not in {each.code for each in plan.findings}
    (legs,) = [task for task in plan.tasks if "leg-1" in task.joints and task.kind == "fit-dry"]
    assert [reason.kind for reason in plan.reasons if (reason.before, reason.after) == (legs.id, key.id)] == ["drawing"]


def test_a_key_left_out_or_driven_before_its_tenon_is_home_is_noticed() -> None:
    plan, drawn = made_plan(TABOURET), job(TABOURET)
    (key,) = [task.id for task in plan.tasks if task.kind == "key"]
    assert "joined" in {check for check, _ in failures(damage.without(plan, key), drawn)}
    (legs,) = [task.id for task in plan.tasks if "leg-1" in task.joints and task.kind == "fit-dry"]
    assert "way-in" in {check for check, _ in failures(damage.swapped(plan, legs, key), drawn)}


def test_a_key_too_thick_for_its_slot_is_noticed() -> None:
    """Drawn 2 mm thicker than its mortise is wide."""
    drawn = job(TABOURET)
    key = replace(drawn.parts["key"], thickness=drawn.parts["key"].thickness + 2)
    thick = replace(drawn, parts={**drawn.parts, "key": key})
    assert "too-tight" in {each.code for each in check_design(thick, knowledge()) if each.level == "error"}


# What the drawing gets wrong.


def errors(drawn: Job) -> list[str]:
    return [each.code for each in check_design(drawn, knowledge()) if each.level == "error"]


def test_a_dowel_longer_than_both_holes_is_named_with_its_figures() -> None:
    found = [each for each in check_design(dowelled(dowel=38), knowledge()) if each.level == "error"]
    assert {each.subject for each in found} == {"near", "far"}
    assert found[0].what == "The dowel is 38 mm across the joint, and its two holes are 23 + 13 mm deep: 2 mm too long."
    assert found[0].remedy == "Take dowels 33 mm long, or bore deeper."


def test_dowel_holes_that_do_not_meet_are_named() -> None:
    found = [each for each in check_design(dowelled(at=({"left": 12.0},)), knowledge()) if each.level == "error"]
    assert {each.code for each in found} == {"holes-do-not-meet"}
    assert "the nearest is 3 mm off" in found[0].what


def test_holes_for_two_dowels_are_named() -> None:
    assert set(errors(dowelled(diameter=10.0))) == {"dowels-differ"}


def test_a_kerf_beside_its_tenon_is_named() -> None:
    assert errors(wedged(kerf_from=5)) == ["kerf-beside-tenon"]


@pytest.mark.parametrize(
    ("drawn", "what"),
    [
        (wedged(flare=None), "corner is to be held by wedge, and the drawing has no tenon in a mortise with a flare for them"),
        (with_features(dowelled(), "side", holes=None), "near is to be held by dowels, and the drawing has no dowel holes"),
    ],
)
def test_what_the_drawing_lacks_is_said(drawn: Job, what: str) -> None:
    plan = make_plan(drawn, workshop("hand-tools"), knowledge())
    assert any(each.what.startswith(what) for each in plan.findings if each.code == "not-planned")


def test_the_flare_of_a_mortise_is_no_play_of_the_tenon() -> None:
    """The tenon is held by the walls at its shoulder; a wedge fills the flare."""
    assert "too-loose" not in {each.code for each in check_design(wedged(), knowledge())}


@pytest.mark.parametrize(("name", "kind"), [("dowels", "dowel"), ("biscuits", "biscuit"), ("dowels", "make-dowels")])
def test_a_picture_never_shows_closed_what_is_still_open(name: str, kind: str) -> None:
    """Dowels go into parts that stand apart; loose pieces that are made are no parts and have no picture."""
    plan, drawn = planned(name), JOBS[name][0]
    step = next(step for step in plan.steps if any(task.kind == kind for task in plan.tasks if task.id in step.tasks))
    shown = scenes_of(step, Pictured(plan, drawn, carry_out(plan, drawn)))
    assert len(shown) == (0 if kind == "make-dowels" else 1)
    assert all(each.scene.arrows for each in shown)
