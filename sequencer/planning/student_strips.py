"""Which parts students work in one strip though each piece could be worked by itself: where that saves enough for one thing and
asks for nobody else. Every part that might be is planned both ways, and the two are held against each other. min.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sequencer.features.base import mm
from sequencer.findings import has_errors
from sequencer.model.job import Part
from sequencer.planning.along import COMES_FIRST, LARGE_ENOUGH, along_for, comes_first, slight
from sequencer.planning.choice import Choice
from sequencer.planning.decided import way_decided
from sequencer.planning.picking import pick
from sequencer.planning.pieces import BLANK_WORK, may_be_in_the_long
from sequencer.planning.settling import Asked, settled
from sequencer.planning.strip_times import minutes_for
from sequencer.planning.ways import Way
from sequencer.planning.ways_on import ways_on
from sequencer.planning.who import in_words
from sequencer.planning.work import Work
from sequencer.planning.worth_a_strip import comes_long


def along_where_it_saves(choice: Choice, asked: Asked) -> Choice:
    """The choice with every part in a strip that is better worked so by students, and that the order does not keep out of it."""
    for part in asked.shop.job.parts.values():
        works = [work for work in asked.works if work.part == part.name and _by_the_piece(work, choice)]
        if not works:
            continue
        against = choice.long.kept.by_the_piece.get(part.name) or _not_tried(part, works, choice, asked)
        if not against:
            other = settled(asked, replace(choice.long, along={**choice.long.along, part.name: ""}))
            saved = _cost(part, choice, asked) - _cost(part, other, asked)
            against = _against(part, choice, other, saved, asked)
            if not against:
                said = COMES_FIRST if _asked_to_come_first(part, asked) else _saving(part, saved)
                choice = replace(other, long=replace(other.long, along={**choice.long.along, part.name: said}))
                continue
        choice = replace(choice, long=replace(choice.long, apart={**choice.long.apart, part.name: against}))
    return choice


def _by_the_piece(work: Work, choice: Choice) -> bool:
    """Whether a cut right along a part is planned piece by piece, by students."""
    way = choice.ways.get(work.id)
    return work.lengthwise and way is not None and not way.in_the_long and way.who.operator == "student"


def _not_tried(part: Part, works: list[Work], choice: Choice, asked: Asked) -> str:
    """Why a strip need not be tried; empty if it must be."""
    shop = asked.shop
    may_be = [work for work in works if may_be_in_the_long(work, shop)]
    if not comes_long(part, shop.job.stock[part.stock]):
        return "Its stock does not come in one long piece that gives several of it."
    if not may_be:
        return "It follows what is cut on each piece by itself."
    if _asked_to_come_first(part, asked):
        return ""
    blank = (work for work in asked.works if work.part == part.name and work.kind in BLANK_WORK)
    if any(way_decided(work, shop.job) for work in blank):
        return "How its blank is worked is decided."
    if any(_best_in_a_strip(work, choice, asked) for work in may_be):
        return ""
    if slight(part, shop):
        return "No way of doing it in a strip is quicker here."
    return LARGE_ENOUGH


def _best_in_a_strip(work: Work, choice: Choice, asked: Asked) -> bool:
    """Whether the best way of a work is in a strip, as far as the work itself goes."""
    shop = asked.shop
    ways = ways_on({}, work, shop, choice.long.kerfs, shaped=asked.shaped.get(work.id, ()))
    way, _ = pick(work, ways, shop, along_for(work, ways, asked.works, shop))
    return way is not None and way.in_the_long


def _asked_to_come_first(part: Part, asked: Asked) -> bool:
    """Whether it is decided that a cut right along a part comes before the part is cut to length."""
    return any(comes_first(work, asked.works, asked.shop.job) for work in asked.works if work.part == part.name)


def _against(part: Part, single: Choice, other: Choice, saved: float, asked: Asked) -> str:
    """What speaks against working a part in one strip; empty if nothing does."""
    shop = asked.shop
    if has_errors(other.findings):
        return "In one strip not all of it could be done."
    newly = (way for name, way in _own(part, other) if other.works[name].lengthwise and not single.ways[name].in_the_long)
    if not any(way.in_the_long for way in newly):
        return "The stock gives no strip that could be worked here."
    if _asked_to_come_first(part, asked):
        return ""
    changed = next(_asks_for_more(part, single, other), None)
    if changed is not None:
        return f"In one strip it asks for more: {changed.title}, {in_words(changed.who)}."
    if shop.job.aim == "fewest-set-ups" and _setting_up(part, other) > _setting_up(part, single):
        return "In one strip it takes more setting up, and this job asks for as little of that as can be."
    least = shop.knowledge.working.strip_saves
    if saved < least:
        much = f"only {mm(saved)} minutes" if saved > 0 else "no time"
        return f"One strip would save {much} for one thing; it is taken where it saves {mm(least)}."
    return ""


def _asks_for_more(part: Part, single: Choice, other: Choice) -> Iterator[Way]:
    """The ways of a strip that ask for more of people than the piece by itself, take guards off, or do other parts otherwise."""
    for name, way in other.ways.items():
        before = single.ways.get(name)
        if before is None:
            continue
        same = (way.operation, way.station) == (before.operation, before.station)
        stricter = before.who.stricter(way.who) != before.who and other.works[name].kind != "rough-length"
        if stricter or (way.guards_off and not before.guards_off) or (other.works[name].part != part.name and not same):
            yield way


def _cost(part: Part, choice: Choice, asked: Asked) -> float:
    """Minutes that a part takes for one thing, with what students set for it."""
    return minutes_for(part.name, choice.works, choice.ways, choice.blanks, asked.shop) + _setting_up(part, choice)


def _setting_up(part: Part, choice: Choice) -> float:
    return sum(way.set_up for _, way in _own(part, choice) if way.who.operator == "student")


def _own(part: Part, choice: Choice) -> Iterator[tuple[str, Way]]:
    return ((name, way) for name, way in choice.ways.items() if choice.works[name].part == part.name)


def _saving(part: Part, saved: float) -> str:
    pieces = f"Cut apart first, the {part.count} pieces of {part.letter} take"
    return f"{pieces if part.count > 1 else f'By itself, {part.letter} takes'} {mm(saved)} minutes more."
