"""The vibration of a person's hands over a day, from what the workshop file states of its tools and the minutes of the plan,
against the region's figures; and how long a trigger may be held until the action value is reached."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import floor

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.exposure import Part, daily_vibration, trigger_minutes
from sequencer.knowledge.forms.regions import DatedLimit, Region
from sequencer.knowledge.regions import strictest
from sequencer.model.plan import Step
from sequencer.model.record import DayLine
from sequencer.planning import days
from sequencer.planning.shop import Shop

HELD = "powered-hand"
"""The power of stations whose tool is driven and held in the hands."""
ACTION = "vibration-action"
_WHY = "Shaking tools harm nerves and blood vessels of the hands, and numb fingers do not always come back."
_LOOK_UP = "look up the maker's figure, add its uncertainty, and state it as `vibration`"


def vibration_lines(
    steps: Sequence[Step], shop: Shop, region: Region, day: date | None
) -> tuple[tuple[DayLine, ...], tuple[Finding, ...]]:
    """The vibration of one student's work and of the staff's for the class, and findings where a figure is passed or what a
    tool does is not stated. A machine fed by hand counts where the workshop file states something of it."""

    def shakes(step: Step) -> bool:
        held = shop.knowledge.stations[step.station_kind].power == HELD
        return held or shop.workshop.stations[step.station].vibration is not None

    figures = days.asked((ACTION, "vibration-limit"), shop, region, day, _share)
    lines: list[DayLine] = []
    found: list[Finding] = []
    for person in days.persons(steps, shop, shakes):
        line, findings = _line(person, shop, figures, day)
        lines.append(line)
        found += findings
    return tuple(lines), tuple(found)


def vibration_findings(shop: Shop) -> tuple[Finding, ...]:
    """A warning where a vibration is stated of a place at which nothing is driven."""
    return tuple(
        Finding(
            "warning",
            "vibration-of-nothing",
            station.name,
            f"{station.name} states a vibration, and nothing there is driven by a motor.",
            "Only a tool or machine with a motor shakes the hands for long.",
            "State it of the tool that is meant, or take it out.",
        )
        for station in shop.workshop.stations.values()
        if station.vibration is not None
        and (kind := shop.knowledge.stations.get(station.kind)) is not None
        and kind.power not in (HELD, "machine")
    )


def _share(_: DatedLimit, value: float) -> days.Share:
    return lambda parts: 100.0 * (daily_vibration(parts) / value) ** 2


def _line(
    person: days.Person, shop: Shop, figures: Sequence[days.Asked], day: date | None
) -> tuple[DayLine, tuple[Finding, ...]]:
    parts: list[Part] = []
    told: list[str] = []
    sizes: dict[str, float] = {}
    unknown: list[str] = []
    for name, time in person.minutes.items():
        station = shop.workshop.stations[name]
        title, size = shop.knowledge.stations[station.kind].name, station.vibration
        if size is None:
            unknown.append(title)
            continue
        parts.append((size, time))
        sizes[title] = max(size, sizes.get(title, 0.0))
        told.append(f"{title} {mm(size)} m/s2 {time:.0f} min")
    over = days.passed(parts, figures)
    at_least = "at least " if unknown else ""
    texts = [f"{', '.join(told)}: together {at_least}{daily_vibration(parts):.1f} m/s2 over a day of 8 hours." if parts else ""]
    if parts:
        texts.append(_trigger_words(sizes, shop, figures, day))
    if over:
        texts += days.passed_words(parts, over, "A tool that shakes less, or a way by hand, first.")
    elif parts and figures:
        texts.append(
            "None of the region's figures is passed by what is known." if unknown else "No figure of the region is passed."
        )
    measure = f"Not stated: {', '.join(unknown)}: {_LOOK_UP}." if unknown else ""
    found = [days.finding("vibration-passes", "vibration", person.who, over, _WHY)] if over else []
    if unknown:
        found.append(
            Finding(
                "note",
                "vibration-not-known",
                "vibration",
                f"{person.who}: how much {', '.join(unknown)} shakes the hands is not stated.",
                "How long it may be used in a day cannot be worked out without it.",
                f"{_LOOK_UP[0].upper()}{_LOOK_UP[1:]} in the workshop file.",
            )
        )
    return DayLine(person.who, " ".join(filter(None, texts)), measure), tuple(found)


def _trigger_words(sizes: dict[str, float], shop: Shop, figures: Sequence[days.Asked], day: date | None) -> str:
    """How many minutes a day each tool by itself may run until the action value is reached. Where the law of the region has
    none, the lowest that is on record elsewhere says when to begin to look."""
    measure = shop.knowledge.measures.get(ACTION)
    own = [each for each in figures if measure is not None and each.name == measure.name]
    if own:
        least = min(own, key=lambda each: each.value)
        value, whose, lead = least.value, least.whose, "Trigger time a day"
    else:
        anywhere = [each for each in shop.knowledge.limits if each.about == ACTION and each.holds_on(day)]
        if measure is None or not anywhere:
            return "No figure is known to hold it against."
        limit = strictest(anywhere, measure)
        value, whose, lead = limit.value, limit.region, "The law there has no figure on record here; trigger time a day"
    each_tool = ", ".join(f"{title} {floor(trigger_minutes(size, value))} min" for title, size in sizes.items())
    return f"{lead} until the action value, {mm(value)} m/s2 ({whose}), is reached by one tool alone: {each_tool}."
