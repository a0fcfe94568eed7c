"""What hazards ask for, forbid and rest on, in finished plans and over every operation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.knowledge.forms.hazards import BEFORE_RULES, HazardControl
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Step
from sequencer.model.protection import Sign
from sequencer.model.workshop import Workshop
from sequencer.paper.wording import signs_words
from sequencer.planning.planner import make_plan
from sequencer.planning.protecting import card_hazards, signs_of, wear_of
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


@pytest.mark.parametrize("shop", WORKSHOPS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_slips_and_trips_are_met_wherever_somebody_works(name: str, shop: str) -> None:
    made = plan(name, shop)
    (row,) = (each for each in made.risks if each.hazard == "trips")
    named = {step.number for step in made.steps if any(each.name == "trips" for each in step.hazards)}
    work = {step.number for step in made.steps if step.kind == "work"}
    assert set(row.steps) == (named | work if named else set())
    shod = {step.number for step in made.steps if any(each.name == "closed-shoes" for each in step.wear)}
    if named:
        (shoes,) = (each for each in row.controls if each.text == "Closed shoes with grip, laces tied.")
        assert set(shoes.steps) == shod & set(row.steps)
    # The card still prints only what its own work brings first.
    assert all(not step.hazard_line.startswith("Offcuts on the floor") for step in made.steps if step.kind == "work")


def test_shock_is_met_by_the_stop_in_reach_and_the_look_at_the_lead() -> None:
    shop = workshop("well-equipped")
    made = make_plan(job("step-stool"), shop, knowledge())
    (row,) = (each for each in made.risks if each.hazard == "electricity")
    steps = {step.number: step for step in made.steps}
    used = {control.text: control.steps for control in row.controls}
    stop = "Emergency stop in reach of the machine, tried each term."
    assert set(used[stop]) == {number for number in row.steps if shop.stations[steps[number].station].emergency_stop}
    lead = "Lead and plug looked at before each use, as the station's card says."
    led = [number for number in row.steps if "lead and plug" in " ".join(card_of(steps[number], shop))]
    assert list(used[lead]) == led
    assert led


def card_of(step: Step, shop: Workshop) -> tuple[str, ...]:
    """What the card of a step's station has read before starting."""
    return knowledge().stations[shop.stations[step.station].kind].before_starting


def test_where_no_stop_is_in_reach_the_risk_assessment_does_not_rest_on_one() -> None:
    shop = workshop("well-equipped")
    bare = {name: replace(station, emergency_stop=False) for name, station in shop.stations.items()}
    made = make_plan(job("nest-box"), replace(shop, stations=bare), knowledge())
    (row,) = (each for each in made.risks if each.hazard == "electricity")
    stop = "Emergency stop in reach of the machine, tried each term."
    assert stop not in [control.text for control in row.controls]
    assert stop in [control.text for control in row.more]


def test_every_tool_with_a_lead_has_the_look_at_it_on_its_card() -> None:
    for kind in knowledge().stations.values():
        if kind.power == "powered-hand" and "electricity" in kind.hazards and kind.station != "cordless-drill":
            assert "Check that lead and plug are whole." in kind.before_starting, kind.station


def test_a_station_card_names_the_signs_of_its_hazards_and_none_against_what_is_worn_there() -> None:
    made = plan("herb-caddy", "full")
    drill = next(card for card in made.stations if card.kind == "pillar-drill")
    codes = {sign.code for sign in drill.signs}
    assert {"P028", "M004", "M027", "W012"} <= codes
    assert "M009" not in codes
    (warning,) = (sign for sign in drill.signs if sign.code == "W001")
    assert set(warning.words) <= {hazard.title for hazard in drill.hazards}
    assert "Work spun by the machine" in warning.words
    asked = {each.code for card in made.stations for each in card.wear}
    for card in made.stations:
        worn = {each.code for each in card.wear}
        assert {sign.code for sign in card.signs} & {item.code for item in knowledge().wear.values()} - {""} <= worn, card.title
    assert "M004" in asked


def test_a_row_of_the_risk_assessment_names_all_the_signs_of_its_hazard() -> None:
    row = next(row for row in plan("herb-caddy", "full").risks if row.hazard == "entanglement")
    assert row.signs == signs_of(["entanglement"], knowledge())
    assert {sign.says for sign in row.signs} == {
        knowledge().signs[name].says for name in knowledge().hazards["entanglement"].signs
    }


def test_of_two_signs_for_one_thing_to_wear_the_card_has_the_one_that_is_worn() -> None:
    mist = signs_of(["spray-mist"], knowledge(), wear_of(["eye-protection"], ["spray-mist"], knowledge()))
    assert [sign.code for sign in mist] == ["M004"]
    assert (
        signs_of(["epoxy-glue", "entanglement"], knowledge(), wear_of(["gloves"], ["entanglement"], knowledge()))[0].code
        == "P028"
    )


def test_signs_are_said_with_their_numbers_first() -> None:
    signs = (Sign("wear ear protection", "M003"), Sign("general warning", "W001", ("Kickback",)), Sign("tie long hair back"))
    said = "M003 wear ear protection; W001 general warning (“Kickback”). In words only: tie long hair back."
    assert signs_words(signs) == said
    assert signs_words(signs[2:]) == "In words only: tie long hair back."
    assert signs_words(()) == ""


def test_a_student_reads_the_graver_of_the_two_hazards_first() -> None:
    known = knowledge()
    minor, severe = (
        next(name for name, hazard in known.hazards.items() if hazard.severity == how) for how in ("minor", "severe")
    )
    both = f"{known.hazards[severe].student} {known.hazards[minor].student}"
    assert card_hazards([minor, severe], known) == card_hazards([severe, minor], known) == both
    assert card_hazards([minor, minor, severe], known) == f"{known.hazards[minor].student} {known.hazards[minor].student}"
