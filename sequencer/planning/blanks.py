"""The pieces work is done on before a part has its own size: blanks a little over length, and long pieces (strips) that
give several parts and are cut apart last. How much over size they are stands in `operations/lists/working-figures.yaml`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, cos, inf, radians

from sequencer.knowledge.working import Working
from sequencer.model.job import Part, Stock


@dataclass(frozen=True)
class Workpiece:
    """The piece as it lies on the station, mm.

    yields
        Parts it gives. `waste` is the length that stays behind when the last part is cut off.
    long
        Whether it is worked in the long: parts of finished section, cut apart after.
    sawn_width
        Width of the blank that is sawn off this piece, a sheet; 0 where the piece keeps its width.
    sawn_length
        Length of the blank that is sawn off this piece, a board or sheet; 0 where the piece keeps its length.
    strip
        The name of a long piece that gives several kinds of part.
    sets
        Of a long piece: for how many students it gives the parts.
    cut
        Of a long piece: what is left for the cut behind each piece of the part.
    whole
        Of a long piece: whether also what does not run along it is cut before the parts are sawn off.
    """

    length: float
    width: float
    thickness: float
    yields: int = 1
    waste: float = 0.0
    long: bool = False
    sawn_width: float = 0.0
    sawn_length: float = 0.0
    strip: str = ""
    sets: int = 1
    cut: float = 0.0
    whole: bool = False

    def figures(self) -> dict[str, float]:
        """As `blank.*` figures."""
        return {
            "blank.length": self.length,
            "blank.width": self.width,
            "blank.thickness": self.thickness,
            "blank.waste": self.waste,
            "blank.sawn-width": self.sawn_width or self.width,
            "blank.sawn-length": self.sawn_length or self.length,
            "blank.cut": self.cut,
            "blank.rest": self.waste if self.sawn_length and self.waste else self.length,
        }


def finished(part: Part) -> Workpiece:
    """The part itself, cut to its block, with what is left on until later."""
    return Workpiece(part.worked.length, part.worked.width, part.worked.thickness)


def rough(part: Part, stock: Stock, working: Working) -> Workpiece:
    """A blank for one part: over length, at the section as bought where that is larger; of sheet, over width too."""
    size = part.worked
    width = max(size.width, stock.width) if stock.form in ("board", "square") and stock.width else size.width
    if stock.form == "sheet":
        # No blank is wider than the sheet it comes from.
        width = min(_up(width + working.over_width, working), max(stock.width or inf, width))
    waste = working.over_length
    if stock.surface == "sawn":
        waste = max(waste, 2 * working.planed_end)
    bought = max(stock.lengths, default=inf)
    if working.least_over <= bought - size.length < waste:
        # The stock is bought in short pieces: what there is over length must do.
        waste = bought - size.length
    piece = Workpiece(size.length + waste, width, max(size.thickness, stock.thickness), 1, waste)
    return marked_out(piece, working, bought)


def bought_length(stock: Stock, blank: float, unsaid: float) -> float:
    """How long the board or sheet is that a blank of this length is sawn off, mm: the longest it is bought in, where that is
    said; else `unsaid` more than the blank."""
    return max(blank, *stock.lengths) if stock.lengths else blank + unsaid


def strip(
    part: Part,
    stock: Stock,
    working: Working,
    shortest: float = 0.0,
    longest: float = inf,
    end: float = 0.0,
    kerf: float | None = None,
    gap: float = 0.0,
) -> Workpiece | None:
    """A long piece of the part's section that gives one thing's parts, or enough of them to reach `shortest` mm.

    `end` is the length that must stay held behind the last cut, where that is more than the trim at each end. `kerf`: what the
    saw takes that cuts it apart, None while none is chosen; `gap`: what is left beside
    that. None if the stock is too short for what the station needs, or the
    station has no room for what one part needs.
    """
    cut, end = parting(part, working, kerf) + gap, max(working.strip_end, end)
    bought = max(stock.lengths, default=inf)
    room = min(longest, bought)
    one = part.worked.length + cut
    most = (room - 2 * end + cut) / one
    if most < 1:
        return None
    number = part.count
    while 2 * end + number * one - cut < shortest:
        number += 1
    if 2 * end + number * one - cut + shortest > bought:
        # No room for more parts and for what must stay held behind the last: waste makes it as long as the station asks.
        number = part.count
    number = int(min(number, most))
    length = 2 * end + number * one - cut
    length, end = max(length, shortest), end + max(shortest - length, 0.0)
    if length > room:
        return None
    piece = Workpiece(length, part.worked.width, part.worked.thickness, number, end, long=True, cut=cut)
    return marked_out(piece, working, room)


def stick(part: Part, stock: Stock, working: Working, kerf: float | None = None, number: int = 1) -> Workpiece | None:
    """A long piece that gives a `number` of parts, on which all of each is cut before they are sawn off. None if the stock is too
    short."""
    piece = strip(replace(part, count=number), stock, working, kerf=kerf, gap=working.stick_gap)
    return None if piece is None else replace(piece, whole=True)


def one_students(piece: Workpiece, part: Part, working: Working) -> Workpiece:
    """A long piece as one student works it, which gives nothing to others: where one thing needs several, all hold as many
    pieces; what a station asks for beyond the pieces of one thing is waste."""
    several = ceil(part.count / piece.yields)
    number = ceil(part.count / several)
    spare = (piece.yields - number) * (part.worked.length + piece.cut)
    if several == 1:
        return replace(piece, yields=number, waste=piece.waste + spare)
    return marked_out(replace(piece, yields=number, length=piece.length - spare), working, piece.length)


def parting(part: Part, working: Working, kerf: float | None = None) -> float:
    """What is left for each cut between a part and the next of a long piece, mm: the kerf along the piece, which a cut aslant
    makes longer by the cosine of its angle; in whole steps where it is cut aslant. `kerf`: what the saw takes, None while none is
    chosen."""
    kerf = working.strip_kerf if kerf is None else kerf
    angles = [feature.figures(part.block).get("feature.angle", 0.0) for feature in part.features.values() if feature.ends_part()]
    steepest = max(angles, default=0.0)
    return _up(kerf / cos(radians(steepest)), working) if steepest else kerf


def spares_of(working: Working, students: int) -> int:
    """How many spare things are cut for, for spoiled work."""
    return ceil(max(working.least_spares, working.spare_share * students))


def marked_out(blank: Workpiece, working: Working, longest: float = inf) -> Workpiece:
    """The blank as it is marked out: its length rounded up to whole steps, where it may be as long as that. What is added is
    waste."""
    return _longer(blank, max(min(_up(blank.length, working), longest) - blank.length, 0.0))


def listed_width(part: Part, stock: Stock, blank: Workpiece, working: Working) -> float:
    """The width of a blank as it is bought or sawn off a sheet, mm: a long piece too has its waste beside it then."""
    if blank.long and stock.form != "sheet":
        return stock.width or part.width
    return rough(part, stock, working).width if blank.long else blank.width


def after_first_end(blank: Workpiece, most: float) -> Workpiece:
    """A blank when its first end is squared, which takes half of what it is over length, `most` mm at most."""
    return _longer(blank, -end_trim(blank.waste, most))


def before_first_end(piece: Workpiece, most: float) -> Workpiece:
    """The blank that a piece of which one end is squared has come from: the other way round."""
    return _longer(piece, min(most, piece.waste))


def end_trim(over: float, most: float) -> float:
    """What squaring its first end takes off a blank that is `over` mm over length."""
    return min(most, max(over, 0.0) / 2)


def _longer(piece: Workpiece, by: float) -> Workpiece:
    return replace(piece, length=piece.length + by, waste=piece.waste + by)


def _up(size: float, working: Working) -> float:
    """A size rounded up to whole steps; an error of the sums is no size."""
    return ceil(round(size / working.sawn_step, 6)) * working.sawn_step


def held_beside_cut(piece: Workpiece, kind: str, part: float, kerf: float, trim: float) -> float:
    """The length that is held while a piece is cut to length, mm: the longer of the two that its last cut leaves. `part`: how
    long the part is; `trim`: the most that squaring the first end takes off."""
    if kind == "first-end":
        return after_first_end(piece, trim).length
    return max(piece.sawn_length or part, piece.waste - kerf)


def held(piece: Workpiece, end: float) -> Workpiece:
    """The piece with a holding end of at least `end` mm left behind the last cut: waste that is added for it."""
    return piece if piece.waste >= end else _longer(piece, end - piece.waste)
