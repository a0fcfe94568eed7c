"""The rows of the risk assessment: each hazard of the steps, whom it may harm, and what is done against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sequencer.knowledge.forms.hazards import LEVELS, Hazard
from sequencer.model.plan import Step
from sequencer.model.protection import Control, RiskRow
from sequencer.planning.protecting import (
    controls_besides,
    controls_in_use,
    gravest_first,
    in_use,
    signs_of,
)
from sequencer.planning.shop import Shop


def risk_rows(steps: Sequence[Step], shop: Shop) -> tuple[RiskRow, ...]:
    """A row for each hazard over the steps it stands in, gravest first; each control names the steps that use it. Hazards of
    the whole workshop have no steps and stand behind, but for those that steps name too: they are met wherever somebody works."""
    found: dict[str, list[Step]] = {}
    for step in steps:
        for line in step.hazards:
            found.setdefault(line.name, []).append(step)
    order = gravest_first(sorted(found, key=lambda name: found[name][0].number), shop.knowledge)
    everywhere = [name for name, hazard in shop.knowledge.hazards.items() if hazard.applies.workshop and name not in found]
    for name, named in found.items():
        if shop.knowledge.hazards[name].applies.workshop:
            # What is in the room is met wherever somebody works, also where no operation names it.
            found[name] = [step for step in steps if step.kind == "work" or step in named]
    rows = [_risk_row(shop.knowledge.hazards[name], name, found[name], shop) for name in order]
    rows += [_risk_row(shop.knowledge.hazards[name], name, (), shop) for name in gravest_first(everywhere, shop.knowledge)]
    return tuple(rows)


def _risk_row(hazard: Hazard, name: str, steps: Sequence[Step], shop: Shop) -> RiskRow:
    using: dict[Control, list[int]] = {}
    for step in steps:
        for control in controls_in_use(hazard, _there(step, shop)):
            using.setdefault(control, []).append(step.number)
    for step in steps:
        for control in _arrangements(step):
            using.setdefault(control, []).append(step.number)
    used = tuple(replace(control, steps=tuple(dict.fromkeys(numbers))) for control, numbers in using.items())
    used = tuple(sorted(used, key=lambda control: LEVELS.index(control.level)))
    return RiskRow(
        name,
        hazard.name,
        hazard.happens,
        _whom(steps, hazard.whom),
        hazard.severity,
        tuple(step.number for step in steps),
        used,
        controls_besides(hazard, {thing for step in steps for thing in _there(step, shop)}, _fitting(steps, shop)),
        hazard.stop_when,
        hazard.first_aid,
        hazard.sources,
        tuple(f"{code} {shop.knowledge.ghs[code].says}" for code in hazard.ghs),
        signs_of((name,), shop.knowledge),
    )


def _arrangements(step: Step) -> list[Control]:
    """What the plan itself arranges at a step: who does it, who stands by, what is shown and signed off first."""
    if step.kind == "wait":
        return []
    if step.who.operator == "staff":
        return [Control("administrative", "Authorised staff only; students kept away.")]
    told = {"signed-off": "Students signed off for it first.", "instructed": "Students shown how first.", "none": ""}
    near = {"beside": "An authorised adult beside.", "watching": "An adult watching.", "room": "An adult in the room."}
    said = (told[step.who.gate], near[step.who.supervision], "STOP: staff look before going on." if step.stop else "")
    return [Control("administrative", text) for text in said if text]


def _fitting(steps: Sequence[Step], shop: Shop) -> set[str] | None:
    """The guards and ways of holding that the kinds of station of these steps can have; None where there is no station."""
    kinds = [shop.knowledge.stations[step.station_kind] for step in steps if step.station_kind]
    if not kinds:
        return None
    there = {thing for step in steps for thing in _there(step, shop)}
    return there.union(*({*kind.guards, *kind.holding} for kind in kinds))


def _there(step: Step, shop: Shop) -> set[str]:
    """What carries out controls at a step: guards, holding, tools and equipment, what its station has and what is read there."""
    station = shop.workshop.stations[step.station]
    fitted = {"emergency-stop"} if station.emergency_stop else set()
    return (
        in_use(step.guards, step.holding, step.tools, step.wear)
        | fitted
        | {*shop.knowledge.stations[station.kind].before_starting}
    )


def _whom(steps: Sequence[Step], whom: tuple[str, ...]) -> tuple[str, ...]:
    if not steps:
        return whom
    cards = {step.card for step in steps}
    doing = [text for card, text in (("student", "students at the step"), ("staff", "staff at the step")) if card in cards]
    return (*doing, *(person for person in whom if person != "operator"))
