"""What is taken round an end: tenons, tongues and their haunches, and turned profiles. In the part's frame, mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high, others, sign_of
from sequencer.model.marks import Haunch, Lie, Profile, Shoulders
from sequencer.model.shapes import Turned
from sequencer.proving.cuts import FAR, OVER, Card, NoCut, Span, block_of, entered_face, run_over
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, joined, prism, shape_solid


def round_the_tenon(card: Card, marks: Shoulders, lie: Lie, piece: Workpiece) -> Solid:
    """The end cut back to the shoulder line but for the tenon between its lines, out to the end of the wood: of a tenon left over
    length the rest is sawn as thin."""
    length = card.setting("shoulder", card.setting("distance", card.setting("fence", marks.length)))
    along = piece.inside(marks.end, 0.0, length)
    low, high = piece.spans[axis_of(marks.end)]
    along = (along[0], max(along[1], high) + OVER) if is_high(marks.end) else (min(along[0], low) - OVER, along[1])
    kept = _tenon_kept(card, marks, piece) if card.kind == "tenon" else _tongue_kept(card, marks, lie, piece)
    end = axis_of(marks.end)
    whole = dict.fromkeys(AXES, (-FAR, FAR)) | {end: along}
    sides = {axis: run_over(piece, axis, span) for axis, span in kept.items()}
    stays = block_of({**dict.fromkeys(AXES, (-FAR, FAR)), **sides})
    # What the card does not say of a haunch is not left standing.
    out = card.settings.get("haunch", 0.0)
    if marks.haunch is not None and out > 0 and {axis_of(marks.haunch.side), "z"} <= kept.keys():
        stays = joined([stays, _haunch(replace(marks.haunch, out=out), marks.end, length, kept, piece)])
    return block_of(whole) - stays


def _tongue_kept(card: Card, marks: Shoulders, lie: Lie, piece: Workpiece) -> dict[Axis, Span]:
    """What stays of a tongue along the thickness: between the lines that the card gauges it by, or between the shoulders as deep
    as the tool is set for each face. A face that the card does not set is not cut."""
    (lines,) = marks.keeps
    if {"cheek", "thickness"} <= card.settings.keys():
        near = card.settings["cheek"]
        return {axis_of(lines.face): piece.inside(lines.face, near, near + card.settings["thickness"])}
    name = "height" if lie.tool == "below" else "depth"
    if name not in card.settings:
        raise NoCut("the card does not say how deep the shoulders of the tongue are")
    first = entered_face(lie, marks.end)
    low, high = piece.inside(first, card.settings[name], piece.size(axis_of(first)) - card.setting(f"{name}-behind", 0.0))
    return {axis_of(first): (low, high)}


def _tenon_kept(card: Card, marks: Shoulders, piece: Workpiece) -> dict[Axis, Span]:
    """What stays of a tenon along the width and the thickness: by the sizes on the card only, so that what it does not say is
    not cut."""
    start = {axis_of(lines.face): lines.face for lines in marks.keeps}
    kept = {}
    for axis, near, across in (("y", "edge", "tenon-width"), ("z", "cheek", "thickness")):
        if axis in start and {near, across} <= card.settings.keys():
            kept[axis] = piece.inside(start[axis], card.settings[near], card.settings[near] + card.settings[across])
    return kept


def _haunch(haunch: Haunch, end: FaceName, length: float, kept: Mapping[Axis, Span], piece: Workpiece) -> Solid:
    """What stands of a haunch between the tenon and the edge of the piece."""
    along, over = axis_of(end), axis_of(haunch.side)
    across = next(axis for axis in AXES if axis not in (along, over))
    shoulder = piece.level(end) - sign_of(end) * length
    tip, beyond = shoulder + sign_of(end) * haunch.out, shoulder - sign_of(end) * OVER
    inner, outer = kept[over][is_high(haunch.side)], piece.level(haunch.side)
    corners: list[dict[Axis, float]] = [
        {along: beyond, over: inner},
        {along: tip, over: inner},
        *([] if haunch.sloping else [{along: tip, over: outer}]),
        {along: shoulder, over: outer},
        {along: beyond, over: outer},
    ]
    first, second = others(across)
    return prism(across, [[(corner[first], corner[second]) for corner in corners]], *run_over(piece, across, kept[across]))


def turned_away(card: Card, marks: Profile, piece: Workpiece) -> Solid:
    """All that lies outside the round body about the middle of the piece: brought to the diameter on the card at its thickest,
    and as deep below that at each station as is set out."""
    along = axis_of(marks.end)
    thickest = max(across for _, across in marks.stations)
    more = (card.setting("diameter", thickest) - thickest) / 2
    turned = [(piece.level(marks.end) - sign_of(marks.end) * at, max(across / 2 + more, 0.0)) for at, across in marks.stations]
    if is_high(marks.end):
        turned.reverse()
    low, high = piece.spans[along]
    # A round that ends with the wood runs on over it.
    if turned[0][0] < low + 1e-6:
        turned.insert(0, (low - OVER, turned[0][1]))
    if turned[-1][0] > high - 1e-6:
        turned.append((high + OVER, turned[-1][1]))
    first, second = others(along)
    centre = sum(piece.spans[first]) / 2, sum(piece.spans[second]) / 2
    whole = block_of({along: (turned[0][0], turned[-1][0]), first: (-FAR, FAR), second: (-FAR, FAR)})
    return whole - shape_solid(Turned(along, centre, tuple(turned)))
