"""What holds in a region on a day: of several figures the strictest, and the strictest of all where none is known there.

A day or a region about which nothing is known is refused, never answered with a neighbour's.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from sequencer.findings import Finding, Unusable
from sequencer.knowledge.forms.regions import ANY, DatedLimit, Least, Measure, Region
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.workshop import GATES, OPERATORS, SUPERVISIONS
from sequencer.reading.words import meant

GENERIC = "generic"
"""The region of a school that names none."""


@dataclass(frozen=True)
class Held:
    """What a region is held to.

    limit
        The record that counts: the strictest.
    own
        Whether it is of a jurisdiction that counts in the region; else none was read there and the strictest of all stands in.
    besides
        The other records of the region; where another stands in, those too that ask for more than it in some way.
    """

    about: str
    measure: Measure
    limit: DatedLimit
    own: bool
    besides: tuple[DatedLimit, ...] = ()

    @property
    def judged(self) -> tuple[DatedLimit, ...]:
        """All that a day is held against. Of levels of noise none need be the strictest at every level: one may be lower and
        another halve the time sooner."""
        return (self.limit, *self.besides)


def region_named(name: str, knowledge: Knowledge) -> Region:
    """The region of a name or code, in capitals or not. Unusable if there is none: no other's figures stand in for it."""
    wanted = name.strip().lower().replace(" ", "-")
    for key, region in knowledge.regions.items():
        if wanted == key or wanted in (code.lower() for code in region.codes):
            return region
    names = [*knowledge.regions, *(code for region in knowledge.regions.values() for code in region.codes)]
    raise _refused(
        "unknown-region",
        "region",
        f"No region called '{name}' is known.",
        "Which figures hold and what the risk assessment must hold there would be a guess.",
        f"{meant(name, names)} `generic` takes the strictest of all that is known.",
    )


def held(region: Region, knowledge: Knowledge, day: date | None) -> tuple[Held, ...]:
    """What a region is held to on a day, in the order of `lists/measures.yaml`; without a day, whatever the day. A measure
    whose figures count for another is not asked for by itself.

    Unusable for a day of which nothing is known.
    """
    counted = {other for measure in knowledge.measures.values() for other in measure.counts}
    asked = (about for about in knowledge.measures if about not in counted)
    return tuple(found for about in asked if (found := held_to(about, region, knowledge, day)) is not None)


def held_to(about: str, region: Region, knowledge: Knowledge, day: date | None) -> Held | None:
    """What a region is held to in one measure on a day; None if the law there has no such figure, or nobody has.

    Unusable for a day before anything is known of the region, or between two records of it.
    """
    if day is not None and day < date.fromisoformat(region.since):
        raise _refused(
            "unknown-day",
            region.name,
            f"Nothing is known of what held in {region.name} on {day.isoformat()}, before {region.since}.",
            "Limits change from one day to another; the nearest known day may be another law.",
            "Use a later date.",
        )
    measure = knowledge.measures[about]
    every = tuple(_records(about, measure, knowledge.limits))
    there = tuple(each for each in every if counts_in(each, region))
    in_force = tuple(each for each in there if each.holds_on(day))
    anywhere = tuple(each for each in every if each.holds_on(day))
    if in_force:
        limit = strictest(in_force, measure)
        if not limit.verified and any(not _covered(each, in_force, measure) for each in anywhere):
            return _stands_in(about, measure, anywhere, in_force)
        return Held(about, measure, limit, True, tuple(each for each in in_force if each is not limit))
    if there and day is not None:
        raise _refused(
            "unknown-day",
            region.name,
            f"The figures of {region.name} for {measure.name} end before {day.isoformat()} or begin after it.",
            "Limits change from one day to another; one that has ended says nothing.",
            "Add the record that is in force to lists/limits.yaml.",
        )
    if about in region.without:
        return None
    return _stands_in(about, measure, anywhere) if anywhere else None


def _stands_in(about: str, measure: Measure, anywhere: tuple[DatedLimit, ...], there: tuple[DatedLimit, ...] = ()) -> Held:
    """The strictest of all for a region that has none, with whatever else asks for more than it in some way."""
    limit = strictest(anywhere, measure)
    asking: list[DatedLimit] = []
    for each in anywhere:
        if not _covered(each, (limit, *asking), measure):
            asking = [*(other for other in asking if measure.asks_less(each, other)), each]
    return Held(about, measure, limit, False, (*there, *(each for each in asking if each not in there)))


def _covered(record: DatedLimit, by: Iterable[DatedLimit], measure: Measure) -> bool:
    """Whether one of some records asks for as much as this one in every way."""
    return any(not measure.asks_less(each, record) for each in by)


def counts_in(limit: DatedLimit, region: Region) -> bool:
    """Whether a record's jurisdiction counts in a region."""
    return not region.counts or limit.region in (*region.counts, ANY)


def asks(region: Region, by: Collection[str]) -> bool:
    """Whether any of some jurisdictions counts in a region; where all of them count, one does."""
    return not region.counts or any(each in region.counts for each in by)


def strictest(limits: Iterable[DatedLimit], measure: Measure) -> DatedLimit:
    """The strictest of some records, the first of equal ones; of two equal levels of noise the one that halves the time
    sooner. ValueError if there is none."""
    sign = 1.0 if measure.stricter == "lower" else -1.0
    return min(limits, key=lambda each: (sign * each.value, each.exchange or 0.0))


def least_at(kind: str, region: Region, knowledge: Knowledge) -> tuple[Least, ...]:
    """How loose the answer of who may use a kind of station may be at most: the region's own, for one that takes the
    figures of all the regions everyone's."""
    regions = knowledge.regions.values() if not region.counts else (region,)
    return tuple(each.least[kind] for each in regions if kind in each.least)


def looser_than_least(operator: str, supervision: str, gate: str, least: Least) -> tuple[str, ...]:
    """What an answer asks for less than a region does, in words. Where staff operate, students need no gate."""
    found = []
    for what, scale, is_, asked in (
        ("operator", OPERATORS, operator, least.operator),
        ("supervision", SUPERVISIONS, supervision, least.supervision),
        ("gate", GATES, gate, least.gate),
    ):
        order: list[str] = list(scale)
        if asked and order.index(is_) < order.index(asked) and (what == "operator" or operator == "student"):
            found.append(f"{what} {is_} instead of {asked}")
    return tuple(found)


def about_stations(found: Held, kinds: Collection[str]) -> bool:
    """Whether a figure is about any of some kinds of station, or about the whole workshop."""
    return not found.measure.stations or any(kind in kinds for kind in found.measure.stations)


def changing_days(knowledge: Knowledge) -> list[date]:
    """The days on which what is held to may change, after the first of which anything is known of every region, and that."""
    first = max(date.fromisoformat(region.since) for region in knowledge.regions.values())
    starts = {date.fromisoformat(each.starts) for each in knowledge.limits if each.starts}
    ends = {date.fromisoformat(each.ends) for each in knowledge.limits if each.ends}
    after = {day + timedelta(1) for day in ends if day < date.max}  # nothing comes after the calendar's last day
    return sorted({first, *(day for day in starts | after if day > first)})


def _records(about: str, measure: Measure, limits: Iterable[DatedLimit]) -> Iterator[DatedLimit]:
    return (each for each in limits if each.about in (about, *measure.counts))


def _refused(code: str, subject: str, what: str, why: str, remedy: str) -> Unusable:
    return Unusable([Finding("error", code, subject, what, why, remedy)])
