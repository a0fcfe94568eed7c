"""What a hazard takes away where it newly reaches a step: what it forbids is not worn any more, though it is asked for there, and
a grave one that wood, glue or finish bring is printed on a student's card before those that were."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import chain

from sequencer.knowledge.forms.hazards import Applies, Hazard
from sequencer.knowledge.knowledge import Knowledge

BRINGING = ("materials", "glues", "finishes")
"""Where the knowledge holds what brings hazards to a step."""


def asked_anywhere(knowledge: Knowledge) -> frozenset[str]:
    """All that any operation, station or hazard asks to be worn."""
    worn = chain.from_iterable(
        (*kind.wear, *chain.from_iterable(each.wear for each in kind.operations.values())) for kind in knowledge.stations.values()
    )
    against = (
        control.wear for hazard in knowledge.hazards.values() for several in hazard.controls.values() for control in several
    )
    return frozenset((*worn, *against)) - {""}


def bans_looser(shipped: Knowledge, own: Knowledge, was: Collection[str], now: Collection[str]) -> Iterator[str]:
    """What is newly forbidden where these hazards are named instead of those that were, though something asks for it: the step
    itself, or what a wood, glue or finish brings to it."""
    asked = asked_anywhere(own)
    banned = {each for name in was if name in shipped.hazards for each in shipped.hazards[name].forbids}
    for name in now:
        if name in own.hazards:
            yield from _forbidden(own.hazards[name], banned, asked)


def brought_looser(shipped: Knowledge, own: Knowledge, was: Collection[str], now: Collection[str]) -> Iterator[str]:
    """What hazards take away that a wood, a glue or a finish newly brings: to any step."""
    yield from bans_looser(shipped, own, was, now)
    grave = (own.hazards[name] for name in now if name not in was and name in own.hazards)
    yield from (_first(hazard) for hazard in grave if hazard.severity == "severe")


def hazard_looser(shipped: Knowledge, own: Knowledge, name: str) -> Iterator[str]:
    """What a new hazard, or one that reads otherwise, takes away at the steps it reaches of itself or with what names it."""
    was, now = shipped.hazards.get(name), own.hazards[name]
    if was is None and not _reaches_steps(now.applies):
        return
    yield from _forbidden(now, was.forbids if was is not None and was.applies == now.applies else (), asked_anywhere(own))
    grave = now.severity == "severe" and (was is None or was.severity != "severe" or was.applies != now.applies)
    if grave and (_reaches_steps(now.applies) or _brought(own, name)):
        yield _first(now)


def _forbidden(hazard: Hazard, banned: Collection[str], asked: Collection[str]) -> Iterator[str]:
    yield from (
        f"“{hazard.name}” forbids {each}, which is asked for there"
        for each in hazard.forbids
        if each in asked and each not in banned
    )


def _first(hazard: Hazard) -> str:
    return f"“{hazard.name}” is printed first on a student's card, which has no room for all"


def _reaches_steps(applies: Applies) -> bool:
    return bool(applies.power or applies.where or applies.unlisted_material)


def _brought(knowledge: Knowledge, name: str) -> bool:
    return any(name in each.hazards for held in BRINGING for each in getattr(knowledge, held).values())
