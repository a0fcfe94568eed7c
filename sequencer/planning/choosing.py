"""A way for every work of a job, and what each part is cut from. Every part is tried by itself first; then what is refused so, or
takes less work in a longer piece, is tried in one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sequencer.features.base import mm
from sequencer.findings import has_errors
from sequencer.model.job import Part
from sequencer.planning.blanks import spares_of
from sequencer.planning.choice import Choice, InTheLong, KeptApart
from sequencer.planning.decided import way_decided
from sequencer.planning.pieces import BLANK_WORK
from sequencer.planning.settling import Asked, settled
from sequencer.planning.sharing import class_sets, marked_by_staff, sharing
from sequencer.planning.shop import Shop
from sequencer.planning.sticks import beside_others, may_be_on_a_stick, most_on_a_stick, stick_remarks
from sequencer.planning.strip_times import minutes_for
from sequencer.planning.strips import Shared
from sequencer.planning.student_strips import along_where_it_saves
from sequencer.planning.ways_on import ways_on
from sequencer.planning.work import Work
from sequencer.planning.worth_a_strip import no_worse, same_ways, worth_trying


def choose_ways(
    works: Sequence[Work],
    shop: Shop,
    shaped: Mapping[str, tuple[str, ...]] | None = None,
    kept: KeptApart | None = None,
) -> Choice:
    """A way for every work. What has none is an error finding that lists every way and what stands against it. `shaped`: by task
    the features that have taken faces of its part before, where the piece is held by these. `kept`: what the order of work
    keeps out of long pieces.

    Every part is settled by itself first. Then parts whose long pieces are alike are laid into one, and what staff do for all is
    laid out for several students, which saves set-ups and ends; but only where no work has to be done in another way for it:
    the limits come first.
    """
    asked = Asked(works, shop, shaped or {})
    choice = _whole_where_refused(settled(asked, InTheLong(kept=kept or KeptApart())), asked)
    choice = _on_sticks_where_refused(choice, asked)
    if has_errors(choice.findings):
        return choice
    choice = _in_one_where_it_saves(choice, asked)
    choice = along_where_it_saves(choice, asked)
    on_sticks = beside_others(choice.long.sticks, choice.works, choice.ways, shop)
    for parts in sharing(choice, shop, on_sticks):
        choice = _with_strip(choice, Shared(parts), asked)
    choice = _for_several_students(choice, asked)
    remarks = tuple(stick_remarks(choice.long.sticks, choice.works, choice.ways, choice.blanks, shop))
    ways = marked_by_staff(choice.works, choice.ways, choice.long.strips)
    return replace(choice, ways=ways, findings=(*choice.findings, *remarks))


def _whole_where_refused(choice: Choice, asked: Asked) -> Choice:
    """Parts whose blanks no station takes by themselves are brought to size in one long piece and cut apart last, if they can be;
    not where the way that is refused is a decision: then it is said why."""
    decided = _refused_as_decided(choice, asked.shop)
    small = {part: found for part, found in _refused_as_blanks(choice, asked.shop).items() if part not in decided}
    if not small:
        return choice
    other = settled(asked, replace(choice.long, in_one=dict.fromkeys(small, "")))
    still = _refused_as_blanks(other, asked.shop)
    against = {part: _against(refused, choice, other, asked.shop) for part, refused in small.items() if part not in still}
    return settled(asked, replace(choice.long, in_one=against)) if against else choice


def _on_sticks_where_refused(choice: Choice, asked: Asked) -> Choice:
    """What is still too short to be held for its cuts is cut on a longer stick and sawn off it last; not where the way that is
    refused is a decision. As many pieces of a part lie on one stick as can be cut there in the same ways."""
    shop = asked.shop
    refused = choice.without_way() - _refused_as_decided(choice, shop)
    short = {part for part in refused if may_be_on_a_stick(shop.job.parts[part], shop)}
    if not short:
        return choice
    held = sorted(short - settled(asked, replace(choice.long, sticks=dict.fromkeys(short, 1))).without_way())
    if not held:
        return choice
    choice = settled(asked, replace(choice.long, sticks=dict.fromkeys(held, 1)))
    for name in held:
        number = most_on_a_stick(shop.job.parts[name], choice.works, choice.ways, choice.blanks[name], shop)
        if number > 1:
            other = settled(asked, replace(choice.long, sticks={**choice.long.sticks, name: number}))
            as_well = other.blanks[name].yields == number and not other.without_way() - choice.without_way()
            choice = other if as_well and same_ways(choice.ways, other.ways) else choice
    return choice


def _refused_as_decided(choice: Choice, shop: Shop) -> set[str]:
    """The parts with work that has no way because of what the teacher has decided."""
    return {work.part for name, work in choice.works.items() if name not in choice.ways and way_decided(work, shop.job)}


def _refused_as_blanks(choice: Choice, shop: Shop) -> dict[str, list[Work]]:
    """The parts with work on their blanks that has no way, and that work. What the teacher has decided stays decided."""
    found: dict[str, list[Work]] = {}
    for name, work in choice.works.items():
        if name not in choice.ways and work.kind in BLANK_WORK and way_decided(work, shop.job) is None:
            found.setdefault(work.part, []).append(work)
    return found


def _against(refused: Sequence[Work], single: Choice, long: Choice, shop: Shop) -> str:
    """What speaks against a blank by itself, in the words of the ways that take the long piece instead."""
    said: dict[str, None] = {}
    for work in refused:
        ways = ways_on(single.blanks, work, shop)
        taken = long.ways[work.id].operation
        said |= dict.fromkeys(each.what for way in ways if way.operation == taken for each in way.obstacles)
    return f"A single blank is too small. {next(iter(said), '')}".strip()


def _in_one_where_it_saves(choice: Choice, asked: Asked) -> Choice:
    """Several short pieces of a part are worked in one strip where that takes enough less time and asks for nobody else."""
    shop = asked.shop
    for part in shop.job.parts.values():
        if not worth_trying(part, choice.blanks[part.name], shop) or _blank_decided(part, asked):
            continue
        other = settled(asked, replace(choice.long, in_one={**choice.long.in_one, part.name: ""}))
        blank = other.blanks[part.name]
        fits = blank.long and blank.yields >= part.count and blank.length <= shop.knowledge.working.strip_at_bench
        if not fits or has_errors(other.findings) or not no_worse(other.ways, choice.ways, part.name, other.works):
            continue
        single, strip = (minutes_for(part.name, each.works, each.ways, each.blanks, shop) for each in (choice, other))
        if single - strip >= shop.knowledge.working.strip_saves:
            said = f"Worked one by one, the {part.count} pieces take {mm(single - strip)} minutes more."
            choice = replace(other, long=replace(other.long, in_one={**choice.long.in_one, part.name: said}))
    return choice


def _blank_decided(part: Part, asked: Asked) -> bool:
    """Whether the teacher has decided how anything is done on the blank of a part."""
    own = (work for work in asked.works if work.part == part.name and work.kind in BLANK_WORK)
    return any(way_decided(work, asked.shop.job) for work in own)


def _for_several_students(choice: Choice, asked: Asked) -> Choice:
    """Long pieces that only staff work on give the parts of as many students as there is room for."""
    shop = asked.shop
    joined = {part.name for each in choice.long.strips for part in each.parts}
    alone = [
        Shared((part,))
        for part in shop.job.parts.values()
        if choice.blanks[part.name].long and not choice.blanks[part.name].whole and part.name not in joined
    ]
    most = shop.workshop.students + spares_of(shop.knowledge.working, shop.workshop.students)
    for each in (*choice.long.strips, *alone):
        sets = class_sets(each.parts, choice, shop, most)
        while sets > 1:
            other = _with_strip(choice, Shared(each.parts, sets), asked, instead_of=each)
            choice, sets = other, (1 if other is not choice else sets - 1)
    return choice


def _with_strip(choice: Choice, shared: Shared, asked: Asked, instead_of: Shared | None = None) -> Choice:
    """The choice with one strip more, where every work is still done in the same way; else the choice as it is."""
    rest = tuple(each for each in choice.long.strips if each != instead_of)
    other = settled(asked, replace(choice.long, strips=(*rest, shared)))
    return choice if has_errors(other.findings) or not same_ways(choice.ways, other.ways) else other
