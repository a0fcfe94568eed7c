"""What the school's region asks, held against the school's own policy: the policy may be stricter and never looser."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from sequencer.features.base import mm
from sequencer.findings import Finding, Unusable
from sequencer.knowledge.forms.regions import Region
from sequencer.knowledge.regions import about_stations, held, held_to, least_at, looser_than_least, region_named
from sequencer.model.plan import Step
from sequencer.model.record import FigureLine, RegionLine
from sequencer.planning.shop import Shop
from sequencer.planning.who import may_do
from sequencer.reading.words import meant


def region_findings(shop: Shop, day: date | None) -> tuple[Finding, ...]:
    """Errors where the region or the day is not known, and where the school's policy asks for less than the region."""
    try:
        region = region_named(shop.workshop.region, shop.knowledge)
        return (*_who_findings(shop, region), *_limit_findings(shop, region, day))
    except Unusable as error:
        return tuple(error.findings)


def region_line(steps: Sequence[Step], shop: Shop, day: date | None) -> RegionLine:
    """What the region asks, with the figures about the stations of the plan and the whole workshop. Where the school has a
    stricter limit of its own, that one."""
    region = region_named(shop.workshop.region, shop.knowledge)
    kinds = {step.station_kind for step in steps}
    figures = []
    for each in held(region, shop.knowledge, day):
        if not about_stations(each, kinds):
            continue
        limit, own = each.limit, shop.workshop.limits.get(each.about)
        ours = own is not None and each.measure.looser(limit.value, own)
        value = own if ours and own is not None else limit.value
        figures.append(
            FigureLine(
                each.measure.group,
                each.measure.name,
                f"{mm(value)} {limit.unit}",
                "the school's own" if ours else limit.region,
                ours or each.own,
                "" if ours else limit.note,
                "workshop file" if ours else limit.source,
                each.measure.stations,
            )
        )
    return RegionLine(
        region.name,
        region.what,
        day.isoformat() if day is not None else "",
        region.looked_up,
        region.regulator,
        region.laws,
        region.record,
        region.sign_off,
        region.review,
        tuple(figures),
        region.sources,
    )


def _who_findings(shop: Shop, region: Region) -> Iterator[Finding]:
    """Answers of who may use a machine that are looser than the region's least, however they came about."""
    for kind in dict.fromkeys(station.kind for station in shop.workshop.stations.values()):
        known = shop.knowledge.stations.get(kind)
        if known is None:
            continue
        for least in least_at(kind, region, shop.knowledge):
            for name, operation in known.operations.items():
                who = may_do(known, name, operation, shop.workshop)
                looser = looser_than_least(who.operator, who.supervision, who.gate, least)
                if looser:
                    yield Finding(
                        "error",
                        "looser-than-region",
                        name,
                        f"“{operation.name}” asks for less than {region.name} does: {', '.join(looser)}.",
                        f"No school's policy loosens what holds there. Source: {least.source}.",
                        "Make the rule of the policy, or the school's own file of the station, as strict.",
                    )


def _limit_findings(shop: Shop, region: Region, day: date | None) -> Iterator[Finding]:
    """Own limits of the school that are looser than the region's, or about nothing known."""
    for about, own in shop.workshop.limits.items():
        if about not in shop.knowledge.measures:
            yield Finding(
                "error",
                "unknown-measure",
                about,
                f"The workshop file has a limit for {about}, and nothing is measured under that name.",
                remedy=meant(about, shop.knowledge.measures),
            )
            continue
        found = held_to(about, region, shop.knowledge, day)
        if found is not None and found.measure.looser(own, found.limit.value):
            yield Finding(
                "error",
                "looser-than-region",
                about,
                f"The school's own limit, {found.measure.name}: {mm(own)} {found.measure.unit}, is looser than what "
                f"{region.name} is held to, {mm(found.limit.value)} {found.limit.unit}.",
                f"No school's policy loosens what holds there. Source: {found.limit.source}.",
                f"Write {mm(found.limit.value)} or stricter, or take it out.",
            )
