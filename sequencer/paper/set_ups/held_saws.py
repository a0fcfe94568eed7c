"""Set-ups at saws held in the hands and under a beam: sole, batten and blade on the wood, what carries it from below. mm."""

from __future__ import annotations

from sequencer.features.base import mm
from sequencer.model.frame import Point, axis_of
from sequencer.model.marks import Datum, Level, Line, Off, measured_faces
from sequencer.paper.scene import Arrow, Scene, Size, Thing
from sequencer.paper.set_ups.bodies import block, table, upright
from sequencer.paper.set_ups.cutting_planes import CutPlane, first_stretch, square_plane, waste_side
from sequencer.paper.set_ups.framing import ON_IT, room_for, scene_of, whole_at
from sequencer.paper.set_ups.holding import cramp
from sequencer.paper.set_ups.lying import BACK, DOWN, FRONT, Laid, around_cut, lay, stretches
from sequencer.paper.set_ups.sizing import sizes_of, unit
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, hull

KERF, RADIUS, SOLE = 2.4, 80.0, 120.0
"""Of a held circular saw whose station states none: only for the drawing."""
SHOWN = 70.0
"""Wood shown beside a cut in a long piece, mm."""
BATTEN, BATTEN_HIGH = 30.0, 14.0
SOLE_THICK, SOLE_LONG = 3.0, 150.0
CARRIER, CARRIER_HIGH, CARRIER_OFF = 30.0, 24.0, 14.0
"""Width, height and distance from the cut of the boards under a sheet; only for the drawing."""
JIGSAW_BLADE, JIGSAW_BELOW, JIGSAW_SOLE = 7.0, 20.0, (80.0, 25.0)
"""Width of a jigsaw's blade, how far it comes out below, and its sole: along, and to either side; only for the drawing."""
NOZZLE, NOZZLE_OFF = 7.0, 4.0
"""Radius of a laser's nozzle at its top, and how far its tip stands above the sheet; only for the drawing."""


def held_circular_saw(piece: Subject) -> Scene:
    """The batten on the side that is kept, the saw's sole along it and over the line, boards under both sides of the cut."""
    lie, marks = piece.lie, piece.marks
    own = axis_of(marks.face) if isinstance(marks, Level | Datum | Off) else None
    laid = lay(piece, {lie.down: DOWN}, across=own)
    at, side = waste_side(laid, "x")
    sole, kerf = piece.figure("sole", SOLE), piece.figure("kerf", KERF)
    batten = at - side * sole
    ends = [laid.level(marks.face)] if isinstance(marks, Level) else []
    spans = [(min(batten, at) - BATTEN - 20.0, max(batten, at) + SHOWN), *((end - 20.0, end + 20.0) for end in ends)]
    laid = laid.shortened("x", spans, at)
    laid = laid.shortened("y", [(laid.real("y")[0], laid.real("y")[0] + 2 * SOLE_LONG)], laid.real("y")[0])
    at, side = waste_side(laid, "x")
    batten = at - side * sole
    (front, back), thick = laid.bounds.span("y"), laid.bounds.high.z
    radius = max(piece.figure("blade-radius", RADIUS), thick + 20.0)
    depth = piece.setting("cut-depth") or thick + 3.0
    plane = square_plane(laid, "x", at, side)
    start = (front + back) / 2
    blade = plane.disc(start - plane.at.y, thick - depth + radius, radius, kerf)
    saw = blade & block((-5000.0, 5000.0), (-5000.0, 5000.0), (-100.0, thick + 0.6 * radius))
    edge = at + side * (kerf + 25.0)
    x = (min(batten, edge), max(batten, edge))
    y = (start - 0.6 * SOLE_LONG, start + 0.4 * SOLE_LONG)
    flat = block(x, y, (thick, thick + SOLE_THICK)) - plane.sheet((-radius, radius), (0.0, 2 * radius), kerf + 1.0)
    rail = (batten - BATTEN, batten) if side > 0 else (batten, batten + BATTEN)
    around = [
        Thing(saw, "tool", name="blade", through=True),
        Thing(flat, "tool", name="sole"),
        Thing(block(rail, (front - 30.0, back + 30.0), (thick, thick + BATTEN_HIGH)), "tool", name="batten"),
        *_carriers(laid, at, side, kerf),
    ]
    sizes = [Size(Point(batten, front, thick), Point(at, front, thick), mm(sole), unit(FRONT))]
    stated = piece.setting("batten")
    if stated is not None and isinstance(marks, Level):
        end = laid.drawn("x", laid.level(marks.face))
        sizes.append(Size(Point(end, back, 0.0), Point(batten, back, 0.0), mm(stated), unit(BACK)))
    middle = at + side * (kerf + 12.0)
    top = thick + SOLE_THICK + ON_IT
    push = Arrow(Point(middle, y[0] + 5.0, top), Point(middle, y[1] - 5.0, top), "", True)
    return scene_of(laid, around, sizes=sizes, arrows=(push,), looks_from=laid.looks_from._replace(z=0.8))


def _carriers(laid: Laid, at: float, side: int, kerf: float) -> list[Thing]:
    """Boards under the work on both sides of a cut, its line between them, on the bench or the floor below."""
    (low, high), y = laid.bounds.span("x"), laid.bounds.span("y")
    near, far = at - side * CARRIER_OFF, at + side * (kerf + CARRIER_OFF)
    spans = [(near, near - side * CARRIER), (far, far + side * CARRIER)]
    found = []
    for number, (one, two) in enumerate(spans):
        x = (max(min(one, two), low), min(max(one, two), high))
        if x[1] - x[0] > 4.0:
            under = block(x, (y[0] - 8.0, y[1] + 8.0), (-CARRIER_HIGH, 0.0))
            found.append(Thing(under, "behind", name="" if number else "support"))
    return [*found, table(room_for(laid, "x", 20.0), (y[0] - 20.0, y[1] + 20.0), -CARRIER_HIGH)]


def jigsaw(piece: Subject) -> Scene:
    """The sole flat on the wood with the blade through it at the start of its line, nothing below the line."""
    laid, plane, start = _at_line(piece)
    thick = laid.bounds.high.z
    kerf = piece.figure("kerf", 1.5)
    blade = plane.sheet((start, start + JIGSAW_BLADE), (-JIGSAW_BELOW, thick + 25.0), kerf)
    long, wide = JIGSAW_SOLE
    flat = _flat(plane, (start - long + 15.0, start + 15.0), (-wide, wide), (thick, thick + SOLE_THICK))
    gap = plane.sheet((start - 4.0, start + 20.0), (thick - 1.0, thick + 10.0), kerf + 4.0)
    around = [
        Thing(blade, "tool", name="blade", through=True),
        Thing(flat - gap, "tool", name="sole"),
        *_below(laid, piece, flat.bounds.span("x")),
    ]
    push = Arrow(plane.point(start - 70.0, thick + 12.0), plane.point(start - 14.0, thick + 12.0), "", True)
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=(push,), looks_from=laid.looks_from._replace(z=0.8))


def _flat(plane: CutPlane, along: tuple[float, float], off: tuple[float, float], up: tuple[float, float]) -> Solid:
    """A level plate beside and over a cut, from its span along the cut, off it and up."""
    return hull([plane.point(a, u, o) for a in along for o in off for u in up])


def _at_line(piece: Subject) -> tuple[Laid, CutPlane, float]:
    """The piece flat, with the plane of the first stretch that is sawn and where along it the blade stands."""
    lie, marks = piece.lie, piece.marks
    if isinstance(marks, Level | Datum | Off):
        laid = lay(piece, {lie.down: DOWN}, across=axis_of(marks.face), seen=(marks.face,))
        at, side = waste_side(laid, "x")
        laid = laid.shortened("x", [(at - SHOWN, at + SHOWN)], at)
        at, side = waste_side(laid, "x")
        return laid, square_plane(laid, "x", at, side), 0.0
    measured = measured_faces(marks) if marks is not None else ()
    laid = lay(piece, {lie.down: DOWN}, seen=measured)
    if isinstance(marks, Line) and marks.edges:
        plane, start = first_stretch(laid, marks, JIGSAW_BLADE)
        return laid, plane, start
    laid = laid.shortened("x", stretches(laid, "x", measured, SHOWN) or around_cut(laid, "x", SHOWN), laid.real_cut("x")[0])
    cut = laid.cut
    return laid, CutPlane(Point(cut.low.x, (cut.low.y + cut.high.y) / 2, 0.0), Point(1.0, 0.0, 0.0)), 0.0


def _below(laid: Laid, piece: Subject, sole: tuple[float, float]) -> list[Thing]:
    """What carries the work clear of the line: boards on both sides under a sheet, else the bench under the side that stays
    with a cramp on it."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    cut, thick = laid.cut, laid.bounds.high.z
    spans = [(low, cut.low.x - CARRIER_OFF), (cut.high.x + CARRIER_OFF, high)]
    if "sheet-support" in piece.holding:
        boards = [
            Thing(block(span, (front - 8.0, back + 8.0), (-CARRIER_HIGH, 0.0)), "behind", name="" if number else "support")
            for number, span in enumerate(spans)
            if span[1] - span[0] > 4.0
        ]
        return [*boards, table((low - 20.0, high + 20.0), (front - 20.0, back + 20.0), -CARRIER_HIGH)]
    span = max(spans, key=lambda each: each[1] - each[0])
    if span[1] - span[0] > 25.0:
        x = (low - 15.0, span[1]) if span[0] == low else (span[0], high + 15.0)
        away = span[0] + 12.0 if span[0] == low else span[1] - 12.0
        return [cramp(Point(away, back - 14.0, thick), back + 18.0, 0.0), table(x, (front - 15.0, back + 18.0))]
    # The line runs from end to end: the bench carries the side away from it.
    y = (
        (cut.high.y + CARRIER_OFF, back + 18.0)
        if cut.low.y - front < back - cut.high.y
        else (front - 18.0, cut.low.y - CARRIER_OFF)
    )
    if y[1] - y[0] > 4.0:
        return [*_clear_cramp(laid, sole), table((low - 15.0, high + 15.0), y)]
    # Waste at every edge: the bench is under the middle, so that each line stands clear of it in turn.
    return [*_clear_cramp(laid, sole), table((low + 0.3 * (high - low), high - 0.3 * (high - low)), (front - 18.0, back + 18.0))]


def _clear_cramp(laid: Laid, sole: tuple[float, float]) -> list[Thing]:
    """A cramp at the far edge over wood that stays, as far from the saw's sole as may be; none where there is no such place."""
    (low, high), back, thick = laid.bounds.span("x"), laid.bounds.high.y, laid.bounds.high.z
    places = [low + 12.0 + share / 12 * (high - low - 24.0) for share in range(13)]
    free = [x for x in places if whole_at(laid, Point(x, back - 14.0, thick), 9.0) and max(sole[0] - x, x - sole[1]) > 12.0]
    far = max(free, key=lambda x: max(sole[0] - x, x - sole[1]), default=None)
    return [] if far is None else [cramp(Point(far, back - 14.0, thick), back + 18.0, 0.0)]


def laser_cutter(piece: Subject) -> Scene:
    """The sheet flat in the corner of the bed, the nozzle just above the start of the line."""
    lie, marks = piece.lie, piece.marks
    measured = measured_faces(marks) if marks is not None else ()
    laid = lay(piece, {lie.down: DOWN}, seen=measured)
    thick, cut = laid.bounds.high.z, laid.cut
    at = Point(cut.low.x, (cut.low.y + cut.high.y) / 2, 0.0)
    if isinstance(marks, Line) and marks.edges:
        plane, start = first_stretch(laid, marks, 0.0)
        at = plane.point(start, 0.0)
    tip = thick + NOZZLE_OFF
    nozzle = upright(at.x, at.y, (tip, tip + 18.0), 1.5, NOZZLE) + upright(at.x, at.y, (tip + 18.0, tip + 34.0), NOZZLE)
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    around = [
        Thing(nozzle, "tool", name="nozzle"),
        Thing(block((low - 10.0, high + 25.0), (back, back + 10.0), (0.0, thick + 4.0)), "behind", name="corner of the bed"),
        Thing(block((low - 10.0, low), (front - 25.0, back), (0.0, thick + 4.0)), "behind"),
        table((low - 25.0, high + 25.0), (front - 25.0, back + 25.0)),
    ]
    down = Arrow(Point(at.x, at.y, tip + 70.0), Point(at.x, at.y, tip + 37.0), "", True)
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=(down,), looks_from=laid.looks_from._replace(z=0.9))
