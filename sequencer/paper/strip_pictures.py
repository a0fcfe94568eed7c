"""The picture of a strip: every piece where it lies, with its name, the waste hatched, and where each begins. mm on paper."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from sequencer.features.base import mm
from sequencer.model.frame import Hand
from sequencer.model.stock_lists import Strip, StripPiece
from sequencer.paper.svg import TEXT, Paper, Pen, Picture, text_width

BAND = 7.0
"""Height of the strip as it is drawn, whatever its width, mm."""
_BELOW = 2.2
_LANE = 4.2
"""Height of a line of figures, mm."""
_HATCH = 1.5
Slant = tuple[float, float]
"""Where an end lies at the top and at the bottom edge, mm on paper."""
_OUTLINE, _THIN, _FRAME = 0.5, 0.22, 0.9
_INSET = 1.1
"""How far inside the stick the frame round a piece stands, so that the two lines stay apart, mm."""


def strip_picture(strip: Strip, width: float) -> Picture:
    """A strip from its side, drawn to scale along its length. In each piece stands its name, and its length where there is room;
    below where it begins, measured from the first end, and how long the strip is."""
    pen = Pen()
    left, right = 1.0, width - 1.0
    scale = (right - left) / strip.length
    for before, after in zip((None, *strip.pieces), (*strip.pieces, None), strict=True):
        _waste(pen, _end(before, 1, strip, left, scale), _end(after, 0, strip, left, scale))
    readable = True
    for piece in strip.pieces:
        (top_low, bottom_low), (top_high, bottom_high) = (_end(piece, end, strip, left, scale) for end in (0, 1))
        low, high = max(top_low, bottom_low), min(top_high, bottom_high)
        corners = ((top_low, 0.5), (top_high, 0.5), (bottom_high, 0.5 + BAND), (bottom_low, 0.5 + BAND))
        pen.path("piece", corners, _OUTLINE, closed=True)
        long = f"{piece.called}: {mm(piece.length)}"
        words = next((each for each in (long, piece.called, piece.letter) if text_width(each) < high - low - 1.0), "")
        readable = readable and bool(words)
        pen.text(words, ((low + high) / 2, 0.5 + BAND / 2), kind="piece")
    pen.path("edge", ((left, 0.5), (right, 0.5), (right, 0.5 + BAND), (left, 0.5 + BAND)), _OUTLINE, closed=True)
    height = _figures(pen, strip, left, right, scale)
    return Picture(pen.finish(width, height, "Where the pieces lie in the strip"), width, height, tuple(pen.boxes), readable)


def from_first_piece(strip: Strip) -> Strip:
    """A strip as it is once its first end is squared: it starts where its first piece does."""
    moved = tuple(replace(piece, start=piece.start - strip.trim) for piece in strip.pieces)
    return replace(strip, length=strip.length - strip.trim, pieces=moved)


def stick_picture(
    strip: Strip, width: float, *, cut: bool, here: Collection[str] = (), handed: Mapping[str, Hand] | None = None
) -> Picture:
    """A strip from its side as a student has it in hand: one stick with every piece of it named where it lies, the lines between
    them dashed while it stays whole. `cut`: it is cut apart now, and what is waste is hatched. `here`: parts that are worked at
    their own place now; a frame stands round their pieces. `handed`: parts whose pieces are left and right ones, with the
    hand that lies first, its first ends to the left; each first end is named below."""
    pen, handed = Pen(), handed or {}
    left, right, top, bottom = 1.0, width - 1.0, 0.5, 0.5 + BAND
    scale = (right - left) / strip.length
    readable = True
    for before, after in zip((None, *strip.pieces), (*strip.pieces, None), strict=True):
        start, stop = _end(before, 1, strip, left, scale), _end(after, 0, strip, left, scale)
        if cut:
            _waste(pen, start, stop)
        ends = [start] * (before is not None) + [stop] * (after is not None)
        pen.lines("apart", [((upper, top), (lower, bottom)) for upper, lower in ends], _THIN, "" if cut else "0.8 0.8")
    for piece in strip.pieces:
        (top_low, bottom_low), (top_high, bottom_high) = (_end(piece, end, strip, left, scale) for end in (0, 1))
        low, high = max(top_low, bottom_low), min(top_high, bottom_high)
        hand = hand_in(strip, piece, handed[piece.part]) if piece.part in handed else ""
        words = f"{piece.called} {hand}" if hand else piece.called
        fits = text_width(words) < high - low - 0.6
        readable = readable and fits
        pen.text(words, ((low + high) / 2, (top + bottom) / 2), kind="piece")
        if piece.part in here:
            frame = [(low, top + _INSET), (high, top + _INSET), (high, bottom - _INSET), (low, bottom - _INSET)]
            pen.path("here", frame, _FRAME, closed=True)
    pen.path("edge", ((left, top), (right, top), (right, bottom), (left, bottom)), _OUTLINE, closed=True)
    height = bottom + 0.5
    if any(piece.part in handed for piece in strip.pieces):
        _first_ends(pen, strip, handed, (left, scale), bottom)
        height += _LANE
    return Picture(pen.finish(width, height, "The pieces in the stick"), width, height, tuple(pen.boxes), readable)


def hand_in(strip: Strip, piece: StripPiece, first: Hand) -> Hand:
    """Which hand a piece of a pair is by where it lies in its stick: all of the hand `first` lie before the others, so that all
    first ends look outwards."""
    alike = [each.number for each in strip.pieces if each.part == piece.part]
    second: Hand = "right" if first == "left" else "left"
    return first if alike.index(piece.number) < len(alike) / 2 else second


def _first_ends(pen: Pen, strip: Strip, handed: Mapping[str, Hand], along: tuple[float, float], bottom: float) -> None:
    """The words `first end` under that end of each left and each right piece."""
    left, scale = along
    for piece in strip.pieces:
        if piece.part in handed:
            first = handed[piece.part]
            starts = hand_in(strip, piece, first) == first
            at = left + (piece.start if starts else piece.stop) * scale
            pen.lines("size", [((at, bottom), (at, bottom + _BELOW))], _THIN)
            anchor = "start" if starts else "end"
            pen.text("first end", (at, bottom + _BELOW + TEXT / 2 - 0.6), kind="end", anchor=anchor, bold=False, size=3.2)


def _end(piece: StripPiece | None, end: int, strip: Strip, left: float, scale: float) -> Slant:
    """Where an end of a piece, 0 its first, lies at the top and at the bottom edge of the strip on paper; of none, where the
    strip itself ends that the end looks at."""
    if piece is None:
        at = left + (0.0 if end == 1 else strip.length) * scale
        return at, at
    at, slope = left + (piece.stop if end else piece.start) * scale, piece.slopes[end] * scale
    shorter = -abs(slope) if end else abs(slope)
    return (at + shorter, at) if slope > 0 else (at, at + shorter)


def _waste(pen: Pen, low: Slant, high: Slant) -> None:
    """Slanting lines over what is waste between two ends: trim, saw cuts, triangles between mitres and the end that is held."""
    bottom = 0.5 + BAND
    lines: list[tuple[Paper, Paper]] = []
    at, steps = min(low) - BAND / 2, 24
    while at < max(high):
        # A line rises by two for one across, cut off at both sides of the waste; a slope is followed in small steps.
        inside = []
        for number in range(steps + 1):
            x, y = at + number / steps * BAND / 2, bottom - number / steps * BAND
            share = (bottom - y) / BAND
            if low[1] + (low[0] - low[1]) * share <= x <= high[1] + (high[0] - high[1]) * share:
                inside.append((x, y))
        if len(inside) > 1:
            lines.append((inside[0], inside[-1]))
        at += _HATCH
    pen.lines("waste", lines, _THIN)


def _figures(pen: Pen, strip: Strip, left: float, right: float, scale: float) -> float:
    """Where each piece begins, in as many lines as keep the figures apart, and the whole length. Returns the height used."""
    top, lanes = 0.5 + BAND, [left - 10.0]
    marks = [(left + piece.start * scale, mm(piece.start)) for piece in strip.pieces]
    marks.append((right, mm(strip.length)))
    for x, words in marks:
        wide = text_width(words)
        middle = min(max(x, left + wide / 2), right - wide / 2)
        lane = next((number for number, end in enumerate(lanes) if middle - wide / 2 > end + 1.0), len(lanes))
        if lane == len(lanes):
            lanes.append(0.0)
        lanes[lane] = middle + wide / 2
        y = top + _BELOW + lane * _LANE + TEXT / 2
        pen.lines("size", [((x, top), (x, y - TEXT / 2))], _THIN)
        pen.text(words, (middle, y), kind="size", clear=True)
    return top + _BELOW + len(lanes) * _LANE + 0.5
