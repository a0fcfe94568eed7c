"""Set-ups at circular saws and band saws: the blade at its fence or stop, with the wood at the cut. mm."""

from __future__ import annotations

from math import radians, sqrt, tan

from sequencer.design.poses import Direction
from sequencer.features.base import mm
from sequencer.model.frame import FaceName, Point, axis_of, opposite
from sequencer.model.marks import Datum, Level, Line, Off, Trough
from sequencer.paper.scene import Arrow, Scene, Size, Thing
from sequencer.paper.set_ups.bodies import FAR, above, below, block, disc, table, upright
from sequencer.paper.set_ups.cutting_planes import CutPlane, first_stretch, line_plane, square_plane, waste_side
from sequencer.paper.set_ups.framing import ON_IT, room_for, scene_of
from sequencer.paper.set_ups.lying import BACK, DOWN, FRONT, LEFT, RIGHT, Laid, Span, lay, possible
from sequencer.paper.set_ups.sizing import notes_of, sizes_of, unit
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, prism

KERF, RADIUS = 3.0, 125.0
"""Of a blade whose station states neither: only for the drawing."""
FENCE, FENCE_HIGH = 20.0, 40.0
STOP = 18.0
SHOWN = 70.0
"""Wood shown on either side of a cut in a long piece, mm."""
BEFORE = 45.0
"""Wood shown before and behind the blade of a saw bench, mm."""
BAND = 12.0
"""Width of a band-saw blade, front to back; only for the drawing."""
SCROLL = 3.0
"""The same of a scroll-saw blade."""
GUARD, GUARD_GAP = 30.0, 6.0
"""How much of a mitre saw's guard is drawn, and how far it stands off the blade, mm."""
CLAMP_IN = 35.0
"""How far from the end that stays a clamp stands, mm."""
FROM_ABOVE = Point(-0.5, -1.0, 0.95)
"""A higher view, where something in front would hide the wood."""


def saw_bench(piece: Subject) -> Scene:
    """Along the fence, or across on the sled."""
    return _on_sled(piece) if piece.task.cut == "crosscut" else _along_fence(piece)


def _along_fence(piece: Subject) -> Scene:
    """The fence on the right, the wood fed away. A cut right through is shown half way; one into the underside where its
    end leaves the blade, so that it can be seen."""
    lie, marks = piece.lie, piece.marks
    kerf, radius = piece.figure("kerf", KERF), piece.figure("blade-radius", RADIUS)
    ways = {lie.down: DOWN} | ({lie.against: RIGHT} if lie.against else {})
    laid = lay(piece, ways).touching(RIGHT, 0.0)
    thick = laid.real("z")[1]
    through = laid.real_cut("z")[1] >= thick - 0.01
    height = piece.setting("height") or (thick + 5.0 if through else laid.real_cut("z")[1])
    reach = sqrt(max(radius**2 - (radius - height) ** 2, 1.0))
    laid = laid.touching(FRONT, -reach - BEFORE if through else 0.0)
    wide = laid.real("x")[1] - laid.real("x")[0]
    laid = laid.shortened("y", [(laid.real("y")[0], reach + BEFORE if through else max(2 * BEFORE, wide))], 0.0)
    if isinstance(marks, Line):
        blade = line_plane(laid, marks)
        body = above(blade.disc(-blade.at.y, (height - radius), radius, kerf))
        fence = None
    else:
        fence = piece.setting("fence")
        fence = fence if fence is not None else -laid.real_cut("x")[1]
        body = above(disc((-fence - kerf, -fence), 0.0, height - radius, radius))
    y = room_for(laid, "y", 25.0)
    x = laid.bounds.span("x")
    fence_end = -reach + 4.0 if through and fence is not None else y[1]
    around = [
        Thing(body, "tool", name="blade", through=True),
        Thing(block((0.0, FENCE), (y[0], fence_end), (0.0, FENCE_HIGH)), "tool", name="fence"),
        table((x[0] - 30.0, FENCE + 15.0), y),
    ]
    sizes, gone = [], None
    if fence is not None:
        knife = piece.figure("knife", 0.85 * kerf)
        middle = -fence - kerf / 2
        around.append(Thing(_knife(middle, knife, radius, height, y[1]), "tool", name="riving knife"))
        front = y[0]
        sizes.append(Size(Point(0.0, front, 0.0), Point(-fence, front, 0.0), mm(fence), unit(FRONT)))
        if through:
            gone = block((-fence - kerf, -fence), (0.0, FAR), (-1.0, FAR))
    left = min(x[0], body.bounds.low.x)
    sizes.append(Size(Point(left, 0.0, 0.0), Point(left, 0.0, height), mm(height), unit(LEFT)))
    middle_x = (x[0] + x[1]) / 2
    length = min(60.0, 0.4 * (laid.bounds.high.y - laid.bounds.low.y))
    start = laid.bounds.low.y + (0.35 * length if not through else 8.0)
    feed = Arrow(Point(middle_x, start, thick + ON_IT), Point(middle_x, start + length, thick + ON_IT), "", True)
    if fence is not None and through:
        feed = _shifted(feed, -fence / 2 - middle_x)
    return scene_of(laid, around, sizes=sizes, arrows=(feed,), gone=gone)


def _shifted(arrow: Arrow, x: float) -> Arrow:
    start, stop = (Point(end.x + x, end.y, end.z) for end in (arrow.start, arrow.stop))
    return Arrow(start, stop, arrow.label, arrow.heavy)


def _knife(x: float, thick: float, radius: float, height: float, end: float) -> Solid:
    """A riving knife: a ring close behind the blade, just below its highest tooth."""
    across = (x - thick / 2, x + thick / 2)
    centre = height - radius
    ring = disc(across, 0.0, centre, radius + 28.0) - disc((x - 9.0, x + 9.0), 0.0, centre, radius + 5.0)
    behind = block((x - 9.0, x + 9.0), (10.0, max(end, 11.0)), (0.0, height - 1.0))
    return ring & behind


def _on_sled(piece: Subject) -> Scene:
    """The sled's back in front of the wood, no higher than it here, for the crown guard passes over both; sled and wood are
    pushed away, past the blade."""
    laid, at, side = _across(piece, FRONT)
    kerf, radius = piece.figure("kerf", KERF), piece.figure("blade-radius", RADIUS)
    thick = laid.real("z")[1]
    height = piece.setting("height") or thick + 12.0
    plane = square_plane(laid, "x", at, side)
    blade = above(plane.disc(0.0, height - radius, radius, kerf))
    x, y = room_for(laid, "x", 25.0), room_for(laid, "y", 20.0)
    back = block(x, (-14.0, 0.0), (0.0, thick)) - block(_kerf(at, side, kerf + 1.0), (-20.0, 5.0), (-1.0, FAR))
    around = [
        Thing(blade, "tool", name="blade"),
        Thing(back, "tool", name="sled"),
        table(x, (-80.0, y[1])),
        *_stop(laid, piece, thick, front=True),
    ]
    gone = block(_kerf(at, side, kerf), (plane.at.y, FAR), (-1.0, FAR))
    sizes = _stop_size(laid, piece, at, y[1], BACK)
    middle = (laid.bounds.low.x + laid.bounds.high.x) / 2
    push = Arrow(Point(middle, -70.0, 0.0), Point(middle, -18.0, 0.0), "", True)
    return scene_of(laid, around, sizes=sizes, arrows=(push,), gone=gone, looks_from=FROM_ABOVE)


def _kerf(at: float, side: int, kerf: float) -> Span:
    return (at, at + kerf) if side > 0 else (at - kerf, at)


def _across(piece: Subject, way: Direction) -> tuple[Laid, float, int]:
    """A piece that is cut to length, lying along the picture, shortened: where its kept side ends, and the waste's side."""
    lie = piece.lie
    ways = {lie.down: DOWN} | ({lie.against: way} if lie.against else {})
    marks = piece.marks
    own = axis_of(marks.face) if isinstance(marks, Level | Datum | Off) else None
    laid = lay(piece, ways, across=own).touching(way, 0.0)
    at, side = _kept_end(laid, piece)
    stretches = [(at - SHOWN, at + SHOWN)]
    if isinstance(marks, Line):
        start, stop = laid.real_cut("x")
        stretches.append((start - SHOWN / 2, stop + SHOWN / 2))
    if lie.stop is not None:
        end = laid.level(lie.stop)
        stretches.append((end - SHOWN, end + SHOWN))
    laid = laid.shortened("x", stretches, at)
    return laid, at, side


def _kept_end(laid: Laid, piece: Subject) -> tuple[float, int]:
    """Where the kept side ends along the picture: the distance of the stop from its block, or where the waste begins."""
    lie, stop = piece.lie, piece.setting("stop")
    if lie.stop is not None and stop is not None:
        way = laid.way(lie.stop)
        return laid.level(lie.stop) - way.sign * stop, -way.sign
    return waste_side(laid, "x")


def _stop(laid: Laid, piece: Subject, thick: float, *, front: bool) -> list[Thing]:
    """The stop block at the end of the wood, against the fence or the back of the sled."""
    lie = piece.lie
    if lie.stop is None:
        return []
    way = laid.way(lie.stop)
    end = laid.drawn("x", laid.level(lie.stop))
    x = (end, end + STOP) if way.sign > 0 else (end - STOP, end)
    low, high = laid.bounds.span("y")
    deep = min(30.0, high - low)
    y = (low, low + deep) if front else (high - deep, high)
    return [Thing(block(x, y, (0.0, max(thick, 15.0))), "tool", name="stop")]


def _stop_size(laid: Laid, piece: Subject, at: float, beside: float, way: Direction) -> list[Size]:
    """From the stop block to the near side of the blade."""
    lie, stop = piece.lie, piece.setting("stop")
    if lie.stop is None or stop is None:
        return []
    end = laid.drawn("x", laid.level(lie.stop))
    return [Size(Point(end, beside, 0.0), Point(at, beside, 0.0), mm(stop), unit(way))]


def mitre_saw(piece: Subject) -> Scene:
    """The wood against the fence at the back, the blade down in the cut."""
    return _at_back_fence(piece, pulled=False)


def pull_over_saw(piece: Subject) -> Scene:
    """As the mitre saw, but the blade is pulled through the wood, from behind the fence towards the viewer."""
    return _at_back_fence(piece, pulled=True)


def _at_back_fence(piece: Subject, *, pulled: bool) -> Scene:
    marks = piece.marks
    laid, at, side = _across(piece, BACK)
    kerf, radius = piece.figure("kerf", KERF), piece.figure("blade-radius", RADIUS)
    thick = laid.real("z")[1]
    plane = line_plane(laid, marks) if isinstance(marks, Line) else square_plane(laid, "x", at, side)
    rim = max(FENCE_HIGH, thick + 10.0)
    blade = below(above(plane.disc(0.0, radius, radius, kerf)), rim + GUARD)
    x = room_for(laid, "x", 25.0)
    low = laid.bounds.low.y
    slot = plane.sheet((-radius, radius), (-radius, radius), kerf + 0.6)
    fence = block(x, (0.0, FENCE), (0.0, rim)) - slot
    around = [
        Thing(blade, "tool", name="blade"),
        Thing(_guard(plane, radius, kerf, rim), "behind", name="guard"),
        *(Thing(part, "tool", name="" if number else "fence") for number, part in enumerate(fence.pieces())),
        table(x, (low - 15.0, FENCE)),
        *_stop(laid, piece, thick, front=False),
    ]
    if "machine-clamp" in piece.holding:
        around.append(_clamp(laid, side, thick, rim))
    sizes = list(_stop_size(laid, piece, at, low, FRONT)) or list(sizes_of(laid))
    over = rim + GUARD
    ends = ((0.0, over + 6.0), (-70.0, over + 6.0)) if pulled else ((0.0, over + 25.0), (0.0, over + 3.0))
    start, stop = (plane.point(along, up) for along, up in ends)
    return scene_of(laid, around, sizes=sizes, arrows=(Arrow(start, stop, "", True), *notes_of(laid)))


def _guard(plane: CutPlane, radius: float, kerf: float, rim: float) -> Solid:
    """Part of the guard about the blade, over the fence."""
    near = CutPlane(plane.point(0.0, 0.0, -GUARD_GAP), plane.towards)
    about = near.sheet((-0.5 * radius, 0.5 * radius), (0.0, 2 * radius), kerf + 2 * GUARD_GAP)
    return below(above(about, rim + 2.0), rim + GUARD)


def _clamp(laid: Laid, side: int, thick: float, rim: float) -> Thing:
    """The clamp on the wood that is kept, away from the blade, on an arm from the top of the fence."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    kept = laid.wood.bounds.span("x")
    inset = min(CLAMP_IN, (kept[1] - kept[0]) / 2)
    x = low + inset if side > 0 else high - inset
    y = back - min(30.0, (back - front) / 2)
    foot = upright(x, y, (thick, thick + 4.0), 9.0) + upright(x, y, (thick + 4.0, rim), 4.0)
    return Thing(foot + block((x - 5.0, x + 5.0), (y - 5.0, FENCE), (rim, rim + 8.0)), "tool", name="clamp")


def band_saw(piece: Subject) -> Scene:
    """The wood flat on the table, the blade at the start of its line; on a wedge, at the end of a slope."""
    if isinstance(piece.marks, Trough) and any(piece.marks.leans):
        return _on_wedge(piece, piece.marks)
    return _narrow_blade(piece, BAND, piece.figure("kerf", 1.5))


def scroll_saw(piece: Subject) -> Scene:
    """As the band saw, with the fine blade of a scroll saw."""
    return _narrow_blade(piece, SCROLL, piece.figure("kerf", 1.0))


def _narrow_blade(piece: Subject, deep: float, kerf: float) -> Scene:
    lie, marks = piece.lie, piece.marks
    fence = piece.setting("fence")
    if fence is not None and lie.against is not None:
        laid = _fed_along(piece, {lie.down: DOWN, lie.against: RIGHT})
        plane = CutPlane(Point(-fence, 0.0, 0.0), Point(-1.0, 0.0, 0.0))
        start = 0.0
    elif isinstance(marks, Line) and marks.edges:
        laid = _line_from_behind(piece, marks)
        plane, start = first_stretch(laid, marks, deep)
    elif isinstance(marks, Level | Datum | Off):
        face = marks.face
        laid = lay(piece, {lie.down: DOWN}, across=axis_of(face), seen=(face,))
        at, side = waste_side(laid, "x")
        laid = laid.shortened("x", [(at - SHOWN, at + SHOWN)], at)
        plane, start = square_plane(laid, "x", at, side), 0.0
    else:
        laid = lay(piece, {lie.down: DOWN})
        low = laid.cut.low
        plane, start = CutPlane(Point(low.x + kerf, (low.y + laid.cut.high.y) / 2, 0.0), Point(-1.0, 0.0, 0.0)), 0.0
    thick = laid.real("z")[1]
    guide = max(piece.setting("height") or 0.0, thick + 6.0)
    blade = plane.sheet((start, start + deep), (0.0, guide), kerf)
    middle = plane.point(start + deep / 2, guide, kerf / 2)
    holder = block((middle.x - 8.0, middle.x + 8.0), (middle.y - 8.0, middle.y + 8.0), (guide, guide + 14.0))
    x, y = room_for(laid, "x", 20.0), room_for(laid, "y", 20.0)
    around = [Thing(blade, "tool", name="blade"), Thing(holder, "tool", name="guide" if deep > SCROLL else "")]
    sizes: list[Size] = []
    if fence is not None and lie.against is not None:
        around.append(Thing(block((0.0, FENCE), y, (0.0, min(FENCE_HIGH, thick + 8.0))), "tool", name="fence"))
        sizes.append(Size(Point(0.0, y[0], 0.0), Point(-fence, y[0], 0.0), mm(fence), unit(FRONT)))
        x = (x[0], FENCE + 10.0)
        if _into_end(piece):
            end = laid.bounds.high.y
            around.append(Thing(block((-STOP, 0.0), (end, end + STOP), (0.0, thick)), "tool", name="stop"))
            sizes.append(Size(Point(x[0], 0.0, 0.0), Point(x[0], end, 0.0), mm(end), unit(LEFT)))
    else:
        sizes += sizes_of(laid)
    around.append(table(x, y))
    feed = Arrow(plane.point(start - 60.0, thick + ON_IT), plane.point(start - 12.0, thick + ON_IT), "", True)
    if fence is not None:
        feed = _shifted(feed, fence / 2)
    return scene_of(laid, around, sizes=sizes, arrows=(feed,))


def _on_wedge(piece: Subject, marks: Trough) -> Scene:
    """Tails: board and wedge beside the fence, which both lean as the slope does, the end that leads at the stop."""
    depth, kerf = marks.depth, piece.figure("kerf", 1.5)
    laid = lay(piece, _either_face_down({piece.lie.down: DOWN, marks.beside: RIGHT, marks.face: BACK}))
    laid = laid.touching(RIGHT, 0.0).touching(BACK, depth).shortened("y", [(-2 * SHOWN, depth)], 0.0)
    slope = tan(radians(marks.leans[0]))
    across = marks.distance + marks.width + slope * depth
    long = sqrt(1.0 + slope**2)
    plane = CutPlane(Point(-across, 0.0, 0.0), Point(1.0 / long, -slope / long, 0.0))
    thick, (front, back) = laid.real("z")[1], laid.bounds.span("y")
    guide = thick + 6.0
    middle = plane.point(BAND / 2, guide, kerf / 2)
    holder = block((middle.x - 8.0, middle.x + 8.0), (middle.y - 8.0, middle.y + 8.0), (guide, guide + 14.0))

    def leaning(near: float, far: float, end: float, high: float) -> Solid:
        corners = [(near, front), (far, front), (far + slope * (end - front), end)]
        return prism("z", [[*corners, (0.0 if near == 0.0 else near + slope * (end - front), end)]], 0.0, high)

    wedge, end, stop = 15.0, back - 10.0, 10.0
    edge = wedge + slope * (back - front)
    around = [
        Thing(plane.sheet((0.0, BAND), (0.0, guide), kerf), "tool", name="blade"),
        Thing(holder, "tool", name="guide"),
        Thing(leaning(0.0, wedge, end, thick), "tool", name="wedge"),
        Thing(leaning(wedge, wedge + FENCE, back + 25.0, thick + 8.0), "tool", name="fence"),
        Thing(block((-STOP, stop), (back, back + STOP), (0.0, thick)), "tool", name="stop"),
        table((laid.bounds.low.x - 20.0, edge + FENCE + 20.0), (front - 15.0, back + 30.0)),
    ]
    feed = Arrow(plane.point(-60.0, thick + ON_IT), plane.point(-12.0, thick + ON_IT), "", True)
    left = laid.bounds.low.x
    size = Size(Point(left, 0.0, thick), Point(left, back, thick), mm(depth), unit(LEFT))
    return scene_of(laid, around, sizes=[size], arrows=(feed,))


def _either_face_down(ways: dict[FaceName, Direction]) -> dict[FaceName, Direction]:
    """The piece with the other broad face down where fence and end ask for it: it is all one to a cut right through."""
    if possible(ways):
        return ways
    return {opposite(face) if way == DOWN else face: way for face, way in ways.items()}


def _into_end(piece: Subject) -> bool:
    """Whether a kerf along the fence goes into an end and stops."""
    return isinstance(piece.marks, Trough) and axis_of(piece.marks.face) not in map(axis_of, (piece.lie.down, piece.marks.beside))


def _fed_along(piece: Subject, ways: dict[FaceName, Direction]) -> Laid:
    """The piece beside the fence: half way through a cut that goes on, at the stop where it goes into the end that leads."""
    if isinstance(piece.marks, Trough) and _into_end(piece):
        depth = piece.setting("depth") or piece.marks.depth
        laid = lay(piece, _either_face_down(ways | {piece.marks.face: BACK})).touching(RIGHT, 0.0).touching(BACK, depth)
        return laid.shortened("y", [(-2 * SHOWN, depth)], 0.0)
    laid = lay(piece, ways).touching(RIGHT, 0.0).touching(FRONT, -SHOWN)
    return laid.shortened("y", [(-SHOWN, 2 * SHOWN)], 0.0)


def _line_from_behind(piece: Subject, marks: Line) -> Laid:
    """The piece with the edge where its line starts towards the blade, away from the viewer, who pushes it there."""
    lie = piece.lie
    edge = marks.edges[0]
    ways = {lie.down: DOWN}
    if axis_of(edge) != axis_of(lie.down):
        ways[edge] = BACK
    return lay(piece, ways)
