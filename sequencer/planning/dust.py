"""The dust a person breathes over a day, where the workshop file states what was measured, against the region's figures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sequencer.findings import Finding
from sequencer.knowledge.exposure import Part, mean_dust
from sequencer.knowledge.forms.regions import DatedLimit, Region
from sequencer.model.plan import Step
from sequencer.model.record import DayLine
from sequencer.planning import days
from sequencer.planning.shop import Shop
from sequencer.planning.who import makes_dust

_WHY = "Wood dust harms the lungs, and hardwood dust can cause cancer of the nose."


def dust_lines_of_day(
    steps: Sequence[Step], shop: Shop, region: Region, day: date | None
) -> tuple[tuple[DayLine, ...], tuple[Finding, ...]]:
    """The dust of one student's work and of the staff's for the class, and findings where a figure is passed. Where any of a
    person's dust counts as hardwood dust, the figure for hardwood holds for all of it."""

    def dusty(step: Step) -> bool:
        kind = shop.knowledge.stations[step.station_kind]
        return any(makes_dust(kind, each) for each in kind.operations.values() if each.name == step.operation)

    lines: list[DayLine] = []
    found: list[Finding] = []
    for person in days.persons(steps, shop, dusty):
        about = "dust-hardwood" if any(_hardwood(step, shop) for step in person.steps) else "dust-softwood"
        line, findings = _line(person, shop, days.asked((about,), shop, region, day, _share))
        lines.append(line)
        found += findings
    return tuple(lines), tuple(found)


def _hardwood(step: Step, shop: Shop) -> bool:
    """Whether a step makes dust that counts as hardwood's; so does that of a material nobody knows."""
    materials = [shop.material(shop.job.stock[shop.job.parts[piece.part].stock]) for piece in step.parts]
    return not materials or any(each is None or each.dust_counts_as == "hardwood" for each in materials)


def _share(_: DatedLimit, value: float) -> days.Share:
    return lambda parts: 100.0 * mean_dust(parts) / value


def _line(person: days.Person, shop: Shop, figures: Sequence[days.Asked]) -> tuple[DayLine, tuple[Finding, ...]]:
    parts: list[Part] = []
    told: list[str] = []
    unknown: list[str] = []
    for name, time in person.minutes.items():
        station = shop.workshop.stations[name]
        title = shop.knowledge.stations[station.kind].name
        if station.dust is None:
            unknown.append(title)
            continue
        parts.append((station.dust, time))
        told.append(f"{title} {station.dust:g} mg/m3 {time:.0f} min")
    over = days.passed(parts, figures)
    at_least = "at least " if unknown else ""
    texts = [f"{', '.join(told)}: together {at_least}{mean_dust(parts):.2f} mg/m3 over a day of 8 hours." if parts else ""]
    if over:
        texts += days.passed_words(parts, over, "Extraction at the tool, and a way that makes less dust, first.")
    elif parts:
        texts.append(
            "No figure of the region is passed by what is known, which is no leave to make dust: keep it as low as can be."
        )
    measure = f"Not measured: {', '.join(unknown)}." if unknown else ""
    found = (days.finding("dust-passes", "dust", person.who, over, _WHY),) if over else ()
    return DayLine(person.who, " ".join(filter(None, texts)), measure), found
