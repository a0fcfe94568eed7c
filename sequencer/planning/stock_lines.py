"""What the sheets list of wood: the parts, the blanks they are cut from, and the strips that several come out of. mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from sequencer.features.base import mm
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXIS_WORDS
from sequencer.model.job import Part
from sequencer.model.stock_lists import Blank, PartLine, Strip, StripPiece
from sequencer.planning.blanks import Workpiece, listed_width, spares_of
from sequencer.planning.choice import Choice
from sequencer.planning.mitred_strips import slopes_of
from sequencer.planning.shop import Shop
from sequencer.planning.strip_figures import room_of, tried_on
from sequencer.planning.strips import Shared, places_in, runs_along, strip_name, students_own
from sequencer.reading.words import listed


def part_lines(shop: Shop) -> tuple[PartLine, ...]:
    """The parts as the sheets list them."""
    return tuple(
        PartLine(
            part.name,
            part.letter,
            part.count,
            part.handed,
            part.length,
            part.width,
            part.thickness,
            part.stock,
            shop.job.stock[part.stock].material,
            shop.hardness(shop.job.stock[part.stock]),
            AXIS_WORDS[part.grain],
        )
        for part in shop.job.parts.values()
    )


def blank_lines(shop: Shop, choice: Choice) -> tuple[Blank, ...]:
    """Blanks for the class with spares: long pieces for parts worked in the long, else one blank a part."""
    return tuple(_blank_line(part, shop, choice) for part in shop.job.parts.values())


def _blank_line(part: Part, shop: Shop, choice: Choice) -> Blank:
    stock, blank = shop.job.stock[part.stock], choice.blanks[part.name]
    students, working = shop.workshop.students, shop.knowledge.working
    needed, spares = part.count * students, spares_of(working, students)
    if stock.form == "bought":
        size = part.length, part.width, part.thickness
        return Blank(part.name, part.letter, *size, 1, needed + spares, "bought ready")
    pieces = ceil((needed + spares * part.count) / blank.yields)
    if blank.long and not blank.whole and students_own(part.name, choice.works, choice.ways):
        # Each student has strips of their own.
        pieces = ceil(part.count / blank.yields) * (students + spares)
    width, thickness = blank.width, blank.thickness
    if blank.strip or blank.long:
        width, thickness = listed_width(part, stock, blank, working), stock.thickness
    why = _why_blank(part, blank, choice, working)
    return Blank(part.name, part.letter, blank.length, width, thickness, blank.yields, pieces, why, blank.strip)


def _why_blank(part: Part, blank: Workpiece, choice: Choice, working: Working) -> str:
    """Why a blank is as long as it is, and what comes out of it."""
    if blank.strip:
        others = [
            each.letter for shared in choice.long.strips if part in shared.parts for each in shared.parts if each is not part
        ]
        if blank.whole:
            return f"out of one stick with {listed(others)}, too short to be held by themselves: they are cut apart last"
        return f"out of one long piece with {listed(others)}: they are worked in the long and cut apart after"
    if blank.long:
        if blank.yields == 1:
            return "long enough to be worked, with an end to hold: the part is cut off it after"
        if blank.whole:
            return f"{blank.yields} parts in one piece, too short to be held by themselves: they are cut apart last"
        if part.name in choice.long.in_one and not _along(part, choice):
            return f"{blank.yields} parts in one piece: they are brought to size in one and then cut apart"
        return f"{blank.yields} parts in one piece: they are worked in the long and cut apart after"
    over = f"{mm(blank.length - part.length)} mm over length, to square both ends"
    return over + (" and leave an end to hold" if blank.waste >= 2 * working.planed_end + working.sawn_step else "")


def strip_lines(shop: Shop, choice: Choice) -> tuple[Strip, ...]:
    """Every long piece that gives more than one piece, each of them where it lies; strips for the class with spares."""
    joined = {part.name for shared in choice.long.strips for part in shared.parts}
    alone = [
        Shared((part,))
        for part in shop.job.parts.values()
        if part.name not in joined and choice.blanks[part.name].long and choice.blanks[part.name].yields > 1
    ]
    lines, counts = [], {line.part: line.pieces for line in blank_lines(shop, choice)}
    for shared in (*choice.long.strips, *alone):
        parts = shared.parts
        blank, stock = choice.blanks[parts[0].name], shop.job.stock[parts[0].stock]
        places = places_in(choice.blanks, parts, shop.knowledge.working)
        letters = {part.name: part.letter for part in parts}
        slopes = {part.name: slopes_of(part) for part in parts}
        lines.append(
            Strip(
                strip_name(parts),
                blank.length,
                listed_width(parts[0], stock, blank, shop.knowledge.working),
                stock.thickness,
                tuple(
                    StripPiece(each.part, letters[each.part], each.number, each.start, each.length, slopes[each.part])
                    for each in places
                ),
                counts[parts[0].name],
                room_of(parts, choice.works, choice.ways, shop),
                _worked_whole(parts, choice, shared.sets) + _not_shared(parts, choice, shop),
                shared.sets,
                tried_on(parts, choice.works, choice.ways, shop),
            )
        )
    return tuple(lines)


def _worked_whole(parts: Sequence[Part], choice: Choice, sets: int) -> str:
    """Why pieces come out of one strip, and what that saves."""
    along = _along(parts[0], choice)
    if choice.blanks[parts[0].name].whole and len(parts) > 1:
        letters = listed([part.letter for part in parts])
        return f"By themselves {letters} are too short to be held for their cuts; the pieces of one stick are cut apart last."
    if choice.blanks[parts[0].name].whole:
        are = "is" if len(along) == 1 else "are"
        short = f"By itself {parts[0].letter} is too short to be held while the {listed(along)} {are} cut"
        return f"{short}; the pieces are cut apart last."
    are = "is" if len(along) == 1 else "are"
    said = f"The {listed(along)} {are} worked right along it" if along else "Both ends of its parts are cut aslant"
    if not along and parts[0].name in choice.long.in_one:
        said = f"{choice.long.in_one[parts[0].name]} So the piece is brought to size whole"
    saved = len(parts) - 1
    more = f", with one setting for {listed([part.letter for part in parts])} instead of {len(parts)}" if saved and along else ""
    students = f" It holds the parts of {sets} students." if sets > 1 else ""
    saves = "".join(f" {choice.long.along[part.name]}" for part in parts if along and choice.long.along.get(part.name))
    return f"{said}{more}; the pieces are cut apart after that.{students}{saves}"


def _not_shared(parts: Sequence[Part], choice: Choice, shop: Shop) -> str:
    """What keeps the parts of a strip apart from others that could come out of it too."""
    own = {part.name for part in parts}
    against: dict[str, list[str]] = {}
    for pair, why in choice.long.kept.own_strips.items():
        if pair & own:
            against.setdefault(why, []).extend(shop.job.parts[name].letter for name in pair - own)
    return "".join(f" No strip with {listed(sorted(letters))}: {why}" for why, letters in against.items())


def _along(part: Part, choice: Choice) -> list[str]:
    """What is worked right along the long piece that a part comes out of, in words."""
    return [
        choice.works[name].title.partition(":")[0].partition(" the ")[2]
        for name, way in choice.ways.items()
        if way.in_the_long and choice.works[name].part == part.name and runs_along(choice.works[name])
    ]
