"""What the files of hazards name as controls is asked for wherever that work is done."""

from __future__ import annotations

from operator import attrgetter

import pytest

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from tests.made import knowledge, plan

KNOWLEDGE = knowledge()
OPERATIONS = [(kind, each) for kind in KNOWLEDGE.stations.values() for each in kind.operations.values()]


def worn(kind: StationKind, operation: Operation) -> set[str]:
    return {*kind.wear, *operation.wear}


def where(*tools: str) -> list[tuple[StationKind, Operation]]:
    """The operations that lay out all of some tools, by the ends of their names."""
    return [
        (kind, operation)
        for kind, operation in OPERATIONS
        if all(any(each.endswith(tool) for each in operation.tools) for tool in tools)
    ]


# A chisel under the mallet throws chips, whatever it cuts: a housing and a rebate as a mortise.
@pytest.mark.parametrize(("kind", "operation"), where("chisel", "mallet"), ids=attrgetter("name"))
def test_whoever_drives_a_chisel_with_a_mallet_wears_eye_protection(kind: StationKind, operation: Operation) -> None:
    assert "eye-protection" in worn(kind, operation)


@pytest.mark.parametrize("operation", ["saw-and-chisel-housing", "saw-and-chisel-rebate", "chop-blind-mortise"])
def test_housings_and_rebates_are_chiselled_as_mortises_are(operation: str) -> None:
    chiselling = KNOWLEDGE.stations["chiselling"]
    assert "eye-protection" in worn(chiselling, chiselling.operations[operation])


# A bar or a cramped frame falls on a foot: shoes, and bearers so that nobody holds it up.
@pytest.mark.parametrize(("kind", "operation"), where("sash cramp"), ids=attrgetter("name"))
def test_long_cramps_lie_on_bearers_and_feet_are_in_shoes(kind: StationKind, operation: Operation) -> None:
    assert "closed-shoes" in worn(kind, operation)
    assert "pair of bearers" in operation.tools
    lines = " ".join(KNOWLEDGE.holding[name].line for name in operation.holding.all_of)
    assert "bearers" in " ".join((lines, *operation.instructions.card))


def test_the_risk_assessment_names_bearers_and_shoes_at_the_steps_that_have_them() -> None:
    made = plan("step-stool")
    row = next(row for row in made.risks if row.hazard == "crushing-in-cramps")
    numbers = {step.number for step in made.steps if "pair of bearers" in step.tools and step.number in row.steps}
    laid = next(control for control in row.controls if "bearers" in control.text)
    shoes = next(control for control in row.controls if control.text == "Closed shoes.")
    assert numbers
    assert set(laid.steps) == numbers <= set(shoes.steps)
    glued = {step.number for step in made.steps if step.station_kind == "gluing" and step.kind == "work"}
    assert glued & set(row.steps) <= set(shoes.steps)
