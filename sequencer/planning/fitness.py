"""Whether a station's own figures go together: the riving knife with its blade, the spindle with the mark on what it turns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.knowledge.settings.saws import knife_fault
from sequencer.knowledge.settings.speeds import over_mark, rim_speed
from sequencer.model.plan import Step
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Station
from sequencer.planning.shop import Premises

OVER_MARK = "over-marked-speed"
MARK_UNKNOWN = "marked-speed-unknown"


@dataclass(frozen=True)
class Fault:
    """What does not go together at a station, why that matters, what to do, and where the rule is from."""

    code: str
    what: str
    why: str
    remedy: str
    source: str


def faults(figures: Figures) -> Iterator[Fault]:
    """The faults among a station's figures by full name. What nobody has stated is not judged."""
    if knife := _knife(figures):
        yield Fault(
            "riving-knife",
            f"{knife[:1].upper()}{knife[1:]}.",
            "Too thin, the cut closes on the blade and throws the wood back; too thick, the wood jams on the knife.",
            "Fit the knife that belongs to this blade: plate + 0.2 mm at least, and thinner than the kerf.",
            "EN 1870-1:2007+A1:2009, riving knife, as quoted in a test report; HSE circular saw bench page",
        )
    turns, marked = figures.get("station.spindle-speed"), figures.get("station.marked-speed")
    if turns is not None and marked is not None and over_mark(turns, marked):
        yield Fault(
            OVER_MARK,
            f"It turns at {mm(turns)} rev/min{_at_the_rim(turns, figures)}; what is fitted is marked {mm(marked)} at most.",
            "A blade, cutter or disc that turns faster than its mark can burst.",
            "Fit one that is marked for this speed, or set the spindle slower.",
            "from memory, EN 847-1: the highest speed is marked on the tool and is never exceeded",
        )


def _knife(figures: Figures) -> str:
    plate, knife, kerf = (figures.get(f"station.{name}") for name in ("plate", "knife", "kerf"))
    return "" if plate is None or knife is None or kerf is None else knife_fault(plate, knife, kerf)


def _at_the_rim(turns: float, figures: Figures) -> str:
    radius, diameter = figures.get("station.blade-radius"), figures.get("station.cutter-diameter")
    across = 2 * radius if radius is not None else diameter
    return "" if across is None else f", {rim_speed(across, turns):.0f} m/s at the rim"


def station_faults(premises: Premises, station: Station) -> tuple[Fault, ...]:
    """The faults of one station of the workshop; none where its kind is not known."""
    kind = premises.knowledge.stations.get(station.kind)
    return tuple(faults(premises.station_figures(kind, station))) if kind is not None else ()


def fitness_findings(premises: Premises) -> Iterator[Finding]:
    """A warning for each fault of a station that is in service."""
    for station in premises.workshop.stations.values():
        for fault in () if station.out_of_service else station_faults(premises, station):
            yield Finding(
                "warning", fault.code, station.name, f"{station.name}: {fault.what}", fault.why, fault.remedy, source=fault.source
            )


def mark_findings(premises: Premises, steps: Sequence[Step]) -> Iterator[Finding]:
    """A warning for each station the plan uses whose speed cannot be held against the mark on its blade or disc."""
    used: dict[str, list[int]] = {}
    for step in steps:
        if step.station in premises.workshop.stations:
            used.setdefault(step.station, []).append(step.number)
    for name, numbers in used.items():
        station = premises.workshop.stations[name]
        kind = premises.knowledge.stations[station.kind]
        if "marked-speed" not in kind.figures:
            continue
        figures = premises.station_figures(kind, station)
        unknown = [each for each in ("spindle-speed", "marked-speed") if f"station.{each}" not in figures]
        if unknown:
            where = f"step{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"
            yield Finding(
                "warning",
                MARK_UNKNOWN,
                name,
                f"{name}, {where}: marked speed not known here: staff check. Not stated: {' and '.join(unknown)}.",
                "A blade or disc that turns faster than its mark can burst.",
                "Read both before use, and state them in the workshop file.",
                source="from memory, EN 847-1: the highest speed is marked on the tool and is never exceeded",
            )
