"""What a cut takes away, made from the card: its settings, what is set out, the station's own figures, and how the piece
lies. Never from the drawing's own shapes. In the part's frame, mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import cos, pi, sin

from sequencer.model.frame import FaceName, axis_of, is_high, opposite, others, sign_of
from sequencer.model.marks import (
    Coped,
    Corner,
    Datum,
    Edges,
    Layout,
    Level,
    Lie,
    Line,
    Marks,
    Moulded,
    Off,
    Plunges,
    Profile,
    Spots,
    Trough,
    Window,
)
from sequencer.model.plan import Task
from sequencer.proving.channel_cuts import trough_cut
from sequencer.proving.cuts import DUST, ROUND, Card, Cut, NoCut, all_beyond, card_of
from sequencer.proving.edge_cuts import coped, moulded, sawn_to_line, taken_off_edges
from sequencer.proving.end_cuts import round_the_tenon, turned_away
from sequencer.proving.opening_cuts import bored_cut, plunged_cut, window_cut
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, joined


def cut_of(task: Task, layout: Layout, piece: Workpiece, figures: Mapping[str, float]) -> Cut:
    """The cut of a task on a piece. NoCut if the figures give none."""
    card = card_of(task, figures)
    cut = _cut(card, layout, piece)
    return cut if "inset" not in card.settings else replace(cut, body=_beside_path(card, layout.marks, cut.body))


def _cut(card: Card, layout: Layout, piece: Workpiece) -> Cut:
    """The cut of a card by what is set out."""
    marks, lie = layout.marks, layout.lie
    if isinstance(marks, Datum):
        return Cut(all_beyond(marks.face, _drawn_level(piece, marks.face)), marks.face)
    if isinstance(marks, Level):
        return _level(card, marks, lie, piece)
    if isinstance(marks, Off):
        level = piece.spans[axis_of(marks.face)][is_high(marks.face)] - sign_of(marks.face) * marks.amount
        return Cut(all_beyond(marks.face, level), marks.face)
    if isinstance(marks, Trough):
        return trough_cut(card, marks, lie, piece)
    if isinstance(marks, Window):
        return window_cut(card, marks, lie, piece)
    if isinstance(marks, Spots):
        return bored_cut(card, marks, lie, piece)
    if isinstance(marks, Plunges):
        return plunged_cut(card, marks, lie, piece)
    if isinstance(marks, Line):
        return Cut(sawn_to_line(card, marks, piece))
    if isinstance(marks, Edges):
        return Cut(taken_off_edges(card, marks, piece))
    if isinstance(marks, Moulded):
        return Cut(joined(moulded(card, marks, piece, edge) for edge in marks.edges))
    if isinstance(marks, Coped):
        return Cut(coped(marks, piece))
    if isinstance(marks, Profile):
        return Cut(turned_away(card, marks, piece))
    if isinstance(marks, Corner):
        raise NoCut("a slot across a corner is cut in what is joined, not in one piece")
    return Cut(round_the_tenon(card, marks, lie, piece))


def _beside_path(card: Card, marks: Marks, body: Solid) -> Solid:
    """What a beam takes whose middle runs beside the line by what the card says: half its width too far to either side, and
    the edge that stays is off the line by the rest. The body of the cut to the line is grown or shrunk by that."""
    kerf = card.figures.get("kerf")
    if kerf is None:
        raise NoCut("the width of the beam is not known")
    off = kerf / 2 - card.settings["inset"]
    if abs(off) < DUST:
        return body
    through = marks.through if isinstance(marks, Line) else "z"
    first, second = others(through)
    turns = (2 * pi * number / ROUND for number in range(ROUND))
    moved = [body.moved(**{first: abs(off) * cos(turn), second: abs(off) * sin(turn)}) for turn in turns]
    if off > 0:
        return joined(moved)
    for each in moved:
        body = body & each
    return body


def _drawn_level(piece: Workpiece, face: FaceName) -> float:
    """Where a face that is made true comes to lie: it is the plane everything else is measured from."""
    return piece.part.block.level(face) + sign_of(face) * piece.left_on.get(face, 0.0)


def _level(card: Card, marks: Level, lie: Lie, piece: Workpiece) -> Cut:
    """Sawn or planed to a size from a face: from the fence or stop it is set by, from the table it lies on under the tool, or
    from the face it is marked from."""
    distance, start = marks.distance, marks.face
    guides = {"fence": lie.against, "stop": lie.stop, "size": lie.down if lie.tool == "above" else None}
    for name, guide in guides.items():
        if name in card.settings:
            distance = card.settings[name]
            start = guide if guide is not None and axis_of(guide) == axis_of(marks.face) else start
    if "batten" in card.settings:
        sole = card.figures.get("sole")
        if sole is None:
            raise NoCut("it is not known how far the saw's sole reaches from the batten to the blade")
        distance = card.settings["batten"] + sole
    face = opposite(start)
    at = piece.spans[axis_of(start)][is_high(start)] - sign_of(start) * distance
    height = card.settings.get("height")
    if card.kind == "width" and height is not None and height < piece.size("z"):
        raise NoCut(f"the blade stands {height:g} mm high and the piece is {piece.size('z'):g} mm thick")
    depth = card.settings.get("cut-depth")
    if depth is not None and depth < piece.size("z"):
        raise NoCut(f"the blade cuts {depth:g} mm deep and the piece is {piece.size('z'):g} mm thick")
    return Cut(all_beyond(face, at), face)
