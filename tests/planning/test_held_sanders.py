"""A held sander's pad lies on flat wood that is no smaller than it: what is round or narrow is rubbed by hand, and a rod has no
inside faces."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.job import Job, Part
from sequencer.planning.group_work import group_work
from sequencer.planning.grouping import joint_groups
from sequencer.planning.work import Work
from tests.made import job, knowledge, plan

INSIDE, OUTSIDE = "sand-inside-by-orbital", "sand-outside-by-orbital"


def worked(made: Job, kind: str) -> list[Work]:
    return [work for work in group_work(made, joint_groups(made), frozenset(), knowledge()) if work.kind == kind]


def with_side(change: dict[str, object]) -> Job:
    """The herb caddy, its sides changed."""
    caddy = job("herb-caddy")
    side: Part = replace(caddy.parts["side"], **change)  # type: ignore[arg-type]
    return replace(caddy, parts={**caddy.parts, "side": side})


def test_the_pads_size_is_a_figure_and_both_orbital_sanders_refuse_what_is_round() -> None:
    station = knowledge().stations["hand-held-sanders"]
    assert station.figures["pad"].default == 110
    limits = {(each.of, each.at_least or each.at_most) for each in station.operations[INSIDE].limits}
    assert {("part.round", "0"), ("blank.length", "station.pad"), ("blank.width", "station.pad")} <= limits
    assert ("part.round", "0") in {(each.of, each.at_most) for each in station.operations[OUTSIDE].limits}


def test_a_rod_has_no_inside_faces_to_clean() -> None:
    assert any(name == "side" for work in worked(job("herb-caddy"), "clean-inside") for name, _ in work.parts)
    rods = worked(with_side({"section": "round"}), "clean-inside")
    assert rods
    assert not any(name == "side" for work in rods for name, _ in work.parts)


def test_the_whole_with_a_round_part_is_round_for_the_pad() -> None:
    for made in (job("herb-caddy"), with_side({"section": "round"})):
        assert {work.figures["part.round"] for work in worked(made, "clean-up")} == {1.0}
    assert {work.figures["part.round"] for work in worked(job("nest-box"), "clean-up")} == {0.0}


def test_the_pins_and_the_roller_of_a_towel_roller_are_rubbed_by_hand() -> None:
    """A school with an orbital sander was told to cramp pins and a round roller flat."""
    made = plan("tests/cases/s09-towel-roller.yaml", "well-equipped")
    cleaned = [task for task in made.tasks if task.kind in ("clean-inside", "clean-up")]
    assert cleaned
    assert {task.station_kind for task in cleaned} == {"abrasive"}
    assert not [task.id for task in cleaned if task.kind == "clean-inside" and "pin" in task.parts]
