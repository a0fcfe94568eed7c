"""The piece as it lies on a station for one attempt, as long as station and operation ask, and what of it is held beside a cut.
mm.
"""

from __future__ import annotations

from math import cos, inf, radians

from sequencer.knowledge.settings import SETTINGS
from sequencer.knowledge.working import Working
from sequencer.model.quantities import Figures
from sequencer.planning.attempts import Attempt
from sequencer.planning.blanks import Workpiece, after_first_end, before_first_end, held, held_beside_cut, marked_out
from sequencer.planning.limits import Obstacle, right_of, value_of
from sequencer.planning.work import Work

_TO_LENGTH = ("rough-length", "first-end", "length", "separate")
"""Kinds of work that cut a piece to length square across."""
SHORT_STOCK = Obstacle(
    "limit", "The stock does not give a long piece that this station can take.", "Buy longer stock, or use another way."
)


def piece_at(attempt: Attempt, at_station: Figures, working: Working) -> tuple[Workpiece | None, tuple[Obstacle, ...]]:
    """The piece as it lies on a station: a long one of the length the station asks, a blank to be cut off with a holding
    end as long as the station asks."""
    least = at_station.get("station.least-remnant", 0.0)
    if not attempt.in_the_long:
        piece = attempt.pieces.single
        if piece is not None and attempt.work.kind in ("first-end", "length"):
            piece = _long_enough(attempt, piece, at_station, least, working)
            if piece.length > attempt.pieces.longest:
                return piece, (SHORT_STOCK,)
        return piece, ()
    if attempt.pieces.long is None:
        only_long = "It is done only in a long piece, and this cut does not run along the whole length."
        return attempt.pieces.single, (Obstacle("purpose", only_long, "Use another way."),)
    shortest, longest = at_station.get("station.shortest", 0.0), at_station.get("station.longest", inf)
    if attempt.pieces.whole:
        shortest = max([shortest, *_lengths_asked(attempt, at_station)])
    end = _beside_cut(attempt, at_station) if _cuts_end(attempt.work) else 0.0
    if attempt.work.kind in ("first-end", "separate"):
        end = _end_held(attempt, least, at_station)
    piece = attempt.pieces.long(shortest, longest, end)
    if piece is not None:
        return piece, ()
    return None, (SHORT_STOCK,)


def _long_enough(attempt: Attempt, blank: Workpiece, at_station: Figures, least: float, working: Working) -> Workpiece:
    """A blank with a holding end of `least` mm, and a little longer if that is all an operation asks of its length; both are
    held against what squaring the first end leaves of it. A part too short to be held itself leaves what it is cut from to be
    held."""
    piece = after_first_end(blank, attempt.pieces.trim)
    asked = [
        value - piece.figures()[limit.of]
        for limit in attempt.operation.limits
        if limit.of in ("blank.length", "blank.waste") and limit.at_least
        for value in [value_of(right_of(limit)[1], {**attempt.work.figures, **at_station, **piece.figures()})]
        if value is not None
    ]
    if attempt.work.kind == "length":
        asked.append(_beside_cut(attempt, at_station) - piece.waste)
    missing = max(asked, default=0.0)
    # A little longer is no matter; much longer only where the part is too short to be held and the rest is held instead.
    held_by_rest = "clear" in SETTINGS[attempt.operation.settings].gives
    missing = missing if 0.0 < missing <= (inf if held_by_rest else working.over_length) else 0.0
    waste = max(piece.waste + missing, least)
    if waste <= piece.waste:
        return blank
    longer = before_first_end(held(piece, waste), attempt.pieces.trim)
    return marked_out(longer, working, attempt.pieces.longest)


def _end_held(attempt: Attempt, least: float, at_station: Figures) -> float:
    """What stays behind the last part that is cut off, mm: enough to be held, and for the last piece on the saw, the part with
    it, to be as long as station and operation ask. The kerf is in it only where the operation asks what is held beside it."""
    shortest = max([at_station.get("station.shortest", 0.0), *_lengths_asked(attempt, at_station)])
    return max(least, shortest - attempt.work.figures.get("part.length", shortest), _beside_cut(attempt, at_station))


def _beside_cut(attempt: Attempt, at_station: Figures) -> float:
    """What must stay behind the last part that is cut off, kerf and all, where the operation asks for so much to be held and the
    part itself is shorter, mm; else 0."""
    part = attempt.work.figures.get("part.length", 0.0)
    asked = [each for each in _lengths_asked(attempt, at_station, "blank.held") if each > part]
    return max(asked) + _kerf_along(attempt.work, at_station) if asked else 0.0


def _lengths_asked(attempt: Attempt, at_station: Figures, of: str = "blank.length") -> list[float]:
    """The least lengths `of` the piece that the operation asks for, mm, as far as they do not depend on the piece."""
    figures = {**attempt.work.figures, **at_station}
    return [
        value
        for limit in attempt.operation.limits
        if limit.of == of and limit.at_least and {*right_of(limit)[1].names} <= figures.keys()
        for value in [value_of(right_of(limit)[1], figures)]
        if value is not None
    ]


def held_at(attempt: Attempt, piece: Workpiece, at_station: Figures, trim: float) -> float:
    """What is held beside the cut, mm: of what is not cut to length, the whole piece. `piece`: as it is when its first end is
    squared; `trim`: the most that this takes off."""
    work = attempt.work
    if work.kind not in _TO_LENGTH and not _cuts_end(work):
        return piece.length
    part = work.figures.get("part.length", 0.0)
    return held_beside_cut(piece, work.kind, part, _kerf_along(work, at_station), trim)


def _cuts_end(work: Work) -> bool:
    """Whether a work is a feature that makes an end of its part: a mitre."""
    return work.drawn is not None and bool(work.drawn.ends_part())


def _kerf_along(work: Work, at_station: Figures) -> float:
    """What the saw takes along the piece, mm: the kerf, which a cut aslant makes longer by the cosine of its angle."""
    angle = work.figures.get("feature.angle", 0.0) if _cuts_end(work) else 0.0
    return at_station.get("station.kerf", 0.0) / cos(radians(angle))
