"""Why stock is brought to size in its order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.model.plan import Reason, ReasonKind
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words

_STOCK: tuple[tuple[str, str, ReasonKind, str], ...] = (
    ("rough-length", "face-marks", "sequence", "The blank is cut off the board before its own faces are chosen and marked."),
    (
        "rough-length",
        "face-side",
        "sequence",
        "The blank is cut off the board before it is planed: a short piece is easier to handle.",
    ),
    ("rough-length", "face-edge", "sequence", "The blank is cut off before its edge is planed."),
    ("rough-length", "thickness", "sequence", "The blank is cut off before it is brought to thickness."),
    ("rough-length", "width", "sequence", "The blank is cut off before it is brought to width."),
    ("rough-length", "first-end", "sequence", "The blank is cut off before its end is squared."),
    ("rough-length", "length", "sequence", "The blank is cut off over length before it is cut to length."),
    (
        "face-marks",
        "thickness",
        "reference",
        "Thickness is measured from the face side, so the true faces are chosen and marked first.",
    ),
    ("face-marks", "width", "reference", "Width is measured from the face edge, so the true faces are chosen and marked first."),
    (
        "face-marks",
        "first-end",
        "reference",
        "An end is squared from face side and face edge, so the true faces are chosen and marked first.",
    ),
    (
        "face-marks",
        "length",
        "reference",
        "An end is squared from face side and face edge, so the true faces are chosen and marked first.",
    ),
    (
        "face-side",
        "face-edge",
        "reference",
        "The face edge is made square to the face side, so the face side must be true first.",
    ),
    ("face-side", "thickness", "reference", "Thickness is measured from the face side, so the face side must be true first."),
    ("face-edge", "width", "reference", "Width is measured from the face edge, so the face edge must be true first."),
    ("face-edge", "first-end", "reference", "An end is squared from the face edge, so the face edge must be true first."),
    ("face-edge", "length", "reference", "An end is squared from the face edge, so the face edge must be true first."),
    (
        "thickness",
        "first-end",
        "support",
        "Planing comes while the piece is over length: it is held better, and thin ends are cut off.",
    ),
    (
        "thickness",
        "length",
        "support",
        "Planing comes while the piece is over length: it is held better, and thin ends are cut off.",
    ),
    (
        "width",
        "first-end",
        "support",
        "Width comes while the piece is over length: it is held better, and broken ends are cut off.",
    ),
    ("width", "length", "support", "Width comes while the piece is over length: it is held better, and broken ends are cut off."),
    ("first-end", "length", "reference", "Length is measured from the first end, so that end must be square first."),
)


def stock_reasons(own: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """Why stock of one part is brought to size in its order: `own` is its work by feature."""
    for before, after, kind, sentence in _STOCK:
        if before in own and after in own:
            yield Reason(own[before].id, own[after].id, kind, sentence, TRADE)
    yield from _needed(own, ways)


def _needed(own: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """True faces that a way of preparing stock is worked from, as its operation says."""
    for work in own.values():
        for face in ways[work.id].needs if work.drawn is None and work.kind != "mark-out" else ():
            if face in own and face != work.feature:
                sentence = f"The {words(work.feature)} is worked from the {words(face)}, which must be true first."
                yield Reason(own[face].id, work.id, "reference", sentence, TRADE)
