"""Set-ups for hand tools: the piece held as its card says, the face that is worked up, the waste hatched, the sizes in place,
and which way to work. mm.

For a right-handed worker: what comes off is at the right, with the saw, and the viewer stands on that side. Of a part that is
sawn off a long piece, the part comes off: the left hand holds what is longer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of, opposite
from sequencer.model.marks import Datum, Edges, Level, Line, Off, Shoulders, Trough, measured_faces
from sequencer.paper.scene import FROM_THE_LEFT, Arrow, Scene, Thing
from sequencer.paper.set_ups.bodies import block, table
from sequencer.paper.set_ups.cramping import along_guide, cramped
from sequencer.paper.set_ups.cutting_planes import line_plane
from sequencer.paper.set_ups.framing import ON_IT, scene_of
from sequencer.paper.set_ups.guides import guide_of
from sequencer.paper.set_ups.hand_tools import (
    OFF_LINE,
    PLANE_AT,
    SAW_HIGH,
    SAW_LONG,
    SAW_THICK,
    beside_the_saw,
    comes_off_at,
    falls_free,
    fence_of,
    plane_span,
    tool_of,
)
from sequencer.paper.set_ups.holding import (
    BOARD,
    JAW,
    OVERHANG,
    WALL,
    backing_board,
    bench,
    bench_hook,
    between_stops,
    jaws,
    level_jaws,
    mitre_box,
    sticking_board,
    v_block,
    v_depth,
    v_in_vice,
)
from sequencer.paper.set_ups.lying import (
    BACK,
    DOWN,
    FROM_THE_RIGHT,
    FRONT,
    LEFT,
    RIGHT,
    UP,
    Laid,
    Span,
    around_cut,
    lay,
    possible,
    stretches,
)
from sequencer.paper.set_ups.sizing import notes_of, sizes_of, width_of
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import joined

SHOWN = 55.0
"""Wood shown beside a cut in a long piece, mm."""
TENON_JAW = 16.0
"""How high the cheeks of the vice are drawn under a tenon, which is what is looked at, mm."""

MOST_SIZES = 6
"""With more sizes than this there is no room for the names of what holds the piece: the card names it."""

Ways = Mapping[FaceName, Direction]


def by_hand(piece: Subject) -> Scene:
    """The piece as it lies for a hand tool, seen from where its measured faces and its waste show."""
    if piece.others and isinstance(piece.marks, Off):
        return _in_its_place(piece, piece.marks)
    measured = measured_faces(piece.marks) if piece.marks is not None else ()
    laid = _laid(piece, measured)
    laid = laid.shortened("x", _stretches(laid, measured))
    if laid.upright:
        foot = TENON_JAW if isinstance(piece.marks, Shoulders) else JAW + 15.0
        laid = laid.shortened("z", [*_up(laid, measured), (0.0, foot)], 0.0)
    tools = list(tool_of(laid, piece))
    sizes = sizes_of(laid)
    held = list(_held(laid, piece, tools))
    if len(sizes) > MOST_SIZES:
        held = [replace(thing, name="") for thing in held]
    arrows = (*_strokes(laid, piece), *notes_of(laid))
    return scene_of(laid, [*tools, *held], sizes=sizes, arrows=arrows)


def tenon_left(piece: Subject) -> Scene | None:
    """A tenon as the saw leaves it, the piece lying with the tenon at the right, with its width; None where it is no end of the
    piece, which is cut as it lies."""
    marks = piece.marks
    if not isinstance(marks, Shoulders) or axis_of(marks.end) != "x" or piece.waste.empty:
        return None
    thin = min(marks.keeps, key=lambda lines: lines.far - lines.near)
    laid = lay(piece, {marks.end: RIGHT, thin.face: UP})
    laid = replace(laid, looks_from=FROM_THE_RIGHT).shortened("x", around_cut(laid, "x", 0.6 * SHOWN))
    return scene_of(laid, sizes=width_of(laid, marks), gone=laid.waste)


def _in_its_place(piece: Subject, marks: Off) -> Scene:
    """An end that is trimmed when the piece is joined to others: all of it, the end up, the saw flush."""
    laid = lay(piece, {marks.face: UP}, seen=(piece.face_side,) if piece.face_side else (), either_side=True)
    others = [other.posed(laid.pose) for other in piece.others]
    whole = joined((laid.piece, *others)).bounds
    line, cut = laid.cut.low.z, laid.cut
    middle = (cut.low.y + cut.high.y) / 2
    plate = block((cut.low.x - 10.0, cut.high.x + 2 * SAW_LONG), (middle - SAW_HIGH, middle + SAW_HIGH), (line, line + SAW_THICK))
    around = [
        Thing(plate, "tool", name="saw"),
        *(Thing(other, "behind") for other in others),
        table((whole.low.x - 20.0, whole.high.x + 20.0), (whole.low.y - 20.0, whole.high.y + 20.0), whole.low.z),
    ]
    return scene_of(laid, around, sizes=sizes_of(laid))


def _laid(piece: Subject, measured: tuple[FaceName, ...]) -> Laid:
    """The piece turned as it is held."""
    lie, marks = piece.lie, piece.marks
    off = _comes_off(piece)
    ways = _gripped(piece)
    if ways is not None:
        # Before the saw in the far cheek of a tenon stand the other cheek and the end with its lines.
        return replace(lay(piece, ways), looks_from=FROM_THE_LEFT if isinstance(marks, Shoulders) else FROM_THE_RIGHT)
    if off is not None and axis_of(off) != axis_of(lie.down):
        ways = {lie.down: DOWN, off: LEFT if falls_free(piece) else RIGHT}
        return replace(lay(piece, ways), looks_from=FROM_THE_RIGHT)
    if isinstance(marks, Line) and "mitre-box" in piece.holding:
        end, side = _end_and_side(marks)
        boxed = lay(piece, {lie.down: DOWN, opposite(side): BACK})
        # The plate is seen nearly edge on from the side of the wood that stays, and hides neither that nor the waste.
        return replace(boxed, looks_from=FROM_THE_LEFT if boxed.way(end) == RIGHT else FROM_THE_RIGHT)
    down = _down(piece)
    ways = {down: DOWN}
    across = _along(piece, down)
    # A piece is always shown with the same edge in front, so that the two hands of a part are seen to be a pair.
    front = lie.against or piece.face_edge
    broad = front is not None and (piece.layout is None or _long_side(piece, front))
    if front is not None and broad and axis_of(front) not in (axis_of(down), across):
        ways[front] = FRONT
    seen = (marks.face,) if isinstance(marks, Datum | Off) else measured
    if isinstance(marks, Trough) and piece.layout is not None and piece.layout.hand is not None and lie.against is not None:
        # A channel from end to end is alike on both hands: each is seen from its own end, so that the pair is seen to be one.
        own = FROM_THE_RIGHT if piece.layout.hand == "right" else FROM_THE_LEFT
        return replace(lay(piece, ways, across=across), looks_from=own)
    return lay(piece, ways, across=across, seen=seen, either_side=True)


def _down(piece: Subject) -> FaceName:
    """The face down: what is sawn to a line under a cramp lies flat, on whatever edge its line is set out."""
    lie, marks = piece.lie, piece.marks
    cramped = isinstance(marks, Line) and "bench-cramp" in piece.holding and not piece.in_vice
    if not cramped or piece.face_side is None or axis_of(piece.face_side) == axis_of(lie.down):
        return lie.down
    return opposite(piece.face_side)


def _comes_off(piece: Subject) -> FaceName | None:
    """The face that a cut across the piece takes off."""
    marks = piece.marks
    if not isinstance(marks, Level | Datum | Off) or piece.waste.empty:
        return None
    return comes_off_at(marks) if piece.task.cut != "plane" or axis_of(comes_off_at(marks)) == "x" else None


def _gripped(piece: Subject) -> Ways | None:
    """How a piece stands in the vice to be sawn or shaped; None where it is not gripped upright."""
    marks, front = piece.marks, piece.face_side or "inside"
    if not piece.in_vice or piece.waste.empty:
        return None
    if isinstance(marks, Shoulders):
        thin = min(marks.keeps, key=lambda lines: lines.far - lines.near)
        return {opposite(marks.end): DOWN, thin.face: LEFT}
    if isinstance(marks, Edges):
        up = next((face for face in marks.edges[0] if all(face in edge for edge in marks.edges)), marks.edges[0][0])
        run = next(axis for axis in AXES if axis not in {axis_of(face) for face in marks.edges[0]})
        return None if run != axis_of(front) else {opposite(up): DOWN, front: FRONT}
    if piece.task.cut != "saw-to-line":
        return None
    if isinstance(marks, Level) and axis_of(marks.face) == "y":
        return _on_end(comes_off_at(marks), front)
    if not isinstance(marks, Line) or not marks.edges:
        return None
    if len(marks.points) > 2:
        up = marks.edges[len(marks.edges) // 2]
        return {opposite(up): DOWN, front: FRONT} if axis_of(front) == marks.through else None
    end, side = _end_and_side(marks)
    if _runs_along(piece, marks):
        return {opposite(end): DOWN, side: RIGHT}
    down = opposite(side) if marks.through == axis_of(piece.lie.down) else piece.lie.down
    return {down: DOWN, end: RIGHT}


def _on_end(off: FaceName, front: FaceName) -> Ways:
    """Standing on an end, what comes off at the right, and a face towards the viewer."""
    first: Ways = {"left": DOWN, off: RIGHT, front: FRONT}
    other: Ways = {"right": DOWN, off: RIGHT, front: FRONT}
    return next((ways for ways in (first, other) if possible(ways)), {"left": DOWN, off: RIGHT})


def _end_and_side(marks: Line) -> tuple[FaceName, FaceName]:
    """Of the faces a line takes wood off: the end, and the side where it takes more of it."""
    end = next((face for face in marks.edges if axis_of(face) == "x"), marks.edges[0])
    side = next((face for face in reversed(marks.edges) if axis_of(face) != axis_of(end)), end)
    return end, side


def _runs_along(piece: Subject, marks: Line) -> bool:
    """Whether a line of two points goes more along the piece than across it."""
    first, last = ({axis_of(face): piece.inward(face, gap) for face, gap in spot} for spot in (marks.points[0], marks.points[-1]))
    runs = {axis: abs(first[axis] - last[axis]) for axis in first}
    return runs.get("x", 0.0) > max((run for axis, run in runs.items() if axis != "x"), default=0.0)


def _along(piece: Subject, down: FaceName) -> Axis | None:
    """The axis to lie across the picture: the run of a channel from end to end, the one a size is cut along."""
    marks = piece.marks
    if isinstance(marks, Level | Datum | Off) and axis_of(marks.face) != axis_of(down):
        return axis_of(marks.face)
    if isinstance(marks, Trough) and not any(gap for _, gap in marks.stops):
        run = next(axis for axis in AXES if axis not in (axis_of(marks.face), axis_of(marks.beside)))
        return run if piece.task.cut == "plane" and run != axis_of(down) else None
    return None


def _long_side(piece: Subject, face: FaceName) -> bool:
    """Whether a face runs along the piece and is no end of it."""
    bounds = piece.bounds
    return bounds.size(axis_of(face)) < max(bounds.size("x"), bounds.size("y"))


def _stretches(laid: Laid, measured: tuple[FaceName, ...]) -> list[Span]:
    """What is shown of a long piece: the cut, and the end it is measured from; of a cut from end to end, the near end, and
    where its ends are held the other."""
    piece = laid.subject
    low, high = laid.real("x")
    wide = laid.real("y")[1] - laid.real("y")[0]
    room = max(SHOWN, 0.6 * wide)
    if laid.waste.empty:
        # Larger, so that the marks can be made out on a thin edge.
        return [(low, low + max(2 * SHOWN, wide))] if piece.layout is None else [(low, high)]
    if isinstance(piece.marks, Line) and len(piece.marks.points) > 2:
        return [(low, high)]
    if around_cut(laid, "x", room) or laid.upright:
        return stretches(laid, "x", measured, room)
    length = max(2 * SHOWN, 1.3 * wide)
    ends = 25.0 if _between(piece) else 0.0
    if laid.looks_from.x < 0:
        return [(low, low + length), (high - ends, high)]
    return [(low, low + ends), (high - length, high)]


def _up(laid: Laid, measured: tuple[FaceName, ...]) -> list[Span]:
    """What is shown of a piece that stands up: the cut, or the top of one that goes all the way down."""
    low, high = laid.real("z")
    room = 0.25 * SHOWN if isinstance(laid.subject.marks, Shoulders) else SHOWN
    if isinstance(laid.subject.marks, Line):
        # A slope is not broken: it would not meet.
        return [(laid.real_cut("z")[0] - room, high)]
    spans = stretches(laid, "z", [face for face in measured if laid.way(face) != UP], room)
    return spans if around_cut(laid, "z", room) else [*spans, (max(low, high - 1.5 * SHOWN), high)]


def _held(laid: Laid, piece: Subject, tools: Sequence[Thing]) -> Iterator[Thing]:
    """What holds the piece, and the bench."""
    if (guide := guide_of(piece)) is not None:
        yield from along_guide(laid, piece, guide)
        return
    holding, top, set_back = piece.holding, 0.0, -18.0
    if "backing-board" in holding:
        yield backing_board(laid)
        top = -BOARD
    sawn_past_end = False
    if _between(piece):
        set_back = OVERHANG if fence_of(laid) is not None else set_back
        yield from sticking_board(laid) if "sticking-board" in holding else between_stops(laid)
        top = -BOARD if "sticking-board" in holding else top
    elif piece.in_vice and _chopped_on_edge(laid, piece):
        yield from level_jaws(laid)
        return
    elif piece.in_vice and "v-block" not in holding and not laid.waste.empty:
        high = TENON_JAW if isinstance(piece.marks, Shoulders) else JAW
        yield from jaws(laid, high if laid.upright else 0.5 * laid.bounds.high.z)
        return
    elif "bench-cramp" in holding and not laid.waste.empty:
        set_back = OVERHANG if fence_of(laid) is not None else set_back
        sawn_past_end = piece.task.cut in ("crosscut", "saw-to-line") and "backing-board" not in holding
        yield from cramped(laid, top, tools)
    if piece.task.cut == "crosscut" and not laid.waste.empty:
        at, side = beside_the_saw(laid, piece)
        if "bench-hook" in holding:
            yield from bench_hook(laid, at, side)
            top = -BOARD
        if "v-block" in holding:
            yield (cradle := v_block(laid, at, side))
            if piece.in_vice:
                yield from v_in_vice(cradle)
                return
            top = v_depth(laid)
    if isinstance(piece.marks, Line) and "mitre-box" in holding:
        yield mitre_box(laid, line_plane(laid, piece.marks), piece.figure("kerf", SAW_THICK) + OFF_LINE)
        top = -WALL
    if piece.layout is not None:
        stick = laid.waste.bounds.span("x") if sawn_past_end and falls_free(piece) else None
        yield bench(laid, top, set_back=set_back, past_end=sawn_past_end, under=stick)


def _between(piece: Subject) -> bool:
    """Whether the piece lies flat under a plane, between stops or on a board with a stop."""
    return not piece.waste.empty and bool({"bench-stop", "sticking-board"} & {*piece.holding})


def _chopped_on_edge(laid: Laid, piece: Subject) -> bool:
    """Whether the piece stands on an edge or end for a chisel that goes into the one above."""
    into = piece.task.cut == "chisel" and not laid.waste.empty and laid.cut.high.z > laid.bounds.high.z - 0.01
    return into and laid.real("z")[1] > laid.real("y")[1] - laid.real("y")[0] + 0.01


def _strokes(laid: Laid, piece: Subject) -> Iterator[Arrow]:
    """Which way to work, where it matters: along a ploughed groove, down the line of a saw."""
    marks = piece.marks
    cut, top = laid.cut, laid.bounds.high.z + ON_IT
    if piece.task.cut == "plane" and isinstance(marks, Trough):
        middle = (cut.low.y + cut.high.y) / 2
        over = laid.bounds.high.y - 0.25 * (laid.bounds.high.y - middle)
        low, high = laid.bounds.span("x")
        start, stop = low + (PLANE_AT - 0.1) * (high - low), low + 0.1 * (high - low)
        yield Arrow(Point(start, over, top), Point(stop, over, top), "", True)
    elif piece.task.cut == "plane" and isinstance(marks, Level | Datum | Off) and laid.way(comes_off_at(marks)) == UP:
        middle, start = (laid.bounds.low.y + laid.bounds.high.y) / 2, plane_span(laid)[0]
        yield Arrow(Point(start - 4.0, middle, top), Point((laid.bounds.low.x + start) / 2, middle, top), "", True)
