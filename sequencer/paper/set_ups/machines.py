"""Set-ups at router table, planers, sander, drill and mortiser: cutter, fence and wood as they stand to each other. mm."""

from __future__ import annotations

from math import hypot
from typing import Literal

from sequencer.features.base import mm
from sequencer.model.frame import FaceName, Point, axis_of
from sequencer.model.marks import Edges, Line, Moulded, Spots, measured_faces
from sequencer.model.shapes import Cone, Turned
from sequencer.paper.scene import Arrow, Scene, Size, Thing
from sequencer.paper.set_ups.bodies import FAR, above, block, roller, round_cutter, table, twist_bit, upright
from sequencer.paper.set_ups.framing import ON_IT, room_for, scene_of
from sequencer.paper.set_ups.lying import BACK, DOWN, FRONT, LEFT, Laid, lay, stretches
from sequencer.paper.set_ups.sizing import sizes_of, unit
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, shape_solid

FENCE, FENCE_HIGH = 20.0, 40.0
SHOWN = 110.0
BLOCK_RADIUS = 35.0
"""Of a planer's cutter block; only for the drawing."""
DISC = 110.0
"""Radius of a sanding disc; only for the drawing."""
BELT, BOBBIN = 100.0, 20.0
"""Width of a sanding belt, radius of a bobbin; only for the drawing."""
BEARING = 13.0
"""Diameter of the bearing of a profile cutter whose card states no width."""
CRAMP_PAD, CRAMP_BAR, CRAMP_IN = 8.0, 8.0, 18.0
"""Radius of the pad of a cramp, thickness of its bar, and how far in from the edges it stands; only for the drawing."""


def router_table(piece: Subject) -> Scene:
    """The fence behind, the wood fed from right to left, its front end just over the cutter."""
    lie, marks = piece.lie, piece.marks
    ways = {lie.down: DOWN} | ({lie.against: BACK} if lie.against else {})
    laid = lay(piece, ways).touching(BACK, 0.0)
    cut = laid.real_cut("x")
    open_end = cut[0] - laid.real("x")[0] < 0.01
    height = piece.setting("height") or laid.real_cut("z")[1]
    cutter = piece.setting("cutter")
    if isinstance(marks, Edges):
        across = (cutter or 2 * marks.reach + BEARING) / 2
        bearing = max(across - marks.reach, 1.0)
        middle = bearing
        body = _profile(marks, middle, bearing)
        fence = 0.0
    elif isinstance(marks, Moulded):
        across, middle, fence = BEARING / 2 + marks.width, BEARING / 2, 0.0
        body = _section_cutter(marks, middle)
    else:
        across = (cutter or laid.real_cut("y")[1] - laid.real_cut("y")[0]) / 2
        stated = piece.setting("fence")
        fence = stated if stated is not None else -laid.real_cut("y")[1]
        # For a rebate the fence is set to the outside of the cutter, the rest of which stands inside the false fence.
        middle = across - fence if piece.task.kind == "rebate" else -fence - across
        body = upright(0.0, middle, (0.0, height), across)
    laid = laid.moved(x=-cut[0] + (0.0 if open_end else across))
    wide = laid.real("y")[1] - laid.real("y")[0]
    low = laid.real("x")[0]
    laid = laid.shortened("x", [(low, low + max(SHOWN, 1.3 * wide))], 0.0)
    x, y = room_for(laid, "x", 30.0), laid.bounds.span("y")
    x = (min(x[0], -across - 30.0), x[1])
    opening = block((-across - 4.0, across + 4.0), (-1.0, middle + across + 4.0), (-1.0, height + 30.0))
    rail = block(x, (0.0, max(FENCE, middle + across + 12.0)), (0.0, FENCE_HIGH))
    around = [
        Thing(body, "tool", name="cutter", through=True),
        Thing(rail - opening if middle + across > -2.0 else rail, "tool", name="fence"),
        table(x, (y[0] - 25.0, FENCE + 10.0)),
    ]
    sizes = [Size(Point(-across, middle, 0.0), Point(-across, middle, height), mm(height), unit(LEFT))]
    if fence:
        sizes.insert(0, Size(Point(x[0], 0.0, 0.0), Point(x[0], -fence, 0.0), mm(fence), unit(LEFT)))
    return scene_of(laid, around, sizes=sizes, arrows=(_feed_left(laid),))


def _profile(marks: Edges, middle: float, bearing: float) -> Solid:
    """A cutter for an edge, its bearing level with the fence."""
    if marks.rounded:
        return round_cutter(0.0, middle, bearing, marks.reach)
    cone = upright(0.0, middle, (0.0, marks.reach), bearing + marks.reach, bearing)
    return cone + upright(0.0, middle, (marks.reach, 2 * marks.reach + 4.0), bearing)


def _section_cutter(marks: Moulded, middle: float) -> Solid:
    """A cutter of a moulding's section standing on the table, its bearing above and level with the fence."""
    curve = [(down, BEARING / 2 + over) for over, down in reversed(marks.section)]
    return shape_solid(Turned("z", (0.0, middle), (*curve, (marks.depth + 6.0, BEARING / 2))))


def surface_planer(piece: Subject) -> Scene:
    """Two tables with the cutter block between them; the table behind it is higher by what is taken off."""
    lie = piece.lie
    ways = {lie.down: DOWN} | ({lie.against: BACK} if lie.against else {})
    laid = lay(piece, ways).touching(BACK, 0.0)
    low, high = laid.real("x")
    laid = laid.moved(x=-low - min(60.0, 0.4 * (high - low)))
    taken = laid.real_cut("z")[1] if not piece.waste.empty else 0.0
    taken = taken if taken < laid.real("z")[1] else 0.0
    laid = laid.shortened("x", [(laid.real("x")[0], laid.real("x")[0] + 2 * SHOWN)], 0.0)
    x, y = room_for(laid, "x", 35.0), room_for(laid, "y", 15.0)
    slot = 0.6 * BLOCK_RADIUS
    knives = roller((y[0], y[1] - 15.0), 0.0, taken - BLOCK_RADIUS, BLOCK_RADIUS)
    around = [
        Thing(block((x[0], -slot), (y[0], FENCE), (taken - 8.0, taken)), "table"),
        Thing(block((slot, x[1]), (y[0], FENCE), (-8.0, 0.0)), "table"),
        Thing(above(knives, -8.0), "tool", name="cutter block"),
        Thing(block(x, (0.0, FENCE), (taken, FENCE_HIGH)), "tool", name="fence"),
    ]
    gone = block((-FAR, 0.0), (-FAR, FAR), (-1.0, taken))
    return scene_of(laid, around, arrows=(_feed_left(laid),), gone=gone)


def _feed_left(laid: Laid) -> Arrow:
    """The feed along the top of the wood, from right to left."""
    (low, high), (front, back) = laid.bounds.span("x"), laid.bounds.span("y")
    middle, top = (front + back) / 2, laid.bounds.high.z + ON_IT
    return Arrow(Point(high - 12.0, middle, top), Point(high - min(75.0, 0.6 * (high - low)), middle, top), "", True)


def thicknesser(piece: Subject) -> Scene:
    """The wood on the bed under cutter block and rollers, its front end just under the knives."""
    lie = piece.lie
    laid = lay(piece, {lie.down: DOWN})
    low, high = laid.real("x")
    laid = laid.moved(x=-low - min(40.0, 0.3 * (high - low)))
    size = piece.setting("size") or laid.real_cut("z")[0]
    laid = laid.shortened("x", [(laid.real("x")[0], laid.real("x")[0] + 2 * SHOWN)], 0.0)
    x, y = room_for(laid, "x", 25.0), room_for(laid, "y", 12.0)
    knives = roller(y, 0.0, size + BLOCK_RADIUS, BLOCK_RADIUS)
    top = laid.bounds.high.z
    feeder = roller(y, 75.0, top + 15.0, 15.0)
    around = [
        Thing(knives, "tool", name="cutter block"),
        Thing(feeder, "tool", name="roller"),
        table(x, y),
    ]
    left = laid.bounds.low.x
    sizes = [Size(Point(left, y[0], 0.0), Point(left, y[0], size), mm(size), unit(LEFT))]
    gone = block((-FAR, 0.0), (-FAR, FAR), (size, FAR))
    front = laid.bounds.low.y - 18.0
    feed = Arrow(Point(laid.bounds.high.x, front, 0.0), Point(laid.bounds.high.x - 70.0, front, 0.0), "", True)
    return scene_of(laid, around, sizes=sizes, arrows=(feed,), gone=gone)


def disc_sander(piece: Subject) -> Scene:
    """The wood flat on the table, its end against the half of the disc that turns down."""
    return _sander(piece, "disc")


def belt_sander(piece: Subject) -> Scene:
    """The wood flat on the table, its end against the upright run of the belt that goes down to the table."""
    return _sander(piece, "belt")


def bobbin_sander(piece: Subject) -> Scene:
    """The wood flat on the table, the bobbin upright where the waste of a curve was, against the sawn edge."""
    laid = lay(piece, {piece.lie.down: DOWN})
    cut, top = laid.cut, laid.bounds.high.z
    middle = (cut.low.x + cut.high.x) / 2, (cut.low.y + cut.high.y) / 2
    radius = min(BOBBIN, min(cut.size("x"), cut.size("y")) / 2)
    bobbin = upright(*middle, (0.0, top + BOBBIN), radius)
    x, y = room_for(laid, "x", 30.0), room_for(laid, "y", 30.0)
    at = Point(middle[0], middle[1] - radius - ON_IT, top + BOBBIN)
    turn = Arrow(at, Point(at.x - radius - 10.0, at.y, at.z), "", True)
    return scene_of(laid, [Thing(bobbin, "tool", name="bobbin"), table(x, y)], sizes=sizes_of(laid), arrows=(turn,))


def _sander(piece: Subject, name: Literal["disc", "belt"]) -> Scene:
    lie = piece.lie
    radius = DISC
    worked = _worked_face(piece)
    ways = {lie.down: DOWN} | ({worked: BACK} if worked is not None and axis_of(worked) != axis_of(lie.down) else {})
    laid = lay(piece, ways)
    face = laid.real_cut("y")[0]
    laid = laid.moved(y=-face)
    back = laid.real("y")[0]
    laid = laid.shortened("y", [(max(back, -1.5 * SHOWN), laid.real("y")[1])], 0.0)
    cut = laid.cut
    centre = (cut.low.x + cut.high.x) / 2
    # A whole end is shown at its finished length; of a corner that is still to be rounded the tip just touches.
    whole = cut.size("x") > laid.bounds.size("x") - 0.01
    face = cut.low.y if whole else cut.high.y
    if name == "disc":
        wheel = shape_solid(Cone("y", (centre + 0.5 * radius, 0.0), face, face + 12.0, radius, radius))
    else:
        wheel = block((centre - BELT / 2, centre + BELT / 2), (face, face + 12.0), (0.0, radius))
    x, y = room_for(laid, "x", 30.0), laid.bounds.span("y")
    x = (min(x[0], centre - 0.6 * radius), max(x[1], centre + 0.6 * radius))
    around = [
        Thing(above(wheel) & block((-FAR, x[1]), (-FAR, FAR), (0.0, FAR)), "tool", name=name),
        table(x, (y[0] - 15.0, face - 1.0 if face > y[0] else face)),
    ]
    left = centre - 0.2 * radius
    turn = Arrow(Point(left, face - ON_IT, 0.7 * radius), Point(left - 5.0, face - ON_IT, 0.25 * radius), "", True)
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=(turn,))


def _worked_face(piece: Subject) -> FaceName | None:
    """The face that is sanded: where the waste comes nearest to standing at one end of the piece."""
    waste = piece.before & piece.waste
    marks = piece.marks
    if isinstance(marks, Line) and marks.edges:
        return marks.edges[0]
    if waste.empty:
        return None
    whole, cut = piece.bounds, waste.bounds
    found: list[tuple[float, FaceName]] = []
    faces: tuple[FaceName, ...] = ("left", "right", "bottom", "top")
    for face in faces:
        axis = axis_of(face)
        reach = cut.size(axis) / whole.size(axis)
        touches = abs((cut.high if face in ("right", "top") else cut.low)[0 if axis == "x" else 1] - piece.level(face)) < 0.01
        if touches:
            found.append((reach, face))
    return min(found)[1] if found else None


def pillar_drill(piece: Subject) -> Scene:
    """The bit above the first spot, the wood held in the vice or cramped down."""
    measured = measured_faces(piece.marks) if piece.marks is not None else ()
    ways = {piece.lie.down: DOWN}
    edge = piece.face_edge
    if edge is not None and axis_of(edge) != axis_of(piece.lie.down) and axis_of(edge) != "x":
        ways[edge] = FRONT
    laid = lay(piece, ways, seen=measured, either_side=True)
    spot = _spot(laid, piece)
    laid = laid.shortened("x", stretches(laid, "x", measured, 75.0), spot.x)
    spot = _spot(laid, piece)
    thick = laid.bounds.high.z
    radius = (piece.setting("bit") or piece.setting("clearance") or laid.cut.size("x")) / 2
    tip = thick + max(12.0, radius)
    top = tip + max(45.0, 2 * radius)
    bit = twist_bit(spot.x, spot.y, tip, radius, top - tip)
    sizes = sizes_of(laid)
    crowded = len(sizes) > 4
    around = [Thing(bit, "tool", name=f"{mm(2 * radius)} mm bit"), *_held(laid, piece, spot, "" if crowded else "cramp")]
    ground = -12.0 if "backing-board" in piece.holding else 0.0
    x, y = room_for(laid, "x", 20.0), room_for(laid, "y", 25.0)
    if ground:
        over = (max(laid.bounds.low.x, spot.x - 70.0), min(laid.bounds.high.x, spot.x + 70.0))
        around.append(Thing(block(over, laid.bounds.span("y"), (ground, 0.0)), "behind", name="" if crowded else "waste board"))
    around.append(table(x, y, ground))
    down = Arrow(Point(spot.x, spot.y, top + 40.0), Point(spot.x, spot.y, top + 3.0), "", True)
    higher = laid.looks_from._replace(z=0.8)
    return scene_of(laid, around, sizes=sizes, arrows=(down,), looks_from=higher)


def _spot(laid: Laid, piece: Subject) -> Point:
    """Where the first hole comes, on the table; the middle of the waste where no spots are set out."""
    marks = piece.marks
    if isinstance(marks, Spots):
        (one, first), (two, second) = marks.places[0]
        at = {axis_of(marks.face): piece.level(marks.face)}
        at |= {axis_of(one): piece.inward(one, first), axis_of(two): piece.inward(two, second)}
        there = laid.at(Point(at["x"], at["y"], at["z"]))
        return Point(there.x, there.y, 0.0)
    cut = laid.cut
    return Point((cut.low.x + cut.high.x) / 2, (cut.low.y + cut.high.y) / 2, 0.0)


def _held(laid: Laid, piece: Subject, spot: Point, cramp: str) -> list[Thing]:
    """The jaws of the drill vice on both long sides, or a cramp on a wide board."""
    low, high = laid.bounds.span("y")
    thick = laid.bounds.high.z
    if "drill-vice" in piece.holding:
        x = (max(laid.bounds.low.x, spot.x - 45.0), min(laid.bounds.high.x, spot.x + 45.0))
        front = block(x, (low - 10.0, low), (0.0, 0.7 * thick))
        back = block(x, (high, high + 10.0), (0.0, 0.7 * thick))
        return [Thing(back, "tool", name="vice"), Thing(front, "tool")]
    return _cramped(laid, spot, cramp) if "machine-clamp" in piece.holding else []


def _cramped(laid: Laid, spot: Point, name: str) -> list[Thing]:
    """A cramp over the edge of the wood, as far from the bit as may be and beside it as it is seen, clear of every hole."""
    (left, right), (front, back), thick = laid.bounds.span("x"), laid.bounds.span("y"), laid.bounds.high.z
    inset = min(CRAMP_IN, (right - left) / 4, (back - front) / 4)
    towards = laid.looks_from

    def clear(place: tuple[float, float]) -> tuple[bool, float]:
        x, y = place[0] - spot.x, place[1] - spot.y
        pad = upright(place[0], place[1], (-1.0, thick + 1.0), CRAMP_PAD + 2.0)
        beside = abs(x * towards.y - y * towards.x) / hypot(towards.x, towards.y)
        return (pad & laid.waste).empty, round(2 * beside + hypot(x, y), 3)

    x, y = max(((x, y) for y in (back - inset, front + inset) for x in (left + inset, right - inset)), key=clear)
    out = back + 2.0 if y > (front + back) / 2 else front - 2.0
    over = (y, out + CRAMP_BAR) if out > y else (out - CRAMP_BAR, y)
    stands = (out, out + CRAMP_BAR) if out > y else (out - CRAMP_BAR, out)
    bar = (x - CRAMP_BAR / 2, x + CRAMP_BAR / 2)
    pad = upright(x, y, (thick, thick + 4.0), CRAMP_PAD) + upright(x, y, (thick + 4.0, thick + 34.0), 4.0)
    return [
        Thing(pad + block(bar, over, (thick + 16.0, thick + 24.0)), "tool", name=name),
        Thing(block(bar, stands, (0.0, thick + 16.0)), "tool"),
    ]


def mortiser(piece: Subject) -> Scene:
    """The square chisel above one end of the mortise, the wood against the fence behind."""
    lie = piece.lie
    ways = {lie.down: DOWN}
    if lie.against is not None:
        ways[lie.against] = BACK
    laid = lay(piece, ways).touching(BACK, 0.0)
    measured = measured_faces(piece.marks) if piece.marks is not None else ()
    laid = laid.shortened("x", stretches(laid, "x", measured, 60.0), laid.real_cut("x")[0])
    cut, thick = laid.cut, laid.bounds.high.z
    chisel = piece.setting("chisel") or cut.size("y")
    middle = (cut.low.y + cut.high.y) / 2
    tip = thick + 14.0
    body = block((cut.low.x, cut.low.x + chisel), (middle - chisel / 2, middle + chisel / 2), (tip, tip + 60.0))
    x, y = room_for(laid, "x", 20.0), room_for(laid, "y", 20.0)
    around = [
        Thing(body, "tool", name="chisel"),
        Thing(block(x, (0.0, FENCE), (0.0, thick - 6.0)), "tool", name="fence"),
        table(x, (y[0], FENCE)),
    ]
    over = Point(cut.low.x + chisel / 2, middle, tip + 60.0)
    down = Arrow(over._replace(z=tip + 100.0), over._replace(z=tip + 63.0), "", True)
    return scene_of(laid, around, sizes=sizes_of(laid), arrows=(down,), looks_from=laid.looks_from._replace(z=0.8))
