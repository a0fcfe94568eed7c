"""The workshop seen through the knowledge: which stations of which kind there are, with which guards, holding, figures."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from sequencer.findings import Unusable
from sequencer.knowledge.forms.materials import CLASS_WORK, ClassWork, Material
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.regions import Region
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import Found, find_material
from sequencer.knowledge.regions import asks, region_named
from sequencer.knowledge.settings.gluing import glue_times
from sequencer.knowledge.settings.saws import smallest_radius
from sequencer.model.job import Job, Stock
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Station, Workshop

if TYPE_CHECKING:
    from sequencer.planning.ways import Way
    from sequencer.planning.work import Work

EXTRACTION = "dust-extraction"
"""The guard that a station has when its file says `extraction: true`."""


def as_it_stands(operation: Operation, figures: Figures) -> Operation:
    """The operation with what holds the piece as it is worked: on its edge or end it may be held by something else than flat."""
    if operation.holding_upright is None or not figures.get("blank.upright", 0.0):
        return operation
    return replace(operation, holding=operation.holding_upright)


@dataclass(frozen=True)
class Premises:
    """Workshop and knowledge together: what stands against an operation whatever is made."""

    workshop: Workshop
    knowledge: Knowledge

    @cached_property
    def makers(self) -> dict[str, tuple[tuple[StationKind, str, Operation], ...]]:
        """Kind of work to the operations that make it, in alphabetical order of station kind, then file order."""
        found: dict[str, list[tuple[StationKind, str, Operation]]] = {}
        for _, kind in sorted(self.knowledge.stations.items()):
            for name, operation in kind.operations.items():
                for made in operation.makes:
                    found.setdefault(made, []).append((kind, name, operation))
        return {made: tuple(makers) for made, makers in found.items()}

    @cached_property
    def stations(self) -> dict[str, tuple[Station, ...]]:
        """Station kind to the workshop's stations of it, in the order of the file."""
        found: dict[str, list[Station]] = {}
        for station in self.workshop.stations.values():
            found.setdefault(station.kind, []).append(station)
        return {kind: tuple(stations) for kind, stations in found.items()}

    @cached_property
    def counted_holding(self) -> frozenset[str]:
        """Work-holding that stands in the workshop's counted things."""
        return frozenset(thing.kind or thing.name for thing in self.workshop.counted.values() if thing.count > 0)

    def fitted(self, station: Station) -> frozenset[str]:
        """Guards fitted at a station."""
        return frozenset((*station.guards, *((EXTRACTION,) if station.extraction else ())))

    @cached_property
    def region(self) -> Region | None:
        """The school's region; None if it is not known, and then everything is asked for."""
        try:
            return region_named(self.workshop.region, self.knowledge)
        except Unusable:
            return None

    def asked(self, guards: Iterable[str]) -> tuple[str, ...]:
        """Those of some guards that the school's region asks for."""
        return tuple(
            name
            for name in guards
            if self.region is None or not (by := self.knowledge.guards[name].asked_by) or asks(self.region, by)
        )

    def holding(self, station: Station) -> frozenset[str]:
        """Work-holding at hand at a station."""
        return frozenset(station.holding) | self.counted_holding

    @cached_property
    def jig_for(self) -> dict[str, str]:
        """Ways of holding that are jigs of the list, with the jig's name."""
        return {jig.serves_as: name for name, jig in self.knowledge.jigs.items() if jig.serves_as}

    def made_holding(self, kind: StationKind) -> frozenset[str]:
        """The ways of holding a plan may rest on because it has them made: those that are jigs, at a hand bench. At a
        machine or powered tool holding counts as a guard, and must be in the workshop file before it is relied on."""
        return frozenset(self.jig_for) if kind.power in ("hand", "bench") else frozenset()

    def held_by(self, kind: StationKind, operation: Operation, station: Station) -> tuple[str, ...]:
        """The ways of holding an operation uses at a station: all it asks for, and of a choice the first at hand, else the
        first that is made."""
        there, made = self.holding(station), self.made_holding(kind)
        choice = operation.holding.any_of
        first = next((name for name in choice if name in there), None) or next((name for name in choice if name in made), None)
        return tuple(dict.fromkeys((*operation.holding.all_of, *((first,) if first else ()))))

    @cached_property
    def _figures(self) -> dict[tuple[int, int], tuple[StationKind, Station, Figures]]:
        """What has been worked out, by identity: every attempt at every way asks for its station's figures."""
        return {}

    def station_figures(self, kind: StationKind, station: Station) -> Figures:
        """`station.*` figures: the school's own where stated, or where the smallest of its tools states them, else the shipped
        default; what neither states is absent."""
        asked = id(kind), id(station)
        if asked not in self._figures:
            self._figures[asked] = kind, station, self._stated(kind, station)
        return self._figures[asked][2]

    def _stated(self, kind: StationKind, station: Station) -> Figures:
        figures = {f"station.{name}": figure.default for name, figure in kind.figures.items() if figure.default is not None}
        for name, sizes in station.sizes.items():
            tools = self.knowledge.tool_sizes.get(name)
            if tools is not None and tools.narrowest in kind.figures:
                figures[f"station.{tools.narrowest}"] = sizes[0]
        own = {f"station.{name}": value for name, value in station.figures.items()}
        if "station.blade-width" in own:
            # A curve for another blade would be a guess: the list says, or staff decide.
            figures.pop("station.smallest-radius", None)
            radius = smallest_radius(own["station.blade-width"], self.knowledge.band_blades)
            figures |= {"station.smallest-radius": radius} if radius is not None else {}
        return figures | own

    @cached_property
    def common_figures(self) -> Figures:
        """Figures of class and room."""
        figures = {"class.students": float(self.workshop.students)}
        if self.workshop.temperature is not None:
            figures["room.temperature"] = self.workshop.temperature
        return figures


@dataclass(frozen=True, kw_only=True)
class Shop(Premises):
    """Job, workshop and knowledge together, with the look-ups planning needs."""

    job: Job

    @cached_property
    def glue_figures(self) -> Figures:
        """The job's glue as the figures a gluing operation names, in the room as warm as it is; empty if the glue is not
        known."""
        glue = self.knowledge.glues.get(self.job.glue)
        if glue is None:
            return {}
        times = glue_times(glue, self.workshop.temperature, self.knowledge.working)
        figures = {
            "station.open-time": times.open,
            "station.cramp-time": times.cramped,
            "station.cure-time": times.cured,
        }
        return figures if glue.coldest is None else figures | {"station.coldest": glue.coldest}

    @cached_property
    def self_heating(self) -> frozenset[str]:
        """Finishes whose soaked rags can catch fire by themselves."""
        return frozenset(name for name, finish in self.knowledge.finishes.items() if finish.self_heating_rags)

    @cached_property
    def ways_found(self) -> dict[Hashable, list[tuple[Work, tuple[Way, ...]]]]:
        """Ways that have been found, by what was asked (`ways_on.py`)."""
        return {}

    @cached_property
    def _found(self) -> dict[tuple[str, str], Found]:
        """What has been looked up: every attempt at every way asks for its wood."""
        return {}

    def found(self, stock: Stock) -> Found:
        """What the name of a stock's material, or its botanical name, means."""
        asked = (stock.material, stock.botanical)
        if asked not in self._found:
            self._found[asked] = find_material(stock.material, self.knowledge.materials, stock.botanical)
        return self._found[asked]

    def material(self, stock: Stock) -> Material | None:
        """What is known of a stock's material; of a name that may mean several the most cautious. None if nothing is."""
        return self.found(stock).material

    def class_work(self, parts: Iterable[tuple[str, int]]) -> ClassWork:
        """Who may make dust of several parts, the strictest answer of their woods. A wood that nobody knows is staff's; of a
        bought-in piece of such a kind nothing is taken, since it may be no wood."""
        answers: list[ClassWork] = ["students"]
        for stock in (self.job.stock[self.job.parts[name].stock] for name, _ in parts):
            material = self.material(stock)
            if material is not None:
                answers.append(material.class_work)
            elif stock.form != "bought":
                answers.append("staff")
        return max(answers, key=CLASS_WORK.index)

    def hardness(self, stock: Stock) -> str:
        """`softwood`, `hardwood`, `sheet` or `unknown`: as the job says, else as the knowledge knows the material."""
        if stock.hardness != "unknown":
            return stock.hardness
        if stock.form == "sheet":
            return "sheet"
        kinds = {self.knowledge.materials[name].hardness for name in self.found(stock).names}
        return kinds.pop() if len(kinds) == 1 else "unknown"

    def hardness_of(self, parts: tuple[tuple[str, int], ...]) -> str:
        """The hardness of several parts: theirs if it is one, else `unknown`."""
        kinds = {self.hardness(self.job.stock[self.job.parts[name].stock]) for name, _ in parts}
        return kinds.pop() if len(kinds) == 1 else "unknown"
