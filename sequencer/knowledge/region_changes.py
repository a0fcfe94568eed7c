"""What a school's own measures, regions and dated figures ask for less than the shipped ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date

from sequencer.findings import Unusable
from sequencer.knowledge.forms.regions import Least, Region
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.regions import Held, changing_days, held_to


def stricter_of_measure(name: str, was: str, now: str) -> Iterator[str]:
    """Which of two figures is the stricter cannot be turned round."""
    yield f"{now} figures count as stricter instead of {was} ones"


def counts_of_measure(name: str, was: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    """Each measure whose figures counted still does, and none is newly hidden behind this one."""
    yield from (f"figures of {other} count no more" for other in was if other not in now)
    yield from (f"{other} is no longer asked for by itself" for other in now if other not in was)


def stations_of_measure(name: str, was: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    """It is about all the stations it was about."""
    if now and (not was or not set(was) <= set(now)):
        yield f"printed only for {', '.join(now)}"


def counts_of_region(name: str, was: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    """Only everyone's figures are known to ask for as much: one more jurisdiction's may take the place of the strictest on
    record, which stands in where a region has no figure of its own."""
    if now and set(was) != set(now):
        gone = [each for each in was if each not in now]
        if gone or not was:
            yield f"figures of {', '.join(gone) or 'everyone else'} count no more"
        else:
            yield f"figures of {', '.join(each for each in now if each not in was)} count before the strictest on record"


def since_of_region(name: str, was: str, now: str) -> Iterator[str]:
    """Nothing is taken to be known of earlier days."""
    if now < was:
        yield f"figures are taken to hold from {now}"


def least_of_region(name: str, was: Mapping[str, Least], now: Mapping[str, Least]) -> Iterator[str]:
    """Who may use each kind of station is held to as much."""
    for kind, least in was.items():
        if kind not in now or not _as_strict(now[kind], least):
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
        for day in (None, *changing_days(with_rows)):
            for about in shipped.measures:
                was, now = _held(about, region, shipped, day), _held(about, region, with_rows, day)
                if was is None or (key, about) in told:
                    continue
                less = _held_to_less(was, now)
                if less:
                    told.add((key, about))
                    yield f"{region.name} {less}, {was.measure.name}"


def _held_to_less(was: Held, now: Held | None) -> str:
    """In words, where a day may pass a record that counted and passes none of those that count now."""
    if now is None or was.measure.looser(now.limit.value, was.limit.value):
        shown = "none" if now is None else f"{now.limit.value:g} {was.measure.unit}"
        return f"is held to {shown} instead of {was.limit.value:g}"
    gone = [each for each in was.judged if all(was.measure.asks_less(other, each) for other in now.judged)]
    if not gone:
        return ""
    sooner = min(each.exchange or 0.0 for each in now.judged)
    return f"halves the time only {sooner:g} dB louder instead of {gone[0].exchange or 0.0:g}"


def _held(about: str, region: Region, knowledge: Knowledge, day: date | None) -> Held | None:
    try:
        return held_to(about, region, knowledge, day)
    except Unusable:
        return None
