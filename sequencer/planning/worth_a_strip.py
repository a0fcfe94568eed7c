"""Whether several pieces of a part are better worked in one strip, and whether anything is done otherwise for it. mm."""

from __future__ import annotations

from collections.abc import Mapping

from sequencer.knowledge.working import Working
from sequencer.model.job import Part, Stock
from sequencer.planning.blanks import Workpiece
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


def comes_long(part: Part, stock: Stock) -> bool:
    """Whether its stock gives several pieces of a part one behind the other: it is not bought ready, and the grain runs along."""
    return stock.form != "bought" and (stock.form == "sheet" or part.grain == "x")


def slender(part: Part, working: Working) -> bool:
    """Whether a part is a stick rather than a board: no wider than `stick-slender` of its length."""
    return part.worked.width <= part.worked.length * working.stick_slender


def worth_trying(part: Part, blank: Workpiece, shop: Shop) -> bool:
    """Whether several pieces of a part are better worked in one strip: short sticks whose two ends are sawn square."""
    stock, working = shop.job.stock[part.stock], shop.knowledge.working
    square = part.section == "rectangular" and not any(feature.ends_part() for feature in part.features.values())
    return (
        part.count > 1
        and comes_long(part, stock)
        and square
        and slender(part, working)
        and not blank.long
        and blank.length <= working.short_part
    )


def no_worse(one: Mapping[str, Way], other: Mapping[str, Way], part: str, works: Mapping[str, Work]) -> bool:
    """Whether every work is done by the same people as in the other ways, with guards that come off nowhere else, and all but the
    work of the part in the same way. Blanks are cut off for the class by whoever can."""
    return one.keys() == other.keys() and all(
        (way.who == other[name].who or works[name].kind == "rough-length")
        and (other[name].guards_off or not way.guards_off)
        and (works[name].part == part or (way.operation, way.station) == (other[name].operation, other[name].station))
        for name, way in one.items()
    )


def same_ways(one: Mapping[str, Way], other: Mapping[str, Way]) -> bool:
    """Whether every work is done in the same way, at the same station and by the same people."""
    return {name: (way.operation, way.station, way.who) for name, way in one.items()} == {
        name: (way.operation, way.station, way.who) for name, way in other.items()
    }
