"""What hazards ask for, forbid and rest on, in finished plans and over every operation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.knowledge.formats import BEFORE_RULES, HazardControl, Knowledge, Operation, StationKind
from sequencer.planning.planner import make_plan
from sequencer.planning.steps import wear_of
from tests.made import EXAMPLES, WORKSHOPS, job, knowledge, plan, workshop

OPERATIONS = [(kind, name) for kind in knowledge().stations.values() for name in kind.operations]


@pytest.mark.parametrize("shop", WORKSHOPS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_blade_of_the_examples_meets_more_than_rules(name: str, shop: str) -> None:
    made = plan(name, shop)
    assert [each for each in made.findings if each.code == "blade-by-rules-only"] == []
    for step in made.steps:
        for hazard in step.hazards:
            if step.kind == "work" and knowledge().hazards[hazard.name].blade:
                assert any(control.level in BEFORE_RULES for control in hazard.controls), (step.id, hazard.name)


def without_controls(known: Knowledge, hazard: str) -> Knowledge:
    """The knowledge with nothing named against a hazard but what is worn."""
    bare = replace(known.hazards[hazard], controls={"ppe": known.hazards[hazard].controls["ppe"]})
    return replace(known, hazards={**known.hazards, hazard: bare})


def test_a_blade_met_by_rules_and_equipment_alone_is_said_with_its_steps() -> None:
    made = make_plan(job("nest-box"), workshop("hand-tools"), without_controls(knowledge(), "hand-saw-cut"))
    found = [each for each in made.findings if each.code == "blade-by-rules-only"]
    sawing = [str(step.number) for step in made.steps if any(each.name == "hand-saw-cut" for each in step.hazards)]
    assert len(found) == 1
    assert found[0].level == "warning"
    assert found[0].what.endswith(f"in steps {', '.join(sawing)}.")
    assert found[0].subject == knowledge().hazards["hand-saw-cut"].name


@pytest.mark.parametrize(("kind", "name"), OPERATIONS, ids=[name for _, name in OPERATIONS])
def test_what_any_hazard_of_an_operation_forbids_is_never_asked_for(kind: StationKind, name: str) -> None:
    """Also where glue, finish and wood bring hazards of their own that ask for gloves or sleeves: the stricter meaning wins."""
    operation: Operation = kind.operations[name]
    known = knowledge()
    brought = [
        hazard for things in (known.glues, known.finishes, known.materials) for each in things.values() for hazard in each.hazards
    ]
    for extra in ([], *([hazard] for hazard in dict.fromkeys(brought))):
        hazards = [*operation.hazards, *kind.hazards, *extra]
        asked = [control.wear for hazard in hazards for control in known.hazards[hazard].controls.get("ppe", ()) if control.wear]
        worn = wear_of([*operation.wear, *kind.wear, *asked], hazards, known)
        on = {each.name for each in worn if not each.forbidden}
        off = {each.name for each in worn if each.forbidden}
        assert off == {thing for hazard in hazards for thing in known.hazards[hazard].forbids}
        assert not on & off
        assert len(worn) == len(on) + len(off)


@pytest.mark.parametrize("shop", WORKSHOPS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_a_row_names_no_guard_of_a_machine_that_has_no_part_in_it(name: str, shop: str) -> None:
    """A control by a guard or way of holding is printed only where a station of the row can have it."""
    made = plan(name, shop)
    kinds = {step.number: knowledge().stations[step.station_kind] for step in made.steps if step.station_kind}
    for row in made.risks:
        there = {thing for number in row.steps if number in kinds for thing in (*kinds[number].guards, *kinds[number].holding)}
        there |= {each.name for step in made.steps if step.number in row.steps for each in (*step.guards, *step.holding)}
        for controls in knowledge().hazards[row.hazard].controls.values() if there else ():
            for control in controls:
                needs = {control.guard, control.holding} - {"", None}
                if not needs <= there:
                    assert control.text not in {each.text for each in row.more}, (row.hazard, control.text)


def test_the_mitre_saw_is_assessed_by_its_own_blade() -> None:
    """The head comes down to the hand: crown guard and push stick are of the saw bench, whose wood goes to the blade."""
    saw = knowledge().stations["mitre-saw"]
    named = {*saw.hazards, *(hazard for operation in saw.operations.values() for hazard in operation.hazards)}
    assert "crosscut-blade-contact" in named
    assert "circular-blade-contact" not in named
    assert not any("mitre saw" in control.text for control in _controls("circular-blade-contact"))


def _controls(hazard: str) -> list[HazardControl]:
    return [control for controls in knowledge().hazards[hazard].controls.values() for control in controls]
