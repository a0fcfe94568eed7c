"""What stations ask of a strip: how long it may be, what the saw takes that cuts it apart, on how long a piece settings are
tried. mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from sequencer.model.job import Part
from sequencer.planning.shop import Shop
from sequencer.planning.strips import WASTE, cuts_apart, in_the_long, runs_along
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


def kerfs_of(works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> dict[str, float]:
    """The kerf of the saw that is chosen to cut the pieces of each part apart, the widest where there are several; with what the
    sawn ends are trued by where they are sawn by hand. A saw whose kerf nobody has stated gives none."""
    found: dict[str, float] = {}
    for name, way in ways.items():
        work = works[name]
        if not way.in_the_long or not cuts_apart(work):
            continue
        kind = shop.knowledge.stations[way.kind]
        kerf = shop.station_figures(kind, shop.workshop.stations[way.station]).get("station.kerf")
        if kerf is not None:
            trim = 0.0 if kind.power == "machine" else shop.knowledge.working.hand_cut_trim
            found[work.part] = max(found.get(work.part, 0.0), kerf + trim)
    return found


def tried_on(parts: Sequence[Part], works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> float:
    """How long a piece of the strip's section must be to try the settings on, mm: as long as the station that asks most asks of
    any piece. 0 where for what runs along the strip no machine is set, nor a tool that is tried on waste first."""
    least = [0.0]
    for part in parts:
        for work, way in in_the_long(part.name, works, ways):
            kind = shop.knowledge.stations[way.kind]
            tried = kind.power == "machine" or WASTE in kind.operations[way.operation].tools
            if runs_along(work) and tried:
                figures = shop.station_figures(kind, shop.workshop.stations[way.station])
                least.append(figures.get("station.shortest", 0.0))
    return max(least)


def room_of(parts: Sequence[Part], works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> float:
    """The longest that a strip of some parts may be: as the stock is bought, and as the stations take it along whose fence it
    runs or beside whose blade it lies."""
    room = max(shop.job.stock[parts[0].stock].lengths, default=inf)
    for part in parts:
        for work, way in in_the_long(part.name, works, ways):
            kind = shop.knowledge.stations[way.kind]
            if not cuts_apart(work) or kind.power == "machine":
                figures = shop.station_figures(kind, shop.workshop.stations[way.station])
                room = min(room, figures.get("station.longest", inf))
    return room
