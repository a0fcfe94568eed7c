"""What a card must say so that the piece comes to the size that is drawn: both sizes of a blank out of a sheet, a line further
from the edge than a gauge reaches, a hole that nothing goes into."""

from __future__ import annotations

import pytest

from sequencer.features.base import mm
from sequencer.model.plan import Plan, Step
from tests.made import job, knowledge, plan


def by_hand(name: str) -> Plan:
    return plan(name, "hand-tools")


def of_kind(whole: Plan, kind: str) -> list[tuple[Step, str]]:
    """Each step with a part it does this kind of work on."""
    return [(step, task.part) for step in whole.steps for task in whole.tasks if task.id in step.tasks and task.kind == kind]


@pytest.mark.parametrize("name", ["herb-caddy", "picture-frame"])
def test_a_blank_out_of_a_sheet_is_sawn_to_its_length_and_its_width(name: str) -> None:
    whole, found = by_hand(name), 0
    for step, part in of_kind(whole, "rough-length"):
        if job(name).stock[job(name).parts[part].stock].form != "sheet" or step.kind != "work":
            continue
        (blank,) = (blank for blank in whole.blanks if blank.part == part)
        said = " ".join(step.instructions)
        assert f"{mm(blank.length)} mm" in said, said
        assert f"{mm(blank.width)} mm" in said, said
        found += 1
    assert found


@pytest.mark.parametrize("name", ["herb-caddy", "picture-frame", "nest-box"])
def test_a_line_further_in_than_a_gauge_reaches_is_drawn_by_a_straight_edge(name: str) -> None:
    whole, reach = by_hand(name), knowledge().working.gauge_reach
    for step, part in of_kind(whole, "width"):
        if step.station_kind not in ("hand-sawing", "hand-planing") or "knife" in step.operation:
            continue
        others = [other for _, other in of_kind(whole, "width") if other in {piece.part for piece in step.parts}]
        widths = {job(name).parts[other].width for other in (part, *others)}
        said = " ".join(step.instructions)
        assert ("Gauge" in said) == (min(widths) <= reach), said
        assert ("straight edge" in said) == (max(widths) > reach), said


@pytest.mark.parametrize("name", ["nest-box", "picture-frame"])
def test_a_hole_that_nothing_goes_into_is_not_checked_by_what_goes_into_it(name: str) -> None:
    whole = by_hand(name)
    for step, _ in of_kind(whole, "hole"):
        assert not [check for check in step.checks if "goes in" in check.how], step.title


def test_a_note_of_a_job_tells_no_way_of_making_a_hole() -> None:
    """The way that is chosen says whether a hole is bored from both sides or into a board behind it."""
    for step, _ in of_kind(by_hand("nest-box"), "hole"):
        assert not [note for note in step.notes if "backing board" in note], step.title
