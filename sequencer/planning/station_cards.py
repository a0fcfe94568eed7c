"""The card of each station that is used: its guards, figures, hazards and who works there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sequencer.model.plan import StationCard, Step
from sequencer.model.workshop import Who
from sequencer.planning.protecting import (
    hazard_lines,
    in_use,
    signs_of,
    wear_of,
)
from sequencer.planning.shop import Shop
from sequencer.planning.who import in_words


def station_cards(steps: Sequence[Step], shop: Shop) -> tuple[StationCard, ...]:
    """One card a station used, in the order of first use."""
    cards = []
    for name in dict.fromkeys(step.station for step in steps):
        used = [step for step in steps if step.station == name]
        station = shop.workshop.stations[name]
        kind = shop.knowledge.stations[station.kind]
        who = _strictest(step.who for step in used if step.kind == "work") or used[0].who
        guards = tuple(dict.fromkeys(guard for step in used for guard in step.guards))
        holding = tuple(dict.fromkeys(guard for step in used for guard in step.holding))
        names = tuple(dict.fromkeys(hazard.name for step in used for hazard in step.hazards))
        wear = wear_of((*kind.wear, *(each.name for step in used for each in step.wear)), names, shop.knowledge)
        hazards = hazard_lines(
            names, in_use(guards, holding, {tool for step in used for tool in step.tools}, wear), shop.knowledge
        )
        cards.append(
            StationCard(
                name,
                kind.station,
                kind.name,
                kind.power in ("machine", "powered-hand"),
                station.count,
                who,
                in_words(who),
                kind.smallest,
                kind.hands,
                kind.before_starting,
                kind.stop_when,
                guards,
                holding,
                hazards,
                wear,
                kind.sources,
                {name.removeprefix("station."): value for name, value in shop.station_figures(kind, station).items()},
                kind.seen_at_sign_off or kind.before_starting[: int(shop.knowledge.working.seen_at_sign_off)],
                signs_of((hazard.name for hazard in hazards), shop.knowledge, wear),
                _own_hazard(kind.hazards, used),
            )
        )
    return tuple(cards)


def _own_hazard(listed: Sequence[str], used: Sequence[Step]) -> str:
    """The first hazard that the station's file names and its steps bring; where the file names none, what comes first at most of
    the steps."""
    brought = [step.hazards[0].name for step in used if step.kind == "work" and step.hazards]
    names = {hazard.name for step in used for hazard in step.hazards}
    return next((name for name in listed if name in names), max(brought, key=brought.count, default=""))


def _strictest(answers: Iterable[Who]) -> Who | None:
    result: Who | None = None
    for who in answers:
        result = who if result is None else result.stricter(who)
    return result
