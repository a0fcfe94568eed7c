"""The picture of a strip: every piece where it lies, with its name, the waste hatched, and where each begins. mm on paper."""

from __future__ import annotations

from collections.abc import Collection

from sequencer.features.base import mm
from sequencer.model.stock_lists import Strip
from sequencer.paper.svg import TEXT, Paper, Pen, Picture, text_width

BAND = 7.0
"""Height of the strip as it is drawn, whatever its width, mm."""
_BELOW = 2.2
_LANE = 4.2
"""Height of a line of figures, mm."""
_HATCH = 1.5
_OUTLINE, _THIN, _FRAME = 0.5, 0.22, 0.9
_INSET = 1.1
"""How far inside the stick the frame round a piece stands, so that the two lines stay apart, mm."""


def strip_picture(strip: Strip, width: float) -> Picture:
    """A strip from its side, drawn to scale along its length. In each piece stands its name, and its length where there is room;
    below where it begins, measured from the first end, and how long the strip is."""
    pen = Pen()
    left, right = 1.0, width - 1.0
    scale = (right - left) / strip.length
    spans = [(0.0, strip.trim)]
    for before, after in zip(strip.pieces, strip.pieces[1:], strict=False):
        spans.append((before.stop, after.start))
    spans.append((strip.pieces[-1].stop, strip.length))
    for start, stop in spans:
        _waste(pen, left + start * scale, left + stop * scale)
    readable = True
    for piece in strip.pieces:
        low, high = left + piece.start * scale, left + piece.stop * scale
        pen.path("piece", ((low, 0.5), (high, 0.5), (high, 0.5 + BAND), (low, 0.5 + BAND)), _OUTLINE, closed=True)
        long = f"{piece.called}: {mm(piece.length)}"
        words = next((each for each in (long, piece.called, piece.letter) if text_width(each) < high - low - 1.0), "")
        readable = readable and bool(words)
        pen.text(words, ((low + high) / 2, 0.5 + BAND / 2), kind="piece")
    pen.path("edge", ((left, 0.5), (right, 0.5), (right, 0.5 + BAND), (left, 0.5 + BAND)), _OUTLINE, closed=True)
    height = _figures(pen, strip, left, right, scale)
    return Picture(pen.finish(width, height, "Where the pieces lie in the strip"), width, height, tuple(pen.boxes), readable)


def stick_picture(strip: Strip, width: float, *, cut: bool, here: Collection[str] = ()) -> Picture:
    """A strip from its side as a student has it in hand: one stick with every piece of it named where it lies, the lines between
    them dashed while it stays whole. `cut`: it is cut apart now, and what is waste is hatched. `here`: parts that are worked at
    their own place now; a frame stands round their pieces."""
    pen = Pen()
    left, right, top, bottom = 1.0, width - 1.0, 0.5, 0.5 + BAND
    scale = (right - left) / strip.length
    readable = True
    for before, after in zip((None, *strip.pieces), (*strip.pieces, None), strict=True):
        low = left + (before.stop * scale if before else 0.0)
        high = left + (after.start if after else strip.length) * scale
        if cut:
            _waste(pen, low, high)
        ends = [low] * (before is not None) + [high] * (after is not None)
        pen.lines("apart", [((x, top), (x, bottom)) for x in ends], _THIN, "" if cut else "0.8 0.8")
    for piece in strip.pieces:
        low, high = left + piece.start * scale, left + piece.stop * scale
        fits = text_width(piece.called) < high - low - 0.6
        readable = readable and fits
        pen.text(piece.called, ((low + high) / 2, (top + bottom) / 2), kind="piece")
        if piece.part in here:
            frame = [(low, top + _INSET), (high, top + _INSET), (high, bottom - _INSET), (low, bottom - _INSET)]
            pen.path("here", frame, _FRAME, closed=True)
    pen.path("edge", ((left, top), (right, top), (right, bottom), (left, bottom)), _OUTLINE, closed=True)
    height = bottom + 0.5
    return Picture(pen.finish(width, height, "The pieces in the stick"), width, height, tuple(pen.boxes), readable)


def _waste(pen: Pen, low: float, high: float) -> None:
    """Slanting lines over what is waste: trim, saw cuts and the end that is held."""
    top, bottom = 0.5, 0.5 + BAND
    lines: list[tuple[Paper, Paper]] = []
    at = low - BAND / 2
    while at < high:
        # A line rises by two for one across, cut off at both sides of the waste.
        first, last = max(at, low), min(at + BAND / 2, high)
        if last - first > 0.05:
            lines.append(((first, bottom - 2 * (first - at)), (last, max(bottom - 2 * (last - at), top))))
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
