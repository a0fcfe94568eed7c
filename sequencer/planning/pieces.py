"""Which piece a work is done on: the part by itself, its blank, or a longer piece that is cut apart afterwards. mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import inf
from types import MappingProxyType

from sequencer.knowledge.working import Working
from sequencer.model.job import Part, Stock
from sequencer.planning.attempts import LongPiece, Pieces
from sequencer.planning.blanks import Workpiece, bought_length, finished, held, listed_width, marked_out, rough, strip
from sequencer.planning.shapes_left import followed_by, takes_away
from sequencer.planning.shop import Shop
from sequencer.planning.sticks import on_the_stick
from sequencer.planning.strips import Kerfs
from sequencer.planning.ways import Way
from sequencer.planning.work import Work

_SIZING = ("face-side", "face-edge", "thickness", "width")
"""Work that brings a blank to its section."""
BLANK_WORK = frozenset({*_SIZING, "first-end", "length", "separate"})
"""Work done on the blank, before it is the part."""


def pieces_for(work: Work, shop: Shop, blanks: Mapping[str, Workpiece], kerfs: Kerfs = MappingProxyType({})) -> Pieces:
    """The pieces a work may be done on. `blanks`: those that are settled, long pieces above all; `kerfs` for the others."""
    if not work.part:
        flat = [part for name, _ in work.parts for part in [shop.job.parts[name]] if part.section == "rectangular"]
        return Pieces(None, several=tuple(finished(part) for part in flat))
    part = shop.job.parts[work.part]
    stock = shop.job.stock[part.stock]
    working = shop.knowledge.working
    blank, kerf = blanks.get(part.name), kerfs.get(part.name)
    if may_be_in_the_long(work, shop):
        return Pieces(finished(part), _long_piece(part, stock, blank, working, kerf), only_long=ends_mitred(part))
    if work.kind == "rough-length":
        cut = blank or rough(part, stock, working)
        length = bought_length(stock, cut.length, shop.knowledge.bench.unsaid_board)
        sawn = listed_width(part, stock, cut, working)
        board = Workpiece(length, stock.width or part.width, stock.thickness, waste=length - cut.length)
        return Pieces(replace(board, sawn_width=sawn, sawn_length=cut.length))
    ends = _cut_apart_by(work, part)
    if blank is not None and on_the_stick(work, blank, part):
        return Pieces(None, _long_piece(part, stock, blank, working, kerf), only_long=True, whole=True)
    if blank is not None and blank.long and (ends or work.kind in BLANK_WORK):
        long = _long_piece(part, stock, blank, working, kerf)
        return Pieces(None, _as_bought(long, part, stock, working) if work.kind in _SIZING else long, only_long=True)
    if work.kind in BLANK_WORK:
        trim = shop.knowledge.bench.first_end_trim if _one_end_squared(work, part) else 0.0
        return Pieces(blank or rough(part, stock, working), longest=max(stock.lengths, default=inf), trim=trim)
    return Pieces(finished(part))


def _one_end_squared(work: Work, part: Part) -> bool:
    """Whether a blank has lost what squaring its first end takes when this work is done."""
    return work.kind == "length" and not any(feature.ends_part() for feature in part.features.values())


def on_blank(work: Work, chosen: Mapping[str, Way], blank: Workpiece, part: Part) -> bool:
    """Whether a work is done before the part is cut to its length: on its blank, or on the long piece it comes out of."""
    long = work.id in chosen and chosen[work.id].in_the_long
    return work.kind in BLANK_WORK or long or _cut_apart_by(work, part) or on_the_stick(work, blank, part)


def _cut_apart_by(work: Work, part: Part) -> bool:
    """Whether a feature cuts the part off its long piece. A part of which one end is cut square is cut apart by that; only then
    is its other end cut."""
    return work.drawn is not None and bool(work.drawn.ends_part()) and ends_mitred(part)


def may_be_in_the_long(work: Work, shop: Shop) -> bool:
    """Whether it can be done in a longer piece: it runs right along a loose part, makes no end, follows nothing that is cut on
    the piece by itself, and leaves the true faces by which the long piece lies when it is cut apart; a rod lies in a V."""
    drawn = work.drawn
    if not work.lengthwise or drawn is None or drawn.when != "loose" or drawn.ends_part():
        return False
    part = shop.job.parts[work.part]
    true = any(takes_away(drawn, face, part, shop.knowledge.bench) for face in (part.face_side, part.face_edge))
    if true and drawn.shape_left != "round":
        return False
    return all(each.lengthwise(part.block) for each in followed_by(drawn, part))


def ends_mitred(part: Part) -> bool:
    """Whether both ends of a part are made by its features, so that it has no square ends."""
    return {end for feature in part.features.values() for end in feature.ends_part()} == {"left", "right"}


def _long_piece(part: Part, stock: Stock, settled: Workpiece | None, working: Working, kerf: float | None) -> LongPiece:
    """The long piece that a part comes out of, by what a station asks: the one that is settled, with more waste, or a new one."""
    if settled is not None and settled.long:
        most = max(stock.lengths, default=inf)

        def kept(shortest: float, longest: float, end: float) -> Workpiece | None:
            piece = held(settled, end)
            if settled.whole:
                # Squaring the first end must leave a stick that is as long as is asked.
                piece = held(piece, piece.waste + shortest + working.strip_end - piece.length)
            piece = marked_out(piece, working, most)
            return piece if piece.length <= (min(most, longest) if settled.whole else most) else None

        return kept
    return lambda shortest, longest, end: strip(part, stock, working, shortest, longest, end, kerf)


def _as_bought(long: LongPiece, part: Part, stock: Stock, working: Working) -> LongPiece:
    """The long piece with the section of its blank, as it is before it is brought to size."""
    blank = rough(part, stock, working)

    def bought(shortest: float, longest: float, end: float) -> Workpiece | None:
        piece = long(shortest, longest, end)
        return None if piece is None else replace(piece, width=blank.width, thickness=blank.thickness)

    return bought
