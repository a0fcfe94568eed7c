"""The noise of a person's day, worked out from the levels of the stations and the minutes of the plan, against the region's
figures. All of a person's work counts as done on one day: the cautious side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.exposure import daily_level, dose
from sequencer.knowledge.region_checks import DAILY_NOISE
from sequencer.knowledge.region_forms import Region
from sequencer.knowledge.regions import held_to
from sequencer.model.plan import NoiseLine, Step
from sequencer.planning.shop import Shop


@dataclass(frozen=True)
class _Asked:
    """A level that may be met for 8 hours: what it is called, dB(A), dB for half the time, whose."""

    name: str
    level: float
    exchange: float
    whose: str

    def share(self, parts: Sequence[tuple[float, float]]) -> float:
        """What some noise makes of a day's worth of it, per cent."""
        return dose(parts, self.level, self.exchange)


def noise_lines(
    steps: Sequence[Step], shop: Shop, region: Region, day: date | None
) -> tuple[tuple[NoiseLine, ...], tuple[Finding, ...]]:
    """The noise of one student's work and of the staff's for the class, and findings where a figure is passed or a level
    not known. Hand work and the noise of others in the room are not in it."""
    asked = _asked(shop, region, day)
    lines: list[NoiseLine] = []
    found: list[Finding] = []
    for who, card, times in (("One student", "student", 1), ("Staff, one person for the class", "staff", shop.workshop.students)):
        minutes: dict[str, float] = {}
        for step in steps:
            noisy = shop.knowledge.stations[step.station_kind].power in ("machine", "powered-hand") if step.station else False
            if noisy and step.kind == "work" and step.card == card:
                minutes[step.station] = minutes.get(step.station, 0.0) + step.minutes * times
        if minutes:
            line, findings = _line(who, minutes, shop, asked)
            lines.append(line)
            found += findings
    return tuple(lines), tuple(found)


def _asked(shop: Shop, region: Region, day: date | None) -> tuple[_Asked, ...]:
    """Every level over a day that counts in the region, the school's own too."""
    found = []
    for about in DAILY_NOISE:
        held = held_to(about, region, shop.knowledge, day)
        if held is not None:
            limits = (held.limit, *held.besides) if held.own else (held.limit,)
            found += [_Asked(held.measure.name, each.value, each.exchange or 3.0, each.region) for each in limits]
            if about in shop.workshop.limits:
                exchange = held.limit.exchange or 3.0
                found.append(_Asked(held.measure.name, shop.workshop.limits[about], exchange, "the school's own"))
    return tuple(found)


def _line(who: str, minutes: dict[str, float], shop: Shop, asked: Sequence[_Asked]) -> tuple[NoiseLine, tuple[Finding, ...]]:
    parts: list[tuple[float, float]] = []
    told: list[str] = []
    unmeasured: list[str] = []
    unknown: list[str] = []
    for name, time in minutes.items():
        station = shop.workshop.stations[name]
        title, usual = shop.knowledge.stations[station.kind].name, shop.knowledge.stations[station.kind].noise
        level = station.noise if station.noise is not None else usual.default if usual is not None else None
        if station.noise is None:
            unmeasured.append(title)
        if level is None:
            unknown.append(title)
            continue
        parts.append((level, time))
        told.append(f"{title} {mm(level)} dB(A) {'' if station.noise is not None else 'assumed, '}{time:.0f} min")
    passed = _passed(parts, asked)
    at_least = "at least " if unknown else ""
    texts = [f"{', '.join(told)}: together {at_least}{daily_level(parts):.1f} dB(A) over a day of 8 hours." if parts else ""]
    if passed:
        texts.append(f"It passes {'; '.join(f'{each.name}, {mm(each.level)} dB(A) ({each.whose})' for each in passed)}.")
        most = max(passed, key=lambda each: each.share(parts))
        time = sum(each for _, each in parts)
        texts.append(
            f"To stay under all of them, at most {floor(time * 100 / most.share(parts))} minutes of this work a day, over "
            f"{ceil(most.share(parts) / 100)} days or more; ear protection on, and quieter tools or ways first."
        )
    elif parts:
        texts.append(
            "None of the region's figures is passed by what is known." if unknown else "No figure of the region is passed."
        )
    measure = f"Not known: measure at the operator: {', '.join(unmeasured)}." if unmeasured else ""
    line = NoiseLine(who, " ".join(filter(None, texts)), measure)
    return line, tuple(_findings(who, [each.name for each in passed], unmeasured))


def _passed(parts: Sequence[tuple[float, float]], asked: Sequence[_Asked]) -> list[_Asked]:
    """Of each measure the level that is passed furthest."""
    found: dict[str, _Asked] = {}
    for each in asked:
        share = each.share(parts)
        if share > 100.0 and (each.name not in found or share > found[each.name].share(parts)):
            found[each.name] = each
    return list(found.values())


def _findings(who: str, passed: Sequence[str], unmeasured: Sequence[str]) -> list[Finding]:
    found = []
    if passed:
        found.append(
            Finding(
                "warning",
                "noise-passes",
                "noise",
                f"{who}: if all this work falls on one day, it passes {'; '.join(passed)}.",
                "Loud noise harms hearing for good.",
                "Spread it over days and people; the minutes a day stand under Noise of a day.",
            )
        )
    if unmeasured:
        found.append(
            Finding(
                "note",
                "noise-not-known",
                "noise",
                f"{who}: the level at {', '.join(unmeasured)} is not known here.",
                "How much noise a day holds cannot be worked out without it.",
                "Measure at the operator and write `noise` in the workshop file.",
            )
        )
    return found
