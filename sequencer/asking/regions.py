"""A region in full: law and regulator to check by name, what its record must hold, what it is held to and from when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sequencer.features.base import mm
from sequencer.knowledge.forms.regions import Group, Region
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.regions import Held, changing_days, held, least_at
from sequencer.paper.wording import heading, source_words

_GROUPS: dict[Group, str] = {
    "noise": "noise",
    "vibration": "vibration",
    "dust": "wood dust",
    "saws": "circular saws",
    "planers": "surface planer",
}


def region_facts(region: Region) -> dict[str, str]:
    """What a region is, in a line each."""
    return {
        "what": region.what,
        "called": ", ".join(region.codes),
        "figures of": ", ".join(region.counts) or "everyone on record",
        "without": ", ".join(region.without),
        "regulator": region.regulator,
        "known": f"looked up on {region.looked_up}; nothing for days before {region.since}",
    }


def region_lists(region: Region, knowledge: Knowledge) -> Iterator[tuple[str, list[str]]]:
    """A region's lists, each with its heading."""
    yield "law to check by name; it comes first", list(region.laws)
    yield "the record must hold", list(region.record)
    yield "signed, with date", list(region.sign_off)
    yield "looked at again", list(region.review)
    asked = [
        f"{kind}: {', '.join(filter(None, (each.operator, each.supervision, each.gate)))}. Source: {source_words(each.source)}."
        for kind in knowledge.stations
        for each in least_at(kind, region, knowledge)
    ]
    yield "no policy of a school is looser, for students, than", list(dict.fromkeys(asked))
    for group, title in _GROUPS.items():
        yield f"figures: {title}", list(_figures(group, region, knowledge))
    yield "sources", [source_words(each) for each in region.sources]


def _figures(group: Group, region: Region, knowledge: Knowledge) -> Iterator[str]:
    """A line for each measure of a group: what is held to now, and from each day on which that changes."""
    first = date.fromisoformat(region.looked_up)
    found: dict[str, list[tuple[date, Held]]] = {}
    for day in (first, *(day for day in changing_days(knowledge) if day > first)):
        for each in held(region, knowledge, day):
            told = found.setdefault(each.about, [])
            if each.measure.group == group and (not told or told[-1][1].limit != each.limit):
                told.append((day, each))
    for told in found.values():
        if told:
            texts = [_figure(day if number else None, each) for number, (day, each) in enumerate(told)]
            yield f"{told[0][1].measure.name}: {' '.join(map(heading, texts))}"


def _figure(day: date | None, found: Held) -> str:
    limit = found.limit
    whose = limit.region if found.own else f"{limit.region}, stands in: not known there"
    note = f"; {limit.note}" if limit.note else ""
    start = f"from {day.isoformat()} " if day else ""
    others = ", ".join(f"{each.region} {mm(each.value)}" for each in found.besides)
    also = f" Also on record: {others}." if others else ""
    return f"{start}{mm(limit.value)} {limit.unit} ({whose}{note}). Source: {source_words(limit.source)}.{also}"
