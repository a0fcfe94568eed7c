"""What planning has to say besides the plan: names that mean nothing here, adults who are missing, figures left to staff."""

from __future__ import annotations

from difflib import get_close_matches

from sequencer.findings import Finding
from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.planning.shop import Shop
from sequencer.planning.work import Work


def workshop_findings(shop: Shop) -> tuple[Finding, ...]:
    found = []
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
            if name not in shop.knowledge.guards:
                found.append(
                    Finding(
                        "warning",
                        "unknown-guard",
                        station.name,
                        f"{station.name} has a guard called {name}, which no operation asks for.",
                        remedy=f"Guards known at a {kind.name.lower()}: {', '.join(kind.guards) or 'none'}.",
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


def plan_findings(shop: Shop, steps: tuple[Step, ...]) -> list[Finding]:
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
        if any(setting.value is None and setting.text == "staff decide" for setting in step.settings):
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
    return found


def decision_findings(job: Job, works: list[Work]) -> tuple[Finding, ...]:
    """Decisions about something that the job does not have: nothing the teacher settled is dropped in silence."""
    names = sorted({name for work in works for name in (work.id, work.id.rpartition("/")[0], *work.joints)})
    found = []
    for decision in job.decisions:
        for name in (decision.about, decision.before):
            if name and not any(work.is_meant_by(name) for work in works):
                near = get_close_matches(name, names, n=1, cutoff=0.5)
                found.append(
                    Finding(
                        "error",
                        "decision-about-nothing",
                        decision.about,
                        f"A decision names {name}, and the job has no such feature, joint or task.",
                        "A decision that means nothing would be lost in silence.",
                        f"Did you mean {near[0]}?" if near else "Name a part/feature, a joint or a task.",
                        decision.place,
                    )
                )
    return tuple(found)
