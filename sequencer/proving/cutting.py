"""What a cut takes away, made from the card: its settings, what is set out, the station's own figures, and how the piece
lies. Never from the drawing's own shapes. In the part's frame, mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import acos, cos, pi, radians, sin, tan

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, face_at, is_high, opposite, others, sign_of
from sequencer.model.marks import (
    Between,
    Coped,
    Datum,
    Edges,
    Haunch,
    Layout,
    Level,
    Lie,
    Line,
    Marks,
    Moulded,
    Off,
    Plunges,
    Profile,
    Ramp,
    Shoulders,
    Spot,
    Spots,
    Trough,
    Window,
)
from sequencer.model.plan import Task
from sequencer.model.shapes import Cone, Turned
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box, joined, prism, shape_solid

STEEPEST = 89.0
"""A cut further from square than this, degrees, never comes out of the wood."""
FAR = 100_000.0
"""Further than any piece reaches, mm: a cut that runs out of the wood runs on."""
OVER = 1.0
"""How far a cut stands over a face it is open at, mm, so that no skin is left."""
DUST = 1e-3
"""The difference of two volumes below this, mm3, is rounding."""
ROUND = 16
"""Chords of a rounded edge or corner, as the drawing has them."""
CHORDS = 32
"""Chords of the segment that a disc cuts, as the drawing has them."""

Span = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Cut:
    """What the tool passes through.

    body
        Everything it would take away, also where there is no wood.
    opened
        The face it comes in at; None where it goes round the piece or right through along an axis.
    floor
        The plane its bottom lies in, along the axis of `opened`; None if it goes through.
    leaves
        What it takes or leaves beyond the cut that is asked for, by the residue's name.
    passes
        Where a cutter stands for each pass along its fence, edge guide or batten, in order: near and far side, from the face
        that the channel is measured from.
    """

    body: Solid
    opened: FaceName | None = None
    floor: float | None = None
    leaves: tuple[tuple[str, Solid], ...] = ()
    passes: tuple[Span, ...] = ()


@dataclass(frozen=True, eq=False)
class Bite:
    """A cut in a piece: what it takes away, what it leaves, and how much it takes, mm3."""

    cut: Cut
    removed: Solid
    left: Solid
    taken: float


def bite_of(cut: Cut, body: Solid) -> Bite:
    """A cut in a body. What is removed is worked out only when somebody looks at it: its volume follows from what is left."""
    left = body - cut.body
    taken = body.volume - left.volume
    return Bite(cut, body & cut.body, left, taken if taken > DUST else 0.0)


class NoCut(Exception):
    """The card's figures give no cut; the message says which."""


@dataclass(frozen=True)
class Card:
    """The figures of a task as its card and its station's card give them."""

    settings: Mapping[str, float]
    figures: Mapping[str, float]
    kind: str
    leaves: frozenset[str]
    point: float

    def setting(self, name: str, otherwise: float) -> float:
        """A setting, or what is set out where the card sets none."""
        return self.settings.get(name, otherwise)


def card_of(task: Task, figures: Mapping[str, float]) -> Card:
    """The figures of a task; a setting that staff decide has none. NoCut if the card leaves out what its operation sets."""
    given = {setting.name for setting in task.settings}
    missing = [name for name in task.sets if name not in given]
    if missing:
        raise NoCut(f"the card does not say the {' and the '.join(missing)}")
    settings = {setting.name: setting.value for setting in task.settings if setting.value is not None}
    return Card(settings, figures, task.kind, frozenset(task.leaves), task.point)


def cut_of(task: Task, layout: Layout, piece: Workpiece, figures: Mapping[str, float]) -> Cut:
    """The cut of a task on a piece. NoCut if the figures give none."""
    card = card_of(task, figures)
    cut = _cut(card, layout, piece)
    return cut if "inset" not in card.settings else replace(cut, body=_beside_path(card, layout.marks, cut.body))


def _cut(card: Card, layout: Layout, piece: Workpiece) -> Cut:
    """The cut of a card by what is set out."""
    marks, lie = layout.marks, layout.lie
    if isinstance(marks, Datum):
        return Cut(_beyond(marks.face, _drawn_level(piece, marks.face)), marks.face)
    if isinstance(marks, Level):
        return _level(card, marks, lie, piece)
    if isinstance(marks, Off):
        level = piece.spans[axis_of(marks.face)][is_high(marks.face)] - sign_of(marks.face) * marks.amount
        return Cut(_beyond(marks.face, level), marks.face)
    if isinstance(marks, Trough):
        return _trough(card, marks, lie, piece)
    if isinstance(marks, Window):
        return _window(card, marks, lie, piece)
    if isinstance(marks, Spots):
        return _spots(card, marks, lie, piece)
    if isinstance(marks, Plunges):
        return _plunges(card, marks, lie, piece)
    if isinstance(marks, Line):
        return Cut(_line(card, marks, piece))
    if isinstance(marks, Edges):
        return Cut(_edges(card, marks, piece))
    if isinstance(marks, Moulded):
        return Cut(joined(_moulded(card, marks, piece, edge) for edge in marks.edges))
    if isinstance(marks, Coped):
        return Cut(_coped(marks, piece))
    if isinstance(marks, Profile):
        return Cut(_profile(card, marks, piece))
    return Cut(_shoulders(card, marks, lie, piece))


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


def _beyond(face: FaceName, level: float) -> Solid:
    """All space on the outer side of a plane square to a face's axis."""
    low, high = [-FAR] * 3, [FAR] * 3
    axis = AXES.index(axis_of(face))
    if is_high(face):
        low[axis] = level
    else:
        high[axis] = level
    return box(low, high)


def block_of(spans: Mapping[Axis, Span]) -> Solid:
    """The block that spans along the three axes fill."""
    return box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])


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
    return Cut(_beyond(face, at), face)


def _entered(lie: Lie, marked: FaceName) -> FaceName:
    """The face the tool comes in at: the one up for tools from above, the one down for tools from below. A cutter that stands
    out of the fence works the face against that and, at the table, the one that is down."""
    if lie.tool == "above":
        return opposite(lie.down)
    if lie.tool == "fence" and axis_of(marked) != axis_of(lie.down):
        return lie.against or marked
    return lie.down if lie.tool in ("below", "fence") else marked


def _sunk(piece: Workpiece, face: FaceName, depth: float) -> tuple[Span, float | None]:
    """The span of a cut from above a face down to its depth, and its floor if it does not go through."""
    axis, sign = axis_of(face), sign_of(face)
    top = piece.spans[axis][is_high(face)]
    floor = top - sign * depth
    span = (min(floor, top + sign * OVER), max(floor, top + sign * OVER))
    low, high = piece.spans[axis]
    through = floor <= low + 1e-6 if is_high(face) else floor >= high - 1e-6
    if through:
        return (low - OVER, high + OVER), None
    return span, floor


def _open_sides(piece: Workpiece, axis: Axis, span: Span) -> Span:
    """A span that ends at the end of the wood runs on over it."""
    low, high = piece.spans[axis]
    return (
        span[0] - OVER if abs(span[0] - low) < 1e-6 else span[0],
        span[1] + OVER if abs(span[1] - high) < 1e-6 else span[1],
    )


def _strips(card: Card, marks: Trough) -> list[Span]:
    """The stretches a channel is cut in, as distances from the face it is measured from: one for each pass of a saw."""
    fence = card.setting("fence", card.setting("distance", marks.distance))
    if "batten" in card.settings:
        return _along_batten(card)
    if "packing" in card.settings and "cutter" in card.settings:
        return _drawn_by_packing(fence, card)
    if "passes" in card.settings and "shift" in card.settings:
        kerf = card.settings.get("cutter", card.figures.get("kerf"))
        if kerf is None:
            raise NoCut("the kerf of the blade is not known")
        passes, shift = round(card.settings["passes"]), card.settings["shift"]
        return [(fence + number * shift, fence + number * shift + kerf) for number in range(passes)]
    if card.kind == "dovetail-end" and "fence" in card.settings:
        # At its widest the cutter stands so far out of the false fence, on whichever face is against that.
        return [(marks.distance - fence, marks.distance + marks.width + fence)]
    if card.kind == "rebate" and "fence" in card.settings:
        # A rebate's fence is set to the far side of the cutter or blade, the rest of which stands inside the fence.
        return [(-OVER, fence)]
    if "cutter" in card.settings:
        return [(fence, fence + card.settings["cutter"])]
    width = card.setting("blade", card.setting("width", marks.width))
    return [(fence, fence + width)]


def _cleared(card: Card) -> list[Span]:
    """The channels a straight cutter clears before a dovetail cutter: its middle stands where the card says, moved for each."""
    if "clear" not in card.settings or "middle" not in card.settings:
        return []
    passes, shift = round(card.setting("passes", 1)), card.setting("shift", 0.0)
    half = card.settings["clear"] / 2
    middles = [card.settings["middle"] + number * shift for number in range(passes)]
    return [(middle - half, middle + half) for middle in middles]


def _drawn_by_packing(fence: float, card: Card) -> list[Span]:
    """The stretches a held router cuts along its edge guide: the guide is fixed to the router, so that packing between it and the
    edge draws the cutter nearer to the edge. All of it is in at the first pass, and a piece comes out for each further one."""
    cutter, each, passes = card.settings["cutter"], card.settings["packing"], round(card.setting("passes", 1))
    nears = [fence - pieces * each for pieces in reversed(range(passes))]
    return [(near, near + cutter) for near in nears]


def _along_batten(card: Card) -> list[Span]:
    """The stretches a held router cuts along a batten on its far side, first to last: the last along the batten, each earlier one
    a piece of packing nearer to the face the batten is measured from."""
    base, cutter = card.figures.get("base-width"), card.settings.get("cutter")
    if base is None or cutter is None:
        raise NoCut("the width of the router's base or of its cutter is not known")
    far = card.settings["batten"] - (base - cutter) / 2
    passes, each = round(card.setting("passes", 1)), card.setting("packing", 0.0)
    return [(far - pieces * each - cutter, far - pieces * each) for pieces in reversed(range(passes))]


def _trough(card: Card, marks: Trough, lie: Lie, piece: Workpiece) -> Cut:
    """A channel along the fence, or between gauge lines where nothing guides it."""
    beside = lie.against if lie.against is not None and "fence" in card.settings else marks.beside
    opened = _entered(lie, marks.face)
    if lie.tool == "fence" and opened == lie.against:
        # Its height is set from the table.
        beside = lie.down
    if axis_of(opened) == axis_of(beside):
        raise NoCut(f"the {opened} is worked and the {beside} guides it: they do not meet")
    deep = card.setting("height", card.setting("depth", marks.depth))
    depth, floor = _sunk(piece, opened, deep)
    run = next(axis for axis in AXES if axis not in (axis_of(opened), axis_of(beside)))
    along = list(piece.spans[run])
    along = [along[0] - OVER, along[1] + OVER]
    for face, gap in marks.stops:
        if gap and axis_of(face) == run:
            along[is_high(face)] = piece.level(face) - sign_of(face) * gap
    if marks.reach is not None and axis_of(marks.reach[0]) == run:
        face = marks.reach[0]
        along[not is_high(face)] = piece.level(face) - sign_of(face) * card.setting("reach", marks.reach[1])
    if along[0] >= along[1]:
        raise NoCut("what is set out leaves nothing to cut")
    pitch = card.setting("pitch", marks.pitch)
    strips = [
        (near + number * pitch, far + number * pitch) for number in range(marks.count) for near, far in _strips(card, marks)
    ]
    # An end that stands against a high fence is no channel beside it.
    fenced = lie.tool == "below" and beside == lie.against and card.kind != "dovetail-end"
    guided = lie.tool == "above" and "packing" in card.settings
    passes = tuple(strips) if guided or (fenced and "fence" in card.settings) else ()
    if any(marks.leans):
        leaning = [_leaning(card, marks, piece, beside, opened, strip) for strip in strips]
        bodies = [prism(run, [outline], along[0], along[1]) for outline in leaning]
        for near, far in _cleared(card):
            clear = {axis_of(beside): piece.inside(beside, near, far)}
            height = {axis_of(opened): _sunk(piece, opened, card.setting("clearing", 0.0))[0]}
            bodies.append(block_of({run: (along[0], along[1]), **clear, **height}))
        return Cut(joined(bodies), opened, floor, passes=passes)
    depths = [depth, _sunk(piece, opposite(opened), deep)[0]] if marks.twin else [depth]
    bodies = []
    for near, far in strips:
        low, high = piece.inside(beside, near, far)
        across = _open_sides(piece, axis_of(beside), (low, high))
        bodies += [block_of({run: (along[0], along[1]), axis_of(beside): across, axis_of(opened): each}) for each in depths]
    # Under a cut from both faces the wood is what stays between them, which the finished piece is held against.
    return Cut(joined(bodies), opened, None if marks.twin else floor, passes=passes)


def _leaning(
    card: Card, marks: Trough, piece: Workpiece, beside: FaceName, opened: FaceName, strip: Span
) -> list[tuple[float, float]]:
    """The section of a channel whose sides lean outwards below the face, square to its run; it stands a little over the face.
    A cutter of that shape is set by where it is widest, at the floor."""
    depth = card.setting("height", card.setting("depth", marks.depth))
    slopes = [tan(radians(card.setting("angle", lean))) if lean else 0.0 for lean in marks.leans]
    over = -OVER
    low, high = piece.spans[axis_of(opened)]
    down = depth if depth < high - low - 1e-6 else high - low + OVER
    near, far = strip
    if "cutter" in card.settings:
        near, far = near + depth * slopes[0], far - depth * slopes[1]
    corners = [
        (near - over * slopes[0], over),
        (far + over * slopes[1], over),
        (far + down * slopes[1], down),
        (near - down * slopes[0], down),
    ]
    if corners[0][0] >= corners[1][0]:
        raise NoCut("the sides of the cut meet below its face")
    first = others(next(axis for axis in AXES if axis not in (axis_of(opened), axis_of(beside))))[0]
    top = piece.spans[axis_of(opened)][is_high(opened)]
    outline = []
    for across, into in corners:
        side, level = piece.level(beside) - sign_of(beside) * across, top - sign_of(opened) * into
        outline.append((side, level) if axis_of(beside) == first else (level, side))
    return outline


def _between(piece: Workpiece, lines: Between, width: float | None = None) -> Span:
    """The stretch between two lines; the second is as far from the first as the tool is wide, if a tool sets that."""
    far = lines.far if width is None else lines.near + width
    return piece.inside(lines.face, lines.near, far)


def _window(card: Card, marks: Window, lie: Lie, piece: Workpiece) -> Cut:
    """An opening between two pairs of lines; a chisel that is set gives its width on the narrower side."""
    opened = _entered(lie, marks.face)
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
    down, floor = _sunk(piece, opened, depth)
    first, second = others(axis_of(opened))
    spans = {axis: _open_sides(piece, axis, span) for axis, span in spans.items()}
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


def _plunges(card: Card, marks: Plunges, lie: Lie, piece: Workpiece) -> Cut:
    """Slots by a disc that is plunged in to its depth stop: the part of the disc below the face."""
    opened = _entered(lie, marks.face)
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


def spot_at(piece: Workpiece, spot: Spot) -> dict[Axis, float]:
    """Where a spot lies on a piece, along the two axes of its face."""
    return {axis_of(face): piece.level(face) - sign_of(face) * distance for face, distance in spot}


def _spots(card: Card, marks: Spots, lie: Lie, piece: Workpiece) -> Cut:
    """Round holes by the bit and the depth stop, with the point of the bit below a blind hole."""
    opened = _entered(lie, marks.face)
    axis, sign = axis_of(opened), sign_of(opened)
    if axis != axis_of(marks.face):
        raise NoCut(f"it is set out on the {marks.face} and the {opened} is worked")
    radius = card.setting("bit", card.setting("clearance", marks.diameter)) / 2
    head = card.setting("countersink", marks.head_diameter) / 2 if marks.head_diameter else 0.0
    depth = card.setting("depth", marks.depth if marks.depth is not None else FAR)
    (low, high), floor = _sunk(piece, opened, depth)
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


def _line(card: Card, marks: Line, piece: Workpiece) -> Solid:
    """Everything on the waste side of a line, which runs straight on beyond its ends; outside a closed one."""
    first, second = others(marks.through)
    points = [(at[first], at[second]) for at in (spot_at(piece, spot) for spot in marks.points)]
    outer = [(-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)]
    if not marks.edges:
        return prism(marks.through, [outer, points], -FAR, FAR)
    angle = card.settings.get("angle", marks.angle) if marks.angle is not None else None
    if angle is not None:
        points = [points[0], _sloped(points[0], points[-1], marks.edges, angle, first)]
    start, stop = _on(points[1], points[0]), _on(points[-2], points[-1])
    corners = []
    for one, two in pairwise(marks.edges):
        far = {axis_of(face): FAR * sign_of(face) for face in (one, two)}
        corners.append((far[first], far[second]))
    outer = [_out(stop, marks.edges[-1], first), *reversed(corners), _out(start, marks.edges[0], first)]
    return prism(marks.through, [[start, *points, stop, *outer]], -FAR, FAR)


def _out(point: tuple[float, float], face: FaceName, first: Axis) -> tuple[float, float]:
    """The point far out beyond a face, straight across from another."""
    far = FAR * sign_of(face)
    return (far, point[1]) if axis_of(face) == first else (point[0], far)


def _on(before: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """A point far on beyond the end of a line, straight on."""
    run = end[0] - before[0], end[1] - before[1]
    size = (run[0] ** 2 + run[1] ** 2) ** 0.5
    return end[0] + run[0] / size * FAR / 4, end[1] + run[1] / size * FAR / 4


def _sloped(
    start: tuple[float, float], stop: tuple[float, float], edges: tuple[FaceName, ...], angle: float, first: Axis
) -> tuple[float, float]:
    """The end of a straight line that is set by its angle from square: as far towards the last edge as it is drawn, and by
    the tangent of the angle inwards from the first."""
    if not -STEEPEST < angle < STEEPEST:
        raise NoCut(f"no cut is {angle:g} degrees from square")
    outer, towards = edges[0], edges[-1]
    place = {True: 0, False: 1}
    along, inward = place[axis_of(towards) == first], place[axis_of(outer) == first]
    run = abs(stop[along] - start[along])
    end = [0.0, 0.0]
    end[along] = start[along] + sign_of(towards) * run
    end[inward] = start[inward] - sign_of(outer) * run * tan(radians(angle))
    return end[0], end[1]


def _edges(card: Card, marks: Edges, piece: Workpiece) -> Solid:
    """Edges taken off by a cutter or plane of the profile's size."""
    reach = card.setting("height", marks.reach)
    return joined(_edge(piece, edge, reach, marks.rounded) for edge in marks.edges)


def _edge(piece: Workpiece, edge: tuple[FaceName, FaceName], reach: float, rounded: bool) -> Solid:
    run = next(axis for axis in AXES if axis not in (axis_of(edge[0]), axis_of(edge[1])))
    first, second = others(run)
    faces = {axis_of(face): face for face in edge}
    one, two = faces[first], faces[second]
    corner = piece.level(one), piece.level(two)
    inward = piece.inside(one, 0, reach), piece.inside(two, 0, reach)
    near = inward[0][0] if is_high(one) else inward[0][1], inward[1][0] if is_high(two) else inward[1][1]
    out = corner[0] + sign_of(one) * OVER, corner[1] + sign_of(two) * OVER
    if rounded:
        signs = sign_of(one), sign_of(two)
        curve = [
            (near[0] + signs[0] * reach * cos(turn), near[1] + signs[1] * reach * sin(turn))
            for turn in (pi / 2 * number / ROUND for number in range(ROUND + 1))
        ]
    else:
        curve = [(corner[0], near[1]), (near[0], corner[1])]
    outline = [(out[0], near[1]), *curve, (near[0], out[1]), out]
    return prism(run, [outline], -FAR, FAR)


def _shoulders(card: Card, marks: Shoulders, lie: Lie, piece: Workpiece) -> Solid:
    """The end cut back to the shoulder line but for the tenon between its lines, out to the end of the wood: of a tenon left over
    length the rest is sawn as thin."""
    length = card.setting("shoulder", card.setting("distance", card.setting("fence", marks.length)))
    along = piece.inside(marks.end, 0.0, length)
    low, high = piece.spans[axis_of(marks.end)]
    along = (along[0], max(along[1], high) + OVER) if is_high(marks.end) else (min(along[0], low) - OVER, along[1])
    kept = _tenon_kept(card, marks, piece) if card.kind == "tenon" else _tongue_kept(card, marks, lie, piece)
    end = axis_of(marks.end)
    whole = dict.fromkeys(AXES, (-FAR, FAR)) | {end: along}
    sides = {axis: _open_sides(piece, axis, span) for axis, span in kept.items()}
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
    first = _entered(lie, marks.end)
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
    return prism(across, [[(corner[first], corner[second]) for corner in corners]], *_open_sides(piece, across, kept[across]))


def _profile(card: Card, marks: Profile, piece: Workpiece) -> Solid:
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


def _moulded(card: Card, marks: Moulded, piece: Workpiece, edge: tuple[FaceName, FaceName]) -> Solid:
    """One edge cut to a section by a cutter or to gauge lines: as wide and as deep as the card sets it."""
    face, side = edge
    run = next(axis for axis in AXES if axis not in (axis_of(face), axis_of(side)))
    wide = card.setting("width", marks.width) / marks.width
    deep = card.setting("height", card.setting("depth", marks.depth)) / marks.depth
    line = [(over * wide, down * deep) for over, down in marks.section]
    outline = [(-OVER, line[0][1]), *line, (line[-1][0], -OVER), (-OVER, -OVER)]
    corners = [
        {
            axis_of(side): piece.level(side) - sign_of(side) * over,
            axis_of(face): piece.level(face) - sign_of(face) * down,
        }
        for over, down in outline
    ]
    first, second = others(run)
    return prism(run, [[(corner[first], corner[second]) for corner in corners]], -FAR, FAR)


def _coped(marks: Coped, piece: Workpiece) -> Solid:
    """The end of a moulded edge under the line of what comes to stand there, sawn and filed to its lines. Where it ends with the
    wood the saw runs on over it."""
    face, side = marks.edge
    wood_ends = abs(piece.level(marks.end) - piece.spans[axis_of(marks.end)][is_high(marks.end)]) < DUST
    near = marks.start - (OVER if marks.start < DUST and wood_ends else 0.0)
    deep = marks.depth + (OVER if marks.depth > piece.size(axis_of(face)) - DUST else 0.0)
    square = max(down for _, down in marks.section) < DUST
    line = [(marks.start + marks.length - over, -OVER if square else down) for over, down in marks.section]
    outline = [*line, (near, line[-1][1]), (near, deep), (line[0][0], deep)]
    corners = [
        {
            axis_of(marks.end): piece.level(marks.end) - sign_of(marks.end) * along,
            axis_of(face): piece.level(face) - sign_of(face) * down,
        }
        for along, down in outline
    ]
    wide = marks.width + (OVER if marks.width > piece.size(axis_of(side)) - DUST else 0.0)
    sides = sorted(piece.level(side) - sign_of(side) * inward for inward in (wide, -OVER))
    first, second = others(axis_of(side))
    return prism(axis_of(side), [[(corner[first], corner[second]) for corner in corners]], *sides)
