"""What stands against an operation besides its limits: what it is not meant for, a station out of service, guards and holding
that are not there, people, cramps.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.features.base import mm
from sequencer.knowledge.forms.guards import GuardItem
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.links import FROM_GLUE
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Station, Who
from sequencer.planning.fitness import OVER_MARK, station_faults
from sequencer.planning.limits import Obstacle, ObstacleKind, holds, limits_against, right_of, unknown
from sequencer.planning.shop import Premises, Shop
from sequencer.planning.who import authorised, default_who, may_do
from sequencer.planning.work import Work, finish_index


def purpose_against(operation: Operation, figures: Figures) -> Iterator[Obstacle]:
    """What an operation is not meant for."""
    for limit in operation.applies:
        if any(name not in figures for name in (limit.of, *right_of(limit)[1].names)):
            continue
        if not holds(limit, figures):
            yield Obstacle("purpose", f"It is not meant for this: the piece is {limit.says}.", "Use another way.")


def finish_against(work: Work, operation: Operation, shop: Shop) -> Iterator[Obstacle]:
    """A way of putting on a finish takes the kinds of finish that its `use` names."""
    takes = operation.use.get("finishes")
    if work.kind != "coat" or takes is None:
        return
    finish = shop.knowledge.finishes[shop.job.finish[finish_index(work)].what]
    if finish.kind != takes:
        yield Obstacle("purpose", f"It is not meant for {finish.name}.", "Use another way.")


def hardware_against(work: Work, operation: Operation, shop: Shop) -> Iterator[Obstacle]:
    """A way of fixing hardware takes the sort of thing that its `use` names."""
    takes = operation.use.get("things")
    if work.kind != "hardware" or takes is None:
        return
    thing = shop.job.hardware[work.feature]
    if thing.kind != takes:
        yield Obstacle("purpose", f"It is not meant for {thing.what}.", "Use another way.")


def service_against(station: Station, premises: Premises) -> Iterator[Obstacle]:
    """A station that is out of service, or on which something turns faster than its mark."""
    for fault in station_faults(premises, station):
        if fault.code == OVER_MARK:
            yield Obstacle("service", f"{station.name}: {fault.what}", fault.remedy)
    if station.out_of_service:
        yield Obstacle(
            "service", f"{station.name} is out of service: {station.out_of_service}.", f"Put {station.name} back into service."
        )


def guards_against(operation: Operation, station: Station, shop: Premises) -> Iterator[Obstacle]:
    """Guards an operation asks for and the station has not got."""
    yield from _named(
        shop.asked(operation.guards.all_of),
        operation.guards.any_of,
        shop.fitted(station),
        "guard",
        shop.knowledge.guards,
        "is not fitted at",
        "Fit",
        station.name,
    )


def holding_against(kind: StationKind, operation: Operation, station: Station, shop: Premises) -> Iterator[Obstacle]:
    """Work-holding an operation asks for that is neither at hand nor made."""
    yield from _named(
        operation.holding.all_of,
        operation.holding.any_of,
        shop.holding(station) | shop.made_holding(kind),
        "holding",
        shop.knowledge.holding,
        "is not at hand at",
        "Provide",
        station.name,
    )


def _named(
    all_of: tuple[str, ...],
    any_of: tuple[str, ...],
    there: frozenset[str],
    kind: ObstacleKind,
    items: Mapping[str, GuardItem],
    lacking: str,
    verb: str,
    station: str,
) -> Iterator[Obstacle]:
    for name in all_of:
        if name not in there:
            title = items[name].name.lower()
            yield Obstacle(kind, f"The {title} {lacking} {station}.", f"{verb} the {title}, then name it in the workshop file.")
    if any_of and not there.intersection(any_of):
        choice = " or ".join(items[name].name.lower() for name in any_of)
        yield Obstacle(kind, f"The {choice} {lacking} {station}.", f"{verb} the {choice}, then name it in the workshop file.")


def people_against(kind: StationKind, operation: Operation, who: Who, shop: Premises) -> Iterator[Obstacle]:
    """Policy that lets nobody do it, or no adult who is authorised."""
    if who.operator == "nobody":
        if default_who(kind, operation).operator != "nobody":
            yield Obstacle("who", f"The school's policy lets nobody do this at {kind.name.lower()}.", "Use another way.")
        return
    if kind.power in ("machine", "powered-hand") and not authorised(kind.station, shop.workshop):
        doing = "operate" if who.operator == "staff" else "supervise"
        yield Obstacle(
            "who",
            f"No adult in the workshop file is authorised to {doing} the {kind.name.lower()}.",
            "Name an authorised adult, or use another way.",
        )


def cramps_against(work: Work, operation: Operation, figures: Figures, shop: Shop) -> Iterator[Obstacle]:
    """Cramps enough and long enough for one student's glue-up, as far as the workshop file counts them, where it takes cramps."""
    if work.kind != "glue" or not figures.get("joint.cramps") or not takes_cramps(operation):
        return
    reach, needed = figures["joint.reach"], figures["joint.cramps"]
    long_enough = counted_cramps(shop, reach)
    if long_enough is not None and long_enough < needed:
        yield Obstacle(
            "holding",
            f"It takes {mm(needed)} cramps that open {mm(reach)} mm, and the workshop counts {long_enough}.",
            "Count more or longer cramps in the workshop file, or glue the parts up in smaller groups.",
        )


def takes_cramps(operation: Operation) -> bool:
    """Whether a glue-up takes as many cramps as its joints ask for: neither tape nor a band that goes round all of it."""
    return operation.settings == "glue-up" and "cramps" not in operation.use


CRAMPS = "sash-cramps"
"""What counted things serve as where they cramp a glue-up."""


def counted_cramps(shop: Premises, reach: float) -> int | None:
    """The cramps of the workshop that open so far, mm; None where its file counts none."""
    cramps = [thing for thing in shop.workshop.counted.values() if (thing.kind or thing.name) == CRAMPS]
    return sum(thing.count for thing in cramps if thing.reach is None or thing.reach >= reach) if cramps else None


def stands_against(
    kind: StationKind, name: str, operation: Operation, station: Station, premises: Premises, known: Figures
) -> tuple[Obstacle, ...]:
    """What stands against an operation at a station before any piece is drawn: purpose, service, guards, holding, people,
    figures of station and room that nobody has stated, and limits that hold for every piece with the figures `known`."""
    figures = {**premises.common_figures, **known, **premises.station_figures(kind, station)}
    settled = []
    unstated: list[str] = []
    for limit in operation.limits:
        asked = [each for each in (limit.of, *right_of(limit)[1].names) if each not in figures and each not in FROM_GLUE]
        unstated += [each for each in asked if each.startswith(("station.", "room."))]
        if all(each in figures for each in (limit.of, *right_of(limit)[1].names)):
            settled.append(limit)
    return (
        *purpose_against(operation, figures),
        *service_against(station, premises),
        *guards_against(operation, station, premises),
        *holding_against(kind, operation, station, premises),
        *(unknown(each, station) for each in dict.fromkeys(unstated)),
        *limits_against(tuple(settled), figures, station),
        *people_against(kind, operation, may_do(kind, name, operation, premises.workshop), premises),
    )


def purposes_against(operation: Operation, known: Figures) -> tuple[Obstacle, ...]:
    """What an operation is not meant for, as far as the figures known say it."""
    return tuple(purpose_against(operation, known))
