"""Checks that measures, regions and dated figures name what there is, in units and days that can be compared."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from sequencer.knowledge.forms.guards import GuardItem
from sequencer.knowledge.forms.regions import ANY, DatedLimit, Measure, Region
from sequencer.reading.report import Report
from sequencer.reading.tree import Steps
from sequencer.reading.words import meant

DAILY_NOISE = ("noise-action", "noise-upper-action", "noise-limit")
"""Measures of noise over a day: their records say by how many decibels the level may rise when the time is halved."""

LEAST_EXCHANGE, MOST_EXCHANGE = 3.0, 5.0
"""By how many decibels a level may rise when the time is halved, dB: the rule of equal energy (ISO 1999), and 29 CFR 1910.95, the
loosest in lists/limits.yaml."""


@dataclass(frozen=True)
class RegionNames:
    """What there is to refer to."""

    measures: Mapping[str, Measure]
    stations: Collection[str]
    jurisdictions: Collection[str]
    """Those that regions count."""
    with_figures: Collection[str]
    """Those that have figures in lists/limits.yaml."""
    codes: Mapping[str, str]
    """Codes in lower case and the region each means."""


def check_measures(report: Report, measures: Mapping[str, Measure], names: RegionNames) -> None:
    """Measures count others of the same unit and direction, and name kinds of station."""
    for key, measure in measures.items():
        _known(report, "kind of station", measure.stations, names.stations, (key, "stations"))
        _known(report, "measure", measure.counts, names.measures, (key, "counts"))
        for number, other in enumerate(measure.counts):
            its = names.measures.get(other)
            if its is not None and (its.unit, its.stricter) != (measure.unit, measure.stricter):
                report.error(
                    "measure",
                    (key, "counts", number),
                    f"'{other}' is in {its.unit}, {its.stricter} is stricter; '{key}' is not.",
                    "Figures of two sorts cannot be compared.",
                    "Take it out.",
                )


def check_records(report: Report, records: Iterable[DatedLimit], names: RegionNames) -> None:
    """Every record is about a listed measure, in its unit, with days of the calendar in the right order."""
    for number, each in enumerate(records):
        _known(report, "measure in lists/measures.yaml", (each.about,), names.measures, (number, "about"), single=True)
        _known(report, "jurisdiction in lists/regions.yaml", (each.region,), names.jurisdictions, (number, "region"), single=True)
        measure = names.measures.get(each.about)
        # An impulse is measured in dB without a filter, a peak in dB(C): the same scale for what stands here.
        if measure is not None and each.unit.partition("(")[0] != measure.unit.partition("(")[0]:
            report.error(
                "unit",
                (number, "unit"),
                f"This is in {each.unit}; '{each.about}' is in {measure.unit}.",
                "Figures in two units cannot be compared.",
                f"Give the figure in {measure.unit}.",
            )
        if (each.about in DAILY_NOISE) != (each.exchange is not None):
            report.error(
                "exchange",
                (number,),
                "A level of noise over a day needs `exchange`, and nothing else has it.",
                "Without it a level cannot be worked out over a day.",
                "Write 3 or 5, as the law there has it.",
            )
        elif each.exchange is not None and not LEAST_EXCHANGE <= each.exchange <= MOST_EXCHANGE:
            report.error(
                "exchange",
                (number, "exchange"),
                f"{each.exchange:g} dB are said to halve the time; that is from {LEAST_EXCHANGE:g} to {MOST_EXCHANGE:g}.",
                "Equal energy halves it at 3 dB, and no law on record waits for more than 5; with more a level hardly counts.",
                "Write 3 or 5, as the law there has it.",
            )
        days = [_is_day(report, text, (number, key)) for key in ("starts", "ends") if (text := getattr(each, key))]
        if len(days) == 2 and None not in days and each.ends < each.starts:
            report.error("date", (number, "ends"), "It ends before it starts.", "It would never hold.", "Correct the days.")


def check_regions(report: Report, regions: Mapping[str, Region], names: RegionNames) -> None:
    """Regions name jurisdictions that have figures, listed measures and kinds of station; no code means two regions."""
    for key, region in regions.items():
        for number, code in enumerate(region.codes):
            if (other := names.codes.get(code.lower(), key)) != key:
                report.error("same-name", (key, "codes", number), f"'{code}' also means {other}.", remedy="Keep one of the two.")
        _known(report, "jurisdiction with figures in lists/limits.yaml", region.counts, names.with_figures, (key, "counts"))
        _known(report, "measure", region.without, names.measures, (key, "without"))
        _known(report, "kind of station", region.least, names.stations, (key, "least"))
        for what in ("since", "looked_up"):
            _is_day(report, getattr(region, what), (key, what))


def check_guards(report: Report, guards: Mapping[str, GuardItem], names: RegionNames) -> None:
    """Guards that only some jurisdictions ask for name ones that have figures."""
    for key, guard in guards.items():
        _known(report, "jurisdiction with figures in lists/limits.yaml", guard.asked_by, names.with_figures, (key, "asked_by"))


def codes(regions: Mapping[str, Region]) -> dict[str, str]:
    """Codes in lower case and the first region that each means."""
    found: dict[str, str] = {}
    for key, region in regions.items():
        for code in region.codes:
            found.setdefault(code.lower(), key)
    return found


def jurisdictions(regions: Iterable[Region]) -> frozenset[str]:
    """Whose figures regions count: a misspelt name must not stand for itself."""
    return frozenset({ANY, *(name for region in regions for name in (*region.counts, *region.also))})


def with_figures(records: Iterable[DatedLimit]) -> frozenset[str]:
    """Whose figures there are."""
    return frozenset({ANY, *(each.region for each in records)})


def _known(report: Report, what: str, used: Iterable[str], known: Collection[str], steps: Steps, *, single: bool = False) -> None:
    for number, name in enumerate(used):
        if name not in known:
            at = steps if single else (*steps, number)
            report.error("unknown-name", at, f"There is no {what} called '{name}'.", remedy=meant(name, known))


def _is_day(report: Report, text: str, steps: Steps) -> date | None:
    try:
        if len(text) == len("2026-12-01"):
            return date.fromisoformat(text)
    except ValueError:
        pass
    report.error("date", steps, f"'{text}' is no day.", "", "Write a day as year-month-day, such as 2026-12-01.")
    return None
