"""Why the way planned for a work comes before each other way that is possible: a sentence for each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sequencer.features.base import mm
from sequencer.planning.along import COMES_FIRST, LARGE_ENOUGH, along_for
from sequencer.planning.choice import Choice
from sequencer.planning.decided import decided_words, way_decided
from sequencer.planning.picking import wish_for
from sequencer.planning.ranking import Wish, minutes_each, told_apart
from sequencer.planning.shop import Shop
from sequencer.planning.strip_times import minutes_of
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


def why_taken(work: Work, ways: Sequence[Way], taken: Way | None, choice: Choice, shop: Shop) -> tuple[str, ...]:
    """For each way a sentence: of the one planned what speaks for it, of each other possible one why it comes after that. Empty
    for ways that are not possible."""
    if taken is None:
        return tuple("" for _ in ways)
    return tuple(_why(work, way, ways, taken, choice, shop) if way.possible else "" for way in ways)


def is_taken(way: Way, taken: Way | None) -> bool:
    """Whether a way is the one planned; it may have been tried on a piece of another length since."""
    return taken is not None and way.possible and (way.operation, way.in_the_long) == (taken.operation, taken.in_the_long)


def _why(work: Work, way: Way, ways: Sequence[Way], taken: Way, choice: Choice, shop: Shop) -> str:
    decision = way_decided(work, shop.job)
    if is_taken(way, taken):
        if decision is not None:
            return decided_words(decision)
        return choice.long.along.get(work.part, "") if way.in_the_long and work.lengthwise else ""
    if decision is not None and way.operation != taken.operation:
        return ""
    if way.in_the_long and work.lengthwise and work.part in choice.long.kept.by_the_piece:
        return choice.long.kept.by_the_piece[work.part]
    along = None
    if work.part in choice.long.along and work.lengthwise:
        compared = along_for(work, ways, choice.works.values(), shop)
        along = replace(compared, minutes=lambda way: minutes_of(work, way, choice.blanks, shop))
    return _after(work, way, taken, wish_for(work, shop, along), choice)


def _after(work: Work, way: Way, taken: Way, wish: Wish, choice: Choice) -> str:
    """Why a possible way comes after the one that is taken."""
    criterion = told_apart(taken, way, wish)
    if criterion == "guards":
        return "Normal guards would have to come off for it."
    if criterion == "operator":
        if wish.for_class:
            return "Students would do it; what is cut for the class is left to staff where they can."
        return "Staff would do it, in no less time." if wish.aim == "least-time" else BY_STAFF
    if criterion == "length":
        return _other_length(work, way, wish, choice)
    if criterion == "set-up":
        return f"It takes {mm(way.set_up)} minutes to set up, the way planned {mm(taken.set_up)}; fewest set-ups are asked for."
    if criterion == "minutes":
        each = " a piece" if work.part else ""
        one, other = (
            f"{mm(minutes_each(one, wish))} minutes{each}" + (f" and {mm(one.set_up)} to set up" if one.set_up else "")
            for one in (way, taken)
        )
        return f"It takes {one}, the way planned {other}."
    return "It is no better than the way planned."


BY_STAFF = "Staff would have to do it, and this job asks for most by students."


def _other_length(work: Work, way: Way, wish: Wish, choice: Choice) -> str:
    """Why a work is done in the long rather than piece by piece, or the other way round."""
    if way.who.operator == "staff":
        return "What staff do goes through in the long and is cut apart after."
    if wish.along is not None:
        return COMES_FIRST if wish.along.first else LARGE_ENOUGH
    return choice.long.apart.get(work.part, "Students work piece by piece.")
