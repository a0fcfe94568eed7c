"""The noise of a person's day, worked out from the levels of the stations and the minutes of the plan, against the region's
figures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.exposure import Part, daily_level, dose
from sequencer.knowledge.forms.regions import DatedLimit, Region
from sequencer.knowledge.region_checks import DAILY_NOISE
from sequencer.model.plan import Step
from sequencer.model.record import DayLine
from sequencer.planning import days
from sequencer.planning.loudness import level_at
from sequencer.planning.shop import Shop

_WHY = "Loud noise harms hearing for good."


def noise_lines(
    steps: Sequence[Step], shop: Shop, region: Region, day: date | None
) -> tuple[tuple[DayLine, ...], tuple[Finding, ...]]:
    """The noise of one student's work and of the staff's for the class, and findings where a figure is passed or a level
    not known. Hand work and the noise of others in the room are not in it."""

    def noisy(step: Step) -> bool:
        return shop.knowledge.stations[step.station_kind].power in ("machine", "powered-hand")

    figures = days.asked(DAILY_NOISE, shop, region, day, _share)
    lines: list[DayLine] = []
    found: list[Finding] = []
    for person in days.persons(steps, shop, noisy):
        line, findings = _line(person, shop, figures)
        lines.append(line)
        found += findings
    return tuple(lines), tuple(found)


def _share(limit: DatedLimit, value: float) -> days.Share:
    return lambda parts: dose(parts, value, limit.exchange or 3.0)


def _line(person: days.Person, shop: Shop, figures: Sequence[days.Asked]) -> tuple[DayLine, tuple[Finding, ...]]:
    parts: list[Part] = []
    told: list[str] = []
    unmeasured: list[str] = []
    unknown: list[str] = []
    for name, time in person.minutes.items():
        station = shop.workshop.stations[name]
        kind = shop.knowledge.stations[station.kind]
        title, level = kind.name, level_at(kind, station)
        if station.noise is None:
            unmeasured.append(title)
        if level is None:
            unknown.append(title)
            continue
        parts.append((level, time))
        told.append(f"{title} {mm(level)} dB(A) {'' if station.noise is not None else 'assumed, '}{time:.0f} min")
    over = days.passed(parts, figures)
    at_least = "at least " if unknown else ""
    texts = [f"{', '.join(told)}: together {at_least}{daily_level(parts):.1f} dB(A) over a day of 8 hours." if parts else ""]
    if over:
        texts += days.passed_words(parts, over, "Ear protection on, and quieter tools or ways first.")
    elif parts:
        texts.append(
            "None of the region's figures is passed by what is known." if unknown else "No figure of the region is passed."
        )
    measure = f"Not known: measure at the operator: {', '.join(unmeasured)}." if unmeasured else ""
    found = [days.finding("noise-passes", "noise", person.who, over, _WHY)] if over else []
    if unmeasured:
        found.append(
            Finding(
                "note",
                "noise-not-known",
                "noise",
                f"{person.who}: the level at {', '.join(unmeasured)} is not known here.",
                "How much noise a day holds cannot be worked out without it.",
                "Measure at the operator and write `noise` in the workshop file.",
            )
        )
    return DayLine(person.who, " ".join(filter(None, texts)), measure), tuple(found)
