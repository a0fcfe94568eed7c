"""What a school's own measures, regions and dated figures ask for less than the shipped ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from sequencer.findings import Unusable
from sequencer.knowledge.formats import Knowledge
from sequencer.knowledge.region_forms import Least, Measure, Region
from sequencer.knowledge.regions import Held, changing_days, held_to


def measure_looser(was: Measure, now: Measure) -> Iterator[str]:
    """What a measure asks for less."""
    if now.stricter != was.stricter:
        yield f"{now.stricter} figures count as stricter instead of {was.stricter} ones"
    if now.unit != was.unit:
        yield f"the figures are taken to be in {now.unit}"
    yield from (f"figures of {other} count no more" for other in was.counts if other not in now.counts)
    if now.stations and (not was.stations or not set(was.stations) <= set(now.stations)):
        yield f"printed only for {', '.join(now.stations)}"


def region_looser(was: Region | None, now: Region) -> Iterator[str]:
    """What a region asks for less; of an added one, what it is not held to."""
    yield from (f"no figure for {about}" for about in now.without if was is None or about not in was.without)
    if was is None:
        return
    if now.counts and (not was.counts or not set(was.counts) <= set(now.counts)):
        gone = [each for each in was.counts if each not in now.counts]
        yield f"figures of {', '.join(gone) or 'everyone else'} count no more"
    for key in ("laws", "record", "sign_off", "review"):
        yield from (f"no “{each}”" for each in getattr(was, key) if each not in getattr(now, key))
    if now.regulator != was.regulator:
        yield f"another regulator than “{was.regulator}”"
    if now.since < was.since:
        yield f"figures are taken to hold from {now.since}"
    for kind, least in was.least.items():
        if kind not in now.least or not _as_strict(now.least[kind], least):
            yield f"who may use {kind} is held to less"


def _as_strict(now: Least, was: Least) -> bool:
    """Whether every answer that was asked for still is, the same or as another: only the same can be judged here."""
    return all(getattr(was, key) in (None, getattr(now, key)) for key in ("operator", "supervision", "gate"))


def records_looser(shipped: Knowledge, own: Knowledge) -> Iterator[str]:
    """What the shipped regions are held to less with the records added, on any day on which anything changes."""
    # The rest as shipped: a change of a region or measure is told where it is made.
    with_rows = replace(shipped, limits=own.limits)
    told: set[tuple[str, str]] = set()
    for key, region in shipped.regions.items():
        for day in changing_days(own):
            for about in shipped.measures:
                was, now = _held(about, region, shipped, day), _held(about, region, with_rows, day)
                if was is None or (key, about) in told:
                    continue
                if now is None or was.measure.looser(now.limit.value, was.limit.value):
                    told.add((key, about))
                    shown = "none" if now is None else f"{now.limit.value:g} {was.measure.unit}"
                    yield f"{region.name} is held to {shown} instead of {was.limit.value:g}, {was.measure.name}"


def _held(about: str, region: Region, knowledge: Knowledge, day: date) -> Held | None:
    try:
        return held_to(about, region, knowledge, day)
    except Unusable:
        return None
