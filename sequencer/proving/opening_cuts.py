"""What is taken between lines on a face: recesses, halvings, mortises and slots, and holes. In the part's frame, mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import acos, cos, pi, sin

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, face_at, is_high, others, sign_of
from sequencer.model.marks import Between, Lie, Plunges, Ramp, Spot, Spots, Window
from sequencer.model.shapes import Cone, Turned
from sequencer.proving.cuts import CHORDS, FAR, OVER, ROUND, Card, Cut, NoCut, Span, entered_face, run_over, spot_at, sunk
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, joined, prism, shape_solid


def _between(piece: Workpiece, lines: Between, width: float | None = None) -> Span:
    """The stretch between two lines; the second is as far from the first as the tool is wide, if a tool sets that."""
    far = lines.far if width is None else lines.near + width
    return piece.inside(lines.face, lines.near, far)


def window_cut(card: Card, marks: Window, lie: Lie, piece: Workpiece) -> Cut:
    """An opening between two pairs of lines; a chisel that is set gives its width on the narrower side."""
    opened = entered_face(lie, marks.face)
    if axis_of(opened) != axis_of(marks.face):
        raise NoCut(f"it is set out on the {marks.face} and the {opened} is worked")
    chisel = card.settings.get("chisel")
    narrow = min(marks.sides, key=lambda lines: lines.far - lines.near)
    out = _beyond_lines(card)
    spans = {
        axis_of(lines.face): _between(
            piece,
            replace(lines, near=lines.near - out, far=lines.far + out),
            chisel if chisel is not None and lines is narrow else None,
        )
        for lines in marks.sides
    }
    depth = card.setting("depth", FAR if marks.depth is None else marks.depth)
    down, floor = sunk(piece, opened, depth)
    first, second = others(axis_of(opened))
    spans = {axis: run_over(piece, axis, span) for axis, span in spans.items()}
    outline = _rounded(spans[first], spans[second], marks.radius, [set(corner) for corner in marks.rounded], first, second)
    body = prism(axis_of(opened), [outline], *down)
    ramps = [_ramp(each, spans, piece) for each in marks.ramps]
    return Cut(joined([body, *ramps]) if ramps else body, opened, floor)


def _beyond_lines(card: Card) -> float:
    """How far a cutter goes over the lines of an opening: its guide bush runs along a template that stands outside them."""
    if "template" not in card.settings:
        return 0.0
    if "bush" not in card.settings or "cutter" not in card.settings:
        raise NoCut("the guide bush or the cutter that runs in it is not known")
    return card.settings["template"] - (card.settings["bush"] - card.settings["cutter"]) / 2


def _ramp(ramp: Ramp, window: Mapping[Axis, Span], piece: Workpiece) -> Solid:
    """The slope or step beside a window, chiselled to the lines: a prism across the window's narrow way."""
    along, into = axis_of(ramp.side), axis_of(ramp.face)
    across = next(axis for axis in AXES if axis not in (along, into))
    first, second = others(across)
    sign = sign_of(ramp.face)
    top, mouth = piece.level(ramp.face), piece.level(ramp.face) + sign * OVER
    near, far = (piece.level(ramp.side) - sign_of(ramp.side) * distance for distance in (ramp.near, ramp.far))
    if abs(far - piece.level(ramp.side)) < 1e-6:
        far += sign_of(ramp.side) * OVER
    corners: list[dict[Axis, float]] = [
        {along: near, into: mouth},
        {along: near, into: top - sign * ramp.deep},
        {along: far, into: top - sign * ramp.shallow},
        {along: far, into: mouth},
    ]
    return prism(across, [[(corner[first], corner[second]) for corner in corners]], *window[across])


def plunged_cut(card: Card, marks: Plunges, lie: Lie, piece: Workpiece) -> Cut:
    """Slots by a disc that is plunged in to its depth stop: the part of the disc below the face."""
    opened = entered_face(lie, marks.face)
    axis, sign = axis_of(opened), sign_of(opened)
    if axis != axis_of(marks.face):
        raise NoCut(f"it is set out on the {marks.face} and the {opened} is worked")
    diameter, width = card.setting("disc", marks.diameter), card.setting("cutter", marks.width)
    depth = card.setting("depth", marks.depth)
    top = piece.spans[axis][is_high(opened)]
    across = next(other for other in AXES if other not in (axis, marks.along))
    first, second = others(across)
    radius = diameter / 2
    if not 0 < depth < radius:
        raise NoCut(f"a disc of {diameter:g} mm is not plunged {depth:g} mm deep")
    half = acos((radius - depth) / radius)
    slots = []
    for place in marks.places:
        at = spot_at(piece, place)
        if "batten" in card.settings:
            at |= _from_batten(card, place, across, width, piece)
        turns = [half * (2 * number / CHORDS - 1) for number in range(CHORDS + 1)]
        rim = [
            {marks.along: at[marks.along] + radius * sin(t), axis: top + sign * (radius - depth - radius * cos(t))} for t in turns
        ]
        out = [{**rim[end], axis: top + sign * OVER} for end in (-1, 0)]
        outline = [(corner[first], corner[second]) for corner in (*rim, *out)]
        slots.append(prism(across, [outline], at[across] - width / 2, at[across] + width / 2))
    return Cut(joined(slots), opened, top - sign * depth)


def _from_batten(card: Card, place: Spot, across: Axis, width: float, piece: Workpiece) -> dict[Axis, float]:
    """The middle of a slot that is cut with the base against a batten: on from there by what the sole reaches to the disc."""
    sole = card.figures.get("sole")
    if sole is None:
        raise NoCut("it is not known how far the sole of the base reaches to the disc")
    face = next((face for face, _ in place if axis_of(face) == across), None)
    if face is None:
        raise NoCut("the batten stands along no face that the slots are measured from")
    return {across: piece.level(face) - sign_of(face) * (card.settings["batten"] + sole + width / 2)}


def _rounded(
    first: Span, second: Span, radius: float, corners: Sequence[set[FaceName]], one: Axis, other: Axis
) -> list[tuple[float, float]]:
    outline: list[tuple[float, float]] = []
    for turn, (a, b) in enumerate(((False, False), (True, False), (True, True), (False, True))):
        corner = first[a], second[b]
        if radius > 0 and {face_at(one, a), face_at(other, b)} in corners:
            centre = corner[0] + (-radius if a else radius), corner[1] + (-radius if b else radius)
            start = 180.0 + 90.0 * turn
            outline += _circle(centre, radius, start, start + 90.0)
        else:
            outline.append(corner)
    return outline


def _circle(centre: tuple[float, float], radius: float, start: float, stop: float) -> list[tuple[float, float]]:
    """A quarter of a circle by equal chords, degrees."""
    turns = [pi / 180 * (start + (stop - start) * number / ROUND) for number in range(ROUND + 1)]
    return [(centre[0] + radius * cos(turn), centre[1] + radius * sin(turn)) for turn in turns]


def bored_cut(card: Card, marks: Spots, lie: Lie, piece: Workpiece) -> Cut:
    """Round holes by the bit and the depth stop, with the point of the bit below a blind hole."""
    opened = entered_face(lie, marks.face)
    axis, sign = axis_of(opened), sign_of(opened)
    if axis != axis_of(marks.face):
        raise NoCut(f"it is set out on the {marks.face} and the {opened} is worked")
    radius = card.setting("bit", card.setting("clearance", marks.diameter)) / 2
    head = card.setting("countersink", marks.head_diameter) / 2 if marks.head_diameter else 0.0
    depth = card.setting("depth", marks.depth if marks.depth is not None else FAR)
    (low, high), floor = sunk(piece, opened, depth)
    top = piece.spans[axis][is_high(opened)]
    first, second = others(axis)
    holes, points = [], []
    for place in marks.places:
        at = spot_at(piece, place)
        centre = at[first], at[second]
        mouth = (top - sign * (head - radius if marks.conical else marks.head_depth), head) if head else None
        holes.append(_hole(axis, centre, (low, high), radius, mouth, top, sign, marks.conical))
        if floor is not None and "drill point" in card.leaves:
            points.append(_mouth(axis, centre, floor, sign, 2 * radius * card.point, radius, 0.0))
    if not points:
        return Cut(joined(holes), opened, floor)
    assert floor is not None
    return Cut(joined([*holes, *points]), opened, floor - sign * 2 * radius * card.point, (("drill point", joined(points)),))


def _hole(
    axis: Axis,
    centre: tuple[float, float],
    span: Span,
    radius: float,
    mouth: tuple[float, float] | None,
    top: float,
    sign: int,
    conical: bool,
) -> Solid:
    """A round hole with its countersink or counterbore as one turned body. `mouth`: where the wider part ends in the wood,
    and its radius at the face."""
    if mouth is None:
        return shape_solid(Cone(axis, centre, *span, radius, radius))
    bottom, wide = mouth
    out = span[1] if sign > 0 else span[0]
    far = span[0] if sign > 0 else span[1]
    profile = [(far, radius), (bottom, radius), *([] if conical else [(bottom, wide)]), (top, wide), (out, wide)]
    return shape_solid(Turned(axis, centre, tuple(profile if sign > 0 else reversed(profile))))


def _mouth(axis: Axis, centre: tuple[float, float], top: float, sign: int, deep: float, wide: float, narrow: float) -> Solid:
    """A cone or cylinder from a plane into the wood."""
    if sign > 0:
        return shape_solid(Cone(axis, centre, top - deep, top, narrow, wide))
    return shape_solid(Cone(axis, centre, top, top + deep, wide, narrow))
