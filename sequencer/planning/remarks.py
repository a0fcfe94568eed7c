"""What planning has to say besides the plan: names that mean nothing here, adults who are missing, figures left to staff."""

from __future__ import annotations

from math import ceil

from sequencer.findings import Finding
from sequencer.knowledge.forms.hazards import BEFORE_RULES
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.settings import bit_of
from sequencer.model.plan import Step
from sequencer.planning.choice import Choice
from sequencer.planning.chosen_figures import chosen_findings
from sequencer.planning.fitness import fitness_findings
from sequencer.planning.obstacles import counted_cramps, takes_cramps
from sequencer.planning.shop import Shop
from sequencer.planning.vibration import vibration_findings


def workshop_findings(shop: Shop) -> tuple[Finding, ...]:
    """Names of the workshop and job files that the knowledge does not have."""
    found: list[Finding] = [*fitness_findings(shop), *chosen_findings(shop), *vibration_findings(shop)]
    for station in shop.workshop.stations.values():
        if station.kind not in shop.knowledge.stations:
            found.append(
                Finding(
                    "error",
                    "unknown-station-kind",
                    station.name,
                    f"{station.name} is a {station.kind}, which the knowledge does not know.",
                    remedy=f"Use one of: {', '.join(sorted(shop.knowledge.stations))}.",
                )
            )
            continue
        kind = shop.knowledge.stations[station.kind]
        for name in station.guards:
            if name not in kind.guards:
                found.append(
                    Finding(
                        "warning",
                        "unknown-guard",
                        station.name,
                        f"{station.name} has a guard called {name}, which nothing there asks for.",
                        remedy=f"Guards known at this kind of station: {', '.join(kind.guards) or 'none'}.",
                    )
                )
        for name in station.holding:
            if name not in shop.knowledge.holding:
                found.append(
                    Finding(
                        "warning",
                        "unknown-holding",
                        station.name,
                        f"{station.name} has work-holding called {name}, which no operation asks for.",
                        remedy=f"Did you mean one of: {', '.join(kind.holding) or 'none'}?",
                    )
                )
        known = _sizes_of(kind)
        for name in station.sizes:
            if name not in known:
                found.append(
                    Finding(
                        "warning",
                        "unknown-sizes",
                        station.name,
                        f"{station.name} lists sizes of {name}, which nothing there asks for.",
                        remedy=f"Sizes asked for at this kind of station: {', '.join(known) or 'none'}.",
                    )
                )
    if shop.job.glue and shop.job.glue not in shop.knowledge.glues:
        found.append(
            Finding(
                "error",
                "unknown-glue",
                "glue",
                f"The glue {shop.job.glue} is not known.",
                remedy=f"Use one of: {', '.join(shop.knowledge.glues)}.",
            )
        )
    for finish in shop.job.finish:
        if finish.what not in shop.knowledge.finishes:
            found.append(
                Finding(
                    "error",
                    "unknown-finish",
                    "finish",
                    f"The finish {finish.what} is not known.",
                    remedy=f"Use one of: {', '.join(shop.knowledge.finishes)}.",
                )
            )
    return tuple(found)


def _sizes_of(kind: StationKind) -> tuple[str, ...]:
    """What a station of a kind may list the sizes of: tools by the list, and kinds of bit."""
    operations = [operation for operation in kind.operations.values() if operation.tool_sizes]
    tools = [size.of for operation in operations for size in operation.tool_sizes]
    return tuple(dict.fromkeys((*tools, *filter(None, map(bit_of, operations)))))


def cramp_findings(shop: Shop, choice: Choice) -> list[Finding]:
    """How many students can glue at once with the cramps there are."""
    found = []
    for name, work in choice.works.items():
        way = choice.ways.get(name)
        if way is None or not takes_cramps(shop.knowledge.stations[way.kind].operations[way.operation]):
            continue
        needed = work.figures.get("joint.cramps", 0.0)
        there = counted_cramps(shop, work.figures.get("joint.reach", 0.0))
        if work.kind != "glue" or not needed or there is None:
            continue
        at_once = int(there // needed)
        if at_once < shop.workshop.students:
            goes = f", in {ceil(shop.workshop.students / at_once)} goes" if at_once else ""
            found.append(
                Finding(
                    "note",
                    "cramps-at-once",
                    work.id,
                    f"A glue-up takes {needed:g} cramps and the workshop has {there}: {at_once} can be glued at once, for "
                    f"{shop.workshop.students} students{goes}.",
                    remedy="Glue in turns, with cramps on for their whole time, or count more cramps.",
                )
            )
    return found


def plan_findings(shop: Shop, steps: tuple[Step, ...]) -> list[Finding]:
    """What the finished plan needs that the workshop file does not show: a second adult, figures left to staff."""
    found = []
    staff_machines = [
        step.number
        for step in steps
        if step.card == "staff" and step.kind == "work" and shop.knowledge.stations[step.station_kind].power == "machine"
    ]
    if staff_machines and len(shop.workshop.adults) < 2:
        found.append(
            Finding(
                "warning",
                "lone-machining",
                "people",
                f"Staff work at machines in steps {', '.join(map(str, staff_machines))}, and the workshop file names one adult.",
                "Nobody machines alone, staff before school included.",
                "See that another adult is within call, and name the role.",
            )
        )
    if (
        any(step.card == "student" and shop.knowledge.stations[step.station_kind].power == "machine" for step in steps)
        and staff_machines
    ):
        found.append(
            Finding(
                "note",
                "supervision",
                "people",
                "An adult who operates a machine supervises nobody. While one does, no student machine runs unless another "
                "authorised adult supervises.",
            )
        )
    for step in steps:
        if any(setting.value is None for setting in step.settings):
            labels = ", ".join(setting.label for setting in step.settings if setting.value is None)
            found.append(
                Finding(
                    "warning",
                    "staff-decide",
                    step.id,
                    f"Step {step.number} has settings that are not known here: {labels}.",
                    remedy="Let staff decide them and write them on the card, or state the missing figures in the workshop file.",
                )
            )
    return [*found, *blade_findings(shop, steps)]


def blade_findings(shop: Shop, steps: tuple[Step, ...]) -> list[Finding]:
    """Steps at which nothing but rules, supervision and what is worn stands between a hand and an edge."""
    bare: dict[str, list[int]] = {}
    for step in steps:
        for hazard in step.hazards:
            blade = step.kind == "work" and shop.knowledge.hazards[hazard.name].blade
            if blade and not any(control.level in BEFORE_RULES for control in hazard.controls):
                bare.setdefault(hazard.title, []).append(step.number)
    return [
        Finding(
            "warning",
            "blade-by-rules-only",
            title,
            f"Nothing but rules and what is worn stands against it: {title.lower()}, in "
            f"{'step' if len(numbers) == 1 else 'steps'} {', '.join(map(str, numbers))}.",
            "Rules are forgotten and gloves do not stop a blade: a guard, work-holding or another way of making comes first.",
            "Name a guard or way of holding of the hazard's file in the operation, or leave the step to staff.",
        )
        for title, numbers in bare.items()
    ]
