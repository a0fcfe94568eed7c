"""Set-ups for hand tools: the face that is worked up, the waste hatched, the sizes in place, and which way to work. mm."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, opposite
from sequencer.model.marks import Datum, Level, Line, Off, Spots, Trough, measured_faces
from sequencer.paper.scene import Arrow, Scene, Thing
from sequencer.paper.set_ups.bodies import block, table, twist_bit
from sequencer.paper.set_ups.cutting_planes import CutPlane, line_plane, point_of, square_plane, waste_side
from sequencer.paper.set_ups.framing import ON_IT, room_for, scene_of
from sequencer.paper.set_ups.lying import DOWN, FRONT, UP, Laid, Span, around_cut, lay, stretches
from sequencer.paper.set_ups.sizing import notes_of, sizes_of
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import joined

SHOWN = 55.0
"""Wood shown beside a cut in a long piece, mm."""
HOOK, HOOK_GAP = 20.0, 4.0
"""Height of the stop of a bench hook, and how far from the saw it ends, mm; only for the drawing."""
JAW = 30.0
"""How high the cheeks of a vice are drawn, mm."""
PLANE_AT = 0.72
"""How far along the wood a plane is drawn, of its length."""
SAW_LONG, SAW_HIGH, SAW_THICK = 35.0, 25.0, 1.0
"""How far the plate of a hand saw is drawn beyond the wood, and how high; only for the drawing."""


def by_hand(piece: Subject) -> Scene:
    """The piece as it lies for a hand tool, seen from where its measured faces show."""
    lie, marks = piece.lie, piece.marks
    down = lie.down
    measured = measured_faces(marks) if marks is not None else ()
    across = _along(piece, down)
    ways = {down: DOWN}
    # A piece is always shown with the same edge in front, so that the two hands of a part are seen to be a pair.
    front = lie.against or piece.face_edge
    if front is not None and _long_side(piece, front) and axis_of(front) not in (axis_of(down), across):
        ways[front] = FRONT
    laid = lay(piece, ways, across=across, seen=_to_see(piece, measured), either_side=True)
    upright = laid.real("z")[1] > 1.5 * (laid.real("y")[1] - laid.real("y")[0])
    laid = laid.shortened("x", _stretches(laid, measured))
    if upright:
        laid = laid.shortened("z", [*stretches(laid, "z", measured, SHOWN), (0.0, JAW + 15.0)], 0.0)
    around = list(_tool(laid, piece))
    if upright and "bench-vice" in piece.holding:
        around += _jaws(laid)
    else:
        around.append(table(room_for(laid, "x", 15.0), room_for(laid, "y", 18.0)))
    arrows = (*_strokes(laid, piece), *notes_of(laid))
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=arrows)


def _along(piece: Subject, down: FaceName) -> Axis | None:
    """The axis to lie across the picture: the run of a channel from end to end, the one a size is cut along."""
    marks = piece.marks
    if isinstance(marks, Level | Datum | Off) and axis_of(marks.face) != axis_of(down):
        return axis_of(marks.face)
    if isinstance(marks, Trough) and not any(gap for _, gap in marks.stops):
        run = next(axis for axis in AXES if axis not in (axis_of(marks.face), axis_of(marks.beside)))
        return run if piece.task.cut == "plane" and run != axis_of(down) else None
    return None


def _to_see(piece: Subject, measured: tuple[FaceName, ...]) -> tuple[FaceName, ...]:
    """The faces to be towards the viewer: of a piece sawn to length the end that comes off, else those measured from."""
    marks = piece.marks
    if isinstance(marks, Level):
        return (opposite(marks.face),)
    if isinstance(marks, Line) and marks.edges and axis_of(marks.edges[0]) == "x":
        return (marks.edges[0], *(face for face in measured if axis_of(face) != "x"))
    return (marks.face,) if isinstance(marks, Datum | Off) else measured


def _long_side(piece: Subject, face: FaceName) -> bool:
    """Whether a face runs along the piece and is no end of it."""
    bounds = piece.bounds
    return bounds.size(axis_of(face)) < max(bounds.size("x"), bounds.size("y"))


def _stretches(laid: Laid, measured: tuple[FaceName, ...]) -> list[Span]:
    """What is shown of a long piece: the cut, and the end it is measured from; of a cut from end to end, one end."""
    low, high = laid.real("x")
    wide = laid.real("y")[1] - laid.real("y")[0]
    room = max(SHOWN, 0.6 * wide)
    if laid.waste.empty:
        return [(low, high)]
    if not around_cut(laid, "x", room):
        from_left = laid.looks_from.x < 0
        length = max(2 * SHOWN, 1.3 * wide)
        return [(low, low + length) if from_left else (high - length, high)]
    return stretches(laid, "x", measured, room)


def _jaws(laid: Laid) -> list[Thing]:
    """The cheeks of the vice in front of a piece that stands up, and behind it."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    middle = (low + high) / 2
    x = (max(low - 10.0, middle - 60.0), min(high + 10.0, middle + 60.0))
    return [
        Thing(block(x, (back, back + 16.0), (0.0, JAW)), "tool"),
        Thing(block(x, (front - 16.0, front), (0.0, JAW)), "tool", name="vice"),
    ]


def _tool(laid: Laid, piece: Subject) -> Iterator[Thing]:
    """The plate of a saw in its kerf, a bit over its spot."""
    marks = piece.marks
    thick = laid.bounds.high.z
    if piece.task.cut == "crosscut" and isinstance(marks, Level | Datum | Off) and not laid.waste.empty:
        at, side = waste_side(laid, "x")
        low, high = laid.bounds.span("y")
        kerf = piece.figure("kerf", SAW_THICK)
        yield _saw(square_plane(laid, "x", at, side), (high - low) / 2, thick, kerf)
        if "bench-hook" in piece.holding:
            yield _hook(laid, at, side)
    elif isinstance(marks, Line) and len(marks.points) == 2 and piece.task.cut in ("crosscut", "saw-to-line"):
        yield from _saw_at(laid, marks)
    elif isinstance(marks, Trough) and piece.setting("fence") is not None and laid.way(marks.beside) == FRONT:
        yield from _plough(laid, piece.setting("fence") or 0.0)
    elif isinstance(marks, Spots):
        cut = laid.cut
        radius = (piece.setting("bit") or piece.setting("clearance") or marks.diameter) / 2
        (one, first), (two, second) = marks.places[0]
        at_own = {axis_of(one): piece.inward(one, first), axis_of(two): piece.inward(two, second)}
        at_own[axis_of(marks.face)] = piece.level(marks.face)
        spot = laid.at(Point(at_own["x"], at_own["y"], at_own["z"]))
        bit = twist_bit(spot.x, spot.y, max(cut.high.z, thick) + 10.0, radius, 50.0)
        yield Thing(bit, "tool", name=f"{mm(2 * radius)} mm bit")


def _hook(laid: Laid, at: float, side: int) -> Thing:
    """The stop of a bench hook, which the far edge is pressed against beside the saw."""
    x = sorted((at - side * HOOK_GAP, at - side * (HOOK_GAP + 75.0)))
    back = laid.bounds.high.y
    return Thing(block((x[0], x[1]), (back, back + 14.0), (0.0, HOOK)), "behind", name="bench hook")


def _saw(plane: CutPlane, half: float, thick: float, kerf: float) -> Thing:
    """The plate of a hand saw, half way down. The toe, away from the viewer, is narrower than the heel."""
    teeth = 0.45 * thick
    heel, toe = (-half - SAW_LONG, thick + SAW_HIGH), (half + SAW_LONG / 2, thick + SAW_HIGH / 2)
    return Thing(plane.flat(((heel[0], teeth), heel, toe, (toe[0], teeth)), kerf), "tool", name="saw")


def _saw_at(laid: Laid, line: Line) -> Iterator[Thing]:
    """The saw on a straight line that is sawn from above."""
    plane = line_plane(laid, line)
    if plane.up().z < 0.95:
        return
    start, stop = (point_of(laid, line, number) for number in (0, -1))
    half = hypot(stop.x - start.x, stop.y - start.y) / 2
    yield _saw(plane, half, laid.bounds.high.z, laid.subject.figure("kerf", SAW_THICK))


def _plough(laid: Laid, fence: float) -> Iterator[Thing]:
    """A plough or rebate plane as its iron and its fence, which bears on the near edge, with the arm between them."""
    (low, high), cut = laid.bounds.span("x"), laid.cut
    middle, front, top = low + PLANE_AT * (high - low), laid.bounds.low.y, laid.bounds.high.z
    near = front + fence if cut.low.y > front + 0.01 else front
    iron = block((middle - 4.0, middle + 4.0), (near, cut.high.y), (cut.low.z, top + 14.0))
    arm = block((middle - 4.0, middle + 4.0), (front - 6.0, cut.high.y), (top + 6.0, top + 14.0))
    guide = block((middle - 20.0, middle + 20.0), (front - 6.0, front), (0.5 * top, top + 14.0))
    yield Thing(joined((iron, arm, guide)), "tool", name="plane")


def _planed(marks: Level | Datum | Off) -> FaceName:
    """The face that comes off."""
    return opposite(marks.face) if isinstance(marks, Level) else marks.face


def _strokes(laid: Laid, piece: Subject) -> Iterator[Arrow]:
    """Which way to work, where it matters: along a ploughed groove, down the line of a saw."""
    marks = piece.marks
    cut, top = laid.cut, laid.bounds.high.z + ON_IT
    if piece.task.cut == "plane" and isinstance(marks, Trough):
        middle = (cut.low.y + cut.high.y) / 2
        over = laid.bounds.high.y - 0.25 * (laid.bounds.high.y - middle)
        low, high = laid.bounds.span("x")
        start, stop = low + 0.1 * (high - low), low + (PLANE_AT - 0.1) * (high - low)
        yield Arrow(Point(start, over, top), Point(stop, over, top), "", True)
    elif piece.task.cut == "plane" and isinstance(marks, Level | Datum | Off) and laid.way(_planed(marks)) == UP:
        middle = (laid.bounds.low.y + laid.bounds.high.y) / 2
        low, high = laid.bounds.span("x")
        yield Arrow(Point(low + 0.25 * (high - low), middle, top), Point(low + 0.75 * (high - low), middle, top), "", True)
