"""Figures of a station that no plate states and the school chooses: a looser one than the shipped needs who and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.findings import Finding
from sequencer.model.record import DecisionLine
from sequencer.model.workshop import Station
from sequencer.planning.shop import Premises


@dataclass(frozen=True)
class _Looser:
    """A station, the short name of the figure, what it means, as the file states it, as it is shipped."""

    station: Station
    name: str
    means: str
    stated: float
    shipped: float

    def text(self) -> str:
        return f"{self.name} {self.stated:g} instead of {self.shipped:g}, {self.means}"


def chosen_findings(premises: Premises) -> Iterator[Finding]:
    """An error for each figure the school has loosened without saying who decided it and why; a note for each other."""
    for each in _looser(premises):
        station = each.station
        if station.by and station.why:
            yield Finding(
                "note",
                "loosened-figure",
                station.name,
                f"The school has loosened a cautious figure of {station.name}, {each.text()}: {station.why} (decided by "
                f"{station.by}).",
            )
        else:
            yield Finding(
                "error",
                "unnamed-loosening",
                station.name,
                f"The workshop file loosens a figure of {station.name} without saying who decided it and why: {each.text()}.",
                "No machine's plate states this figure: loosening it is the school's decision and is printed.",
                f"Add `by` (a role) and `why` to the station, or write {each.shipped:g} or stricter.",
            )


def chosen_lines(premises: Premises) -> Iterator[DecisionLine]:
    """The figures the school has loosened, for the risk assessment."""
    for each in _looser(premises):
        yield DecisionLine(f"{each.station.name}, {each.name}", each.text(), each.station.by, each.station.why)


def _looser(premises: Premises) -> Iterator[_Looser]:
    for station in premises.workshop.stations.values():
        kind = premises.knowledge.stations.get(station.kind)
        for name, figure in kind.figures.items() if kind is not None else ():
            stated, shipped = station.figures.get(name), figure.default
            if stated is None or shipped is None or not figure.chosen:
                continue
            if stated > shipped if figure.chosen == "lower" else stated < shipped:
                yield _Looser(station, name, figure.means, stated, shipped)
