"""A made-up station kind with one operation, a workshop that has it, and a piece of work: the smallest trial of a way."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sequencer.knowledge.forms.operations import Instructions, Limit, Operation, Times, WhoDefault
from sequencer.knowledge.forms.stations import Figure, StationKind
from sequencer.model.workshop import Adult, Station
from sequencer.planning.attempts import Pieces
from sequencer.planning.blanks import Workpiece
from sequencer.planning.limits import Obstacle
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way, find_ways
from sequencer.planning.work import Work
from tests.made import job, knowledge, workshop

SOURCE = "common practice"
PIECE = Workpiece(250.0, 60.0, 20.0)
WORK = Work("leg/slot/cut", "slot", "cut", "Cut the slot: leg", (("leg", 2),), {"feature.width": 6.0, "feature.depth": 12.0}, 5.0)


def limit(of: str, *, says: str = "too short to be held", **asked: str) -> Limit:
    return Limit(of=of, says=says, source=SOURCE, **asked)


def operation(name: str = "Cut a slot", **other: Any) -> Operation:
    plain: dict[str, Any] = {
        "name": name,
        "makes": ("slot",),
        "hazards": ("noise",),
        "minutes": Times(each=3.0, set_up=5.0, source=SOURCE),
        "instructions": Instructions(),
        "if_wrong": "Stop.",
        "sources": (SOURCE,),
    }
    return Operation(**(plain | other))


def kind(*operations: Operation, **other: Any) -> StationKind:
    plain: dict[str, Any] = {
        "station": "slotter",
        "name": "Slotting machine",
        "power": "machine",
        "what": "a machine for slots",
        "figures": {"shortest": Figure(default=300.0, means="shortest piece", source=SOURCE)},
        "who": WhoDefault(operator="student", supervision="watching", gate="signed-off"),
        "smallest": "300 mm",
        "hands": "Keep away.",
        "before_starting": ("Look.",),
        "stop_when": ("Anyone comes near.",),
        "sources": (SOURCE,),
        "operations": {f"cut-{number}": each for number, each in enumerate(operations or (operation(),), 1)},
    }
    return StationKind(**(plain | other))


def shop(
    slotter: StationKind, *stations: Station, adults: tuple[Adult, ...] = (Adult("Teacher", ("all",)),), counted: bool = False
) -> Shop:
    """A shop with this kind only; counted holding of the example workshop is left out unless asked for."""
    school = workshop()
    school = replace(
        school, stations={each.name: each for each in stations}, adults=adults, counted=school.counted if counted else {}
    )
    caddy = job("herb-caddy")
    # Whose wood a leg is of counts for who may work it.
    caddy = replace(caddy, parts={**caddy.parts, "leg": caddy.parts["side"]})
    return Shop(job=caddy, workshop=school, knowledge=replace(knowledge(), stations={"slotter": slotter}))


def ways(slotter: StationKind, *stations: Station, piece: Workpiece = PIECE, **other: Any) -> tuple[Way, ...]:
    return find_ways(WORK, Pieces(piece), shop(slotter, *stations, **other), {}, "softwood")


def obstacles(slotter: StationKind, *stations: Station, **other: Any) -> tuple[Obstacle, ...]:
    """What stands against the one way there is."""
    (way,) = ways(slotter, *stations, **other)
    return way.obstacles
