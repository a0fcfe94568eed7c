"""What is taken off along lines and edges: sawn to a line, chamfered, rounded over, moulded, coped. In the part's frame, mm."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians, sin, tan

from sequencer.model.frame import AXES, Axis, FaceName, axis_of, is_high, others, sign_of
from sequencer.model.marks import Coped, Edges, Line, Moulded
from sequencer.proving.cuts import DUST, FAR, OVER, ROUND, STEEPEST, Card, NoCut, spot_at
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, joined, prism


def sawn_to_line(card: Card, marks: Line, piece: Workpiece) -> Solid:
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


def taken_off_edges(card: Card, marks: Edges, piece: Workpiece) -> Solid:
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


def moulded(card: Card, marks: Moulded, piece: Workpiece, edge: tuple[FaceName, FaceName]) -> Solid:
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


def coped(marks: Coped, piece: Workpiece) -> Solid:
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
