"""What is set out for a feature: figures worked by hand, and the proof that marks and shapes say the same part.

The marks of a feature and the shapes it removes are worked out apart. Here the marks are made solid by what
`sequencer.model.marks` says they mean and by nothing else, and what is left of the block is held against the part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple, replace
from itertools import pairwise
from math import acos, cos, hypot, pi, radians, sin, tan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from sequencer.design.bodies import Body
from sequencer.features import Feature, feature_kinds
from sequencer.model.frame import AXES, Axis, Block, FaceName, axis_of, is_high, opposite, others, sign_of
from sequencer.model.job import Part
from sequencer.model.marks import (
    Between,
    Coped,
    Corner,
    Edges,
    Haunch,
    Line,
    Marks,
    Moulded,
    Plunges,
    Profile,
    Ramp,
    Shoulders,
    Spot,
    Spots,
    Trough,
    Window,
    measured_faces,
    mirrored_marks,
)
from sequencer.model.shapes import Cone
from sequencer.reading.job import read_job
from sequencer.solid.parts import part_solid
from sequencer.solid.solids import Solid, block_solid, box, hull, joined, prism, shape_solid

from .legal import features
from .samples import BOARD, all_samples, block_of, make

Flat = tuple[float, float]
Span = tuple[float, float]

ROOT = Path(__file__).resolve().parents[2]
SAME = 0.5
"""What two solids may differ by and still be the same, mm3: rounding."""
THINGS = sorted([*ROOT.glob("examples/*/job.yaml"), *ROOT.glob("tests/cases/*.yaml")])
FAR = 5000.0
"""Beyond everything, mm."""


# What the marks mean, made solid.


def plane(block: Block, face: FaceName, distance: float) -> float:
    """Where the plane so far inside a face cuts its axis."""
    return block.size(axis_of(face)) - distance if is_high(face) else distance


def between(block: Block, lines: Between) -> Span:
    low, high = sorted((plane(block, lines.face, lines.near), plane(block, lines.face, lines.far)))
    return low, high


def down(block: Block, face: FaceName, depth: float | None) -> Span:
    return between(block, Between(face, 0.0, block.size(axis_of(face)) if depth is None else depth))


def square(spans: dict[Axis, Span]) -> Solid:
    return box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])


def quarter(corner: Flat, inwards: Flat, radius: float) -> list[Flat]:
    """What a quarter round leaves of the corner of a square: the corner, then the curve from one side to the other."""
    centre = corner[0] + inwards[0] * radius, corner[1] + inwards[1] * radius
    turns = (pi / 2 * number / 16 for number in range(17))
    return [corner, *((centre[0] - inwards[0] * radius * cos(t), centre[1] - inwards[1] * radius * sin(t)) for t in turns)]


def trough_solid(block: Block, marks: Trough) -> Solid:
    if any(marks.leans):
        return joined(leaning_solid(block, marks, number * marks.pitch) for number in range(marks.count))
    each = replace(marks, count=1)
    if marks.count > 1:
        moved = (replace(each, distance=marks.distance + number * marks.pitch) for number in range(marks.count))
        return joined(trough_solid(block, one) for one in moved)
    run = next(axis for axis in AXES if axis not in (axis_of(marks.face), axis_of(marks.beside)))
    along = [0.0, block.size(run)]
    for face, gap in marks.stops:
        along[is_high(face)] = plane(block, face, gap)
    into = down(block, marks.face, marks.depth)
    faces = [into, down(block, opposite(marks.face), marks.depth)] if marks.twin else [into]
    across = between(block, Between(marks.beside, marks.distance, marks.distance + marks.width))
    spans: dict[Axis, Span] = {run: (along[0], along[1]), axis_of(marks.beside): across}
    return joined(square(spans | {axis_of(marks.face): each}) for each in faces)


def leaning_solid(block: Block, marks: Trough, moved: float) -> Solid:
    run = next(axis for axis in AXES if axis not in (axis_of(marks.face), axis_of(marks.beside)))
    along = [0.0, block.size(run)]
    for face, gap in marks.stops:
        along[is_high(face)] = plane(block, face, gap)
    if marks.reach is not None:
        low, high = between(block, Between(marks.reach[0], 0.0, marks.reach[1]))
        along = [low, high]
    first, _ = others(run)
    near, far = marks.distance + moved, marks.distance + moved + marks.width
    outs = [marks.depth * tan(radians(lean)) for lean in marks.leans]
    corners = [(near, 0.0), (far, 0.0), (far + outs[1], marks.depth), (near - outs[0], marks.depth)]
    outline = []
    for across, into in corners:
        spot = {axis_of(marks.beside): plane(block, marks.beside, across), axis_of(marks.face): plane(block, marks.face, into)}
        outline.append((spot[first], spot[others(run)[1]]))
    return prism(run, [outline], along[0], along[1])


def window_solid(block: Block, marks: Window) -> Solid:
    deep = axis_of(marks.face)
    first, second = others(deep)
    spans = {axis_of(lines.face): between(block, lines) for lines in marks.sides} | {deep: down(block, marks.face, marks.depth)}
    corners = []
    for corner in marks.rounded:
        one, two = sorted(corner, key=axis_of)
        outer = spans[first][is_high(one)], spans[second][is_high(two)]
        corners.append(prism(deep, [quarter(outer, (-sign_of(one), -sign_of(two)), marks.radius)], *spans[deep]))
    narrow = min(marks.sides, key=lambda lines: lines.far - lines.near)
    ramps = [ramp_solid(block, each, spans[axis_of(narrow.face)]) for each in marks.ramps]
    body = square(spans) - joined(corners) if corners else square(spans)
    return joined([body, *ramps])


def spots_solid(block: Block, marks: Spots) -> Solid:
    deep, bodies = axis_of(marks.face), []

    def bored(place: Spot, depth: float | None, mouth: float, floor: float) -> Solid:
        at = {axis_of(face): plane(block, face, distance) for face, distance in place}
        first, second = others(deep)
        ends = (floor, mouth) if is_high(marks.face) else (mouth, floor)
        low, high = down(block, marks.face, depth)
        return shape_solid(Cone(deep, (at[first], at[second]), low, high, ends[0] / 2, ends[1] / 2))

    for place in marks.places:
        bodies.append(bored(place, marks.depth, marks.diameter, marks.diameter))
        if marks.head_diameter:
            narrow = marks.diameter if marks.conical else marks.head_diameter
            bodies.append(bored(place, marks.head_depth, marks.head_diameter, narrow))
    return joined(bodies)


def line_points(block: Block, marks: Line) -> list[Flat]:
    """The points along the two axes the line lies in; the second by the angle where one is set."""
    spots = [{axis_of(face): plane(block, face, distance) for face, distance in spot} for spot in marks.points]
    if marks.angle is not None:
        outer, towards = marks.edges[0], marks.edges[-1]
        start, run = spots[0], abs(spots[1][axis_of(towards)] - spots[0][axis_of(towards)])
        spots[1] = {
            axis_of(towards): start[axis_of(towards)] + sign_of(towards) * run,
            axis_of(outer): start[axis_of(outer)] - sign_of(outer) * run * tan(radians(marks.angle)),
        }
    first, second = others(marks.through)
    return [(spot[first], spot[second]) for spot in spots]


def straight_on(before: Flat, end: Flat) -> Flat:
    size = hypot(end[0] - before[0], end[1] - before[1])
    return tuple(b + (b - a) / size * FAR / 10 for a, b in zip(before, end, strict=True))  # type: ignore[return-value]


def line_solid(block: Block, marks: Line) -> Solid:
    points = line_points(block, marks)
    if not marks.edges:
        everything = [(-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)]
        return prism(marks.through, [everything, points], 0.0, block.size(marks.through))
    start, stop = straight_on(points[1], points[0]), straight_on(points[-2], points[-1])
    axes = others(marks.through)

    def out(spot: Flat, face: FaceName) -> Flat:
        moved = list(spot)
        moved[axes.index(axis_of(face))] = FAR * sign_of(face)
        return moved[0], moved[1]

    corners = [out(out((0.0, 0.0), one), two) for one, two in pairwise(marks.edges)]
    outline = [start, *points, stop, out(stop, marks.edges[-1]), *reversed(corners), out(start, marks.edges[0])]
    return prism(marks.through, [outline], 0.0, block.size(marks.through))


def edges_solid(block: Block, marks: Edges) -> Solid:
    bodies = []
    for edge in marks.edges:
        one, two = sorted(edge, key=axis_of)
        corner, inwards = (plane(block, one, 0.0), plane(block, two, 0.0)), (-sign_of(one), -sign_of(two))
        flat = [
            corner,
            *((corner[0] + a * marks.reach, corner[1] + b * marks.reach) for a, b in ((inwards[0], 0), (0, inwards[1]))),
        ]
        run = next(axis for axis in AXES if axis not in (axis_of(one), axis_of(two)))
        outline = quarter(corner, inwards, marks.reach) if marks.rounded else flat
        bodies.append(prism(run, [outline], 0.0, block.size(run)))
    return joined(bodies)


def plunges_solid(block: Block, marks: Plunges) -> Solid:
    deep = axis_of(marks.face)
    across = next(axis for axis in AXES if axis not in (deep, marks.along))
    discs = []
    for place in marks.places:
        at = {axis_of(face): plane(block, face, distance) for face, distance in place}
        radius, centre = marks.diameter / 2, marks.depth - marks.diameter / 2
        half = acos(-centre / radius)
        turns = [half * (number / 16 - 1) for number in range(33)]
        rim = [(at[marks.along] + radius * sin(t), plane(block, marks.face, centre + radius * cos(t))) for t in turns]
        outline = rim if marks.along < deep else [(b, a) for a, b in rim]
        discs.append(prism(across, [outline], at[across] - marks.width / 2, at[across] + marks.width / 2))
    return joined(discs)


def ramp_solid(block: Block, ramp: Ramp, across: Span) -> Solid:
    along, into = axis_of(ramp.side), axis_of(ramp.face)
    run = next(axis for axis in AXES if axis not in (along, into))
    near, far = plane(block, ramp.side, ramp.near), plane(block, ramp.side, ramp.far)
    mouth = plane(block, ramp.face, -0.0)
    corners = [(near, mouth), (near, plane(block, ramp.face, ramp.deep)), (far, plane(block, ramp.face, ramp.shallow))]
    corners += [(far, mouth)] if ramp.shallow else []
    outline = corners if along < into else [(b, a) for a, b in corners]
    return prism(run, [outline], *across)


def haunch_solid(block: Block, marks: Shoulders, cheek: Span, edge: Span) -> Solid:
    haunch = marks.haunch
    assert haunch is not None
    shoulder, tip = plane(block, marks.end, marks.length), plane(block, marks.end, marks.length - haunch.out)
    inner, outer = edge[is_high(haunch.side)], plane(block, haunch.side, 0.0)
    corners = [(shoulder, inner), (tip, inner), *([] if haunch.sloping else [(tip, outer)]), (shoulder, outer)]
    return prism("z", [corners], *cheek)


def shoulders_solid(block: Block, marks: Shoulders) -> Solid:
    end, along = axis_of(marks.end), down(block, marks.end, marks.length)
    whole: dict[Axis, Span] = {axis: (0.0, block.size(axis)) for axis in AXES} | {end: along}
    stays = whole | {axis_of(lines.face): between(block, lines) for lines in marks.keeps}
    waste = square(whole) - square(stays)
    return waste if marks.haunch is None else waste - haunch_solid(block, marks, stays["z"], stays["y"])


def moulded_solid(block: Block, marks: Moulded, edge: tuple[FaceName, FaceName]) -> Solid:
    face, side = edge
    run = next(axis for axis in AXES if axis not in (axis_of(face), axis_of(side)))
    line = [(plane(block, side, over), plane(block, face, down)) for over, down in ((0.0, 0.0), *marks.section)]
    outline = line if axis_of(side) < axis_of(face) else [(b, a) for a, b in line]
    return prism(run, [outline], 0.0, block.size(run))


def coped_solid(block: Block, marks: Coped) -> Solid:
    face, side = marks.edge
    far = marks.start + max(over for over, _ in marks.section)
    corners = [*((far - over, below) for over, below in marks.section), (marks.start, marks.depth), (far, marks.depth)]
    line = [(plane(block, marks.end, along), plane(block, face, below)) for along, below in corners]
    outline = line if axis_of(marks.end) < axis_of(face) else [(b, a) for a, b in line]
    return prism(axis_of(side), [outline], *down(block, side, marks.width))


def profile_solid(block: Block, marks: Profile) -> Solid:
    """Frusta between neighbouring stations, as hulls of rings of 48 corners."""
    middle = block.width / 2, block.thickness / 2
    turns = [pi / 24 * number for number in range(48)]
    rings = [
        [(plane(block, marks.end, at), middle[0] + across / 2 * cos(t), middle[1] + across / 2 * sin(t)) for t in turns]
        for at, across in marks.stations
    ]
    kept = [hull([*one, *two]) for one, two in pairwise(rings) if one[0][0] != two[0][0]]
    ends = sorted(plane(block, marks.end, marks.stations[number][0]) for number in (0, -1))
    return square({"x": (ends[0], ends[1]), "y": (0.0, block.width), "z": (0.0, block.thickness)}) - joined(kept)


def corner_solid(block: Block, marks: Corner) -> Solid:
    run = axis_of(marks.beside)
    legs = [(0.0, 0.0), (marks.length, 0.0), (0.0, marks.length)]
    line = [(plane(block, marks.end, along), plane(block, marks.long, over)) for along, over in legs]
    low, high = sorted(plane(block, marks.beside, marks.distance + each) for each in (0.0, marks.width))
    return prism(run, [line], low, high)


def waste(block: Block, marks: Marks) -> Solid:
    """What comes off by marks."""
    if isinstance(marks, Trough):
        return trough_solid(block, marks)
    if isinstance(marks, Window):
        return window_solid(block, marks)
    if isinstance(marks, Spots):
        return spots_solid(block, marks)
    if isinstance(marks, Plunges):
        return plunges_solid(block, marks)
    if isinstance(marks, Line):
        return line_solid(block, marks)
    if isinstance(marks, Edges):
        return edges_solid(block, marks)
    if isinstance(marks, Moulded):
        return joined(moulded_solid(block, marks, edge) for edge in marks.edges)
    if isinstance(marks, Coped):
        return coped_solid(block, marks)
    if isinstance(marks, Profile):
        return profile_solid(block, marks)
    if isinstance(marks, Corner):
        return corner_solid(block, marks)
    assert isinstance(marks, Shoulders), "no feature is marked by a level or a datum"
    return shoulders_solid(block, marks)


def apart(one: Solid, other: Solid) -> float:
    """The volume that is in one of them only, mm3. A difference of bodies whose faces lie in one plane may hold skins of no
    thickness whose volume comes out wrong; what they share does not."""
    return one.volume + other.volume - 2 * (one & other).volume


def by_hand(feature: Feature, block: Block) -> Iterator[tuple[Marks, Solid]]:
    """Marks and finished piece on the left hand and on the right, of a pair that has this one feature."""
    sizes = block.length, block.width, block.thickness
    part = Part("board", "A", 2, "wood", *sizes, features={"it": feature}, handed=True)
    marks = feature.marks(block)
    for by_marks, piece in zip((marks, mirrored_marks(marks)), part.pieces, strict=True):
        yield by_marks, part_solid(Body(piece, part))


def say_the_same(feature: Feature, block: Block) -> None:
    for marks, part in by_hand(feature, block):
        assert apart(block_solid(block) - waste(block, marks), part) < SAME, (feature, marks)


def figures(marks: Marks) -> list[Any]:
    """Every word and number of marks in order."""

    def flat(value: object) -> Iterator[Any]:
        if isinstance(value, tuple):
            for each in value:
                yield from flat(each)
        else:
            yield value

    return list(flat(astuple(marks)))


SET_OUT: list[tuple[str, dict[str, Any], Marks]] = [
    (
        "bevel",
        {"edge": "left", "low": "outside", "angle": 15, "leave": 6},
        # 12 of the 18 mm slope: 12 tan 15 = 3.2154.
        Line("y", ((("left", 0), ("inside", 6)), (("left", 3.2154), ("inside", 18))), ("left", "outside"), 15),
    ),
    (
        "chamfer",
        {"edges": ["inside/top", "inside/bottom", "top/inside"], "size": 3},
        Edges((("inside", "top"), ("inside", "bottom")), 3, False),
    ),
    # Angles: 1 in 6 is 9.4623 degrees, 1 in 8 7.1250 (tables of tangents).
    (
        "dovetails",
        {"end": "left", "tails": 3, "pin": 6, "slope": 6, "length": 15},
        # (90 - 4 x 6) / 3 = 22 to a tail.
        Trough("left", "bottom", 0, 6, 15, leans=(9.4623, 9.4623), count=4, pitch=28),
    ),
    (
        "dovetail-pins",
        {"end": "left", "tails": 3, "pin": 6, "half_pin": 5, "slope": 8, "length": 12, "depth": 13},
        # (90 - 2 x 5 - 2 x 6) / 3 = 22.6667 to a tail, 13 / 8 = 1.625 less on each side at the mouth.
        Trough("inside", "bottom", 6.625, 19.4167, 13, reach=("left", 12), leans=(7.1250, 7.1250), count=3, pitch=28.6667),
    ),
    (
        "dovetail-housing",
        {"face": "inside", "from": "left", "distance": 40, "width": 15, "depth": 6, "slope": 6},
        Trough("inside", "left", 41, 13, 6, leans=(9.4623, 9.4623)),
    ),
    (
        "dovetail-end",
        {"end": "right", "length": 6, "slope": 8, "sides": "outside"},
        Trough("right", "outside", -18, 18, 6, leans=(7.1250, 7.1250), pitch=36),
    ),
    (
        "finger-joint",
        {"end": "right", "length": 18, "finger": 12, "start": "gap"},
        # Gaps at 0, 24, 48 and 72 of 90.
        Trough("right", "bottom", 0, 12, 18, count=4, pitch=24),
    ),
    ("cut-out", {"length": 100, "width": 40}, Window("inside", (Between("left", 100, 200), Between("bottom", 25, 65)))),
    (
        "cut-out",
        {"at": {"left": 60, "top": 20}, "length": 60, "width": 40, "radius": 12},
        Window(
            "inside",
            (Between("left", 60, 120), Between("top", 20, 60)),
            radius=12,
            rounded=(("left", "top"), ("left", "bottom"), ("right", "top"), ("right", "bottom")),
        ),
    ),
    (
        "cut-out",
        {"at": {"left": 30, "bottom": 0}, "length": 240, "width": 12, "radius": 8},
        Window(
            "inside",
            (Between("left", 30, 270), Between("bottom", 0, 12)),
            radius=8,
            rounded=(("left", "top"), ("right", "top")),
        ),
    ),
    (
        "groove",
        {"face": "top", "from": "inside", "distance": 6, "width": 5, "depth": 8, "stops": {"left": 20, "right": 0}},
        Trough("top", "inside", 6, 5, 8, (("left", 20),)),
    ),
    (
        "halving",
        {"face": "outside", "from": "right", "distance": 0, "width": 90, "depth": 9},
        Trough("outside", "right", 0, 90, 9),
    ),
    (
        "hole",
        {"face": "outside", "diameter": 6, "at": [{"left": 30}, {"right": 40, "top": 20}], "depth": 12},
        Spots("outside", ((("left", 30), ("bottom", 45)), (("right", 40), ("top", 20))), 6, 12),
    ),
    ("hole", {"face": "left", "diameter": 8, "depth": 25}, Spots("left", ((("bottom", 45), ("outside", 9)),), 8, 25)),
    (
        "hole",
        {"face": "inside", "diameter": 5, "countersink": 11, "at": {"left": 50}},
        Spots("inside", ((("left", 50), ("bottom", 45)),), 5, None, 11, 3, True),
    ),
    (
        "hole",
        {"face": "outside", "diameter": 5, "counterbore": {"diameter": 12, "depth": 6}},
        Spots("outside", ((("left", 150), ("bottom", 45)),), 5, None, 12, 6, False),
    ),
    (
        "housing",
        {"face": "outside", "from": "right", "distance": 100, "width": 18, "depth": 6, "stops": {"top": 10}},
        Trough("outside", "right", 100, 18, 6, (("top", 10),)),
    ),
    (
        "mitre",
        {"end": "left", "long": "bottom"},
        Line("z", ((("left", 0), ("bottom", 0)), (("left", 90), ("bottom", 90))), ("left", "top"), 45),
    ),
    (
        "mitre",
        {"end": "right", "long": "outside", "angle": 22.5},
        # 18 tan 22.5 = 7.4558 shorter at the inside.
        Line("y", ((("left", 300), ("outside", 0)), (("left", 292.5442), ("outside", 18))), ("right", "inside"), 22.5),
    ),
    (
        "mortise",
        {"face": "inside", "at": {"right": 50}, "length": 40, "width": 12, "along": "width", "depth": 9},
        Window("inside", (Between("right", 50, 62), Between("bottom", 25, 65)), 9),
    ),
    (
        "mortise",
        {"face": "top", "at": {"left": 40}, "length": 30, "width": 6},
        Window("top", (Between("left", 40, 70), Between("outside", 6, 12))),
    ),
    (
        "notch",
        {"edge": "bottom", "from": "right", "distance": 7, "length": 25, "depth": 15},
        Trough("bottom", "right", 7, 25, 15),
    ),
    (
        "outline",
        {"edge": ["left", "top"], "points": [{"at": {"left": 0, "bottom": 20}}, {"at": {"right": 250, "top": 0}}]},
        Line("z", ((("left", 0), ("bottom", 20)), (("left", 50), ("bottom", 90))), ("left", "top")),
    ),
    (
        "outline",
        # It ends inside the part: led on to the top at both ends.
        {"edge": "top", "points": [{"at": {"left": 50, "bottom": 60}}, {"at": {"left": 80, "bottom": 70}}]},
        Line(
            "z",
            (
                (("left", 50), ("bottom", 90)),
                (("left", 50), ("bottom", 60)),
                (("left", 80), ("bottom", 70)),
                (("left", 80), ("bottom", 90)),
            ),
            ("top",),
        ),
    ),
    (
        "outline",
        # A square 90 mm high in the middle of the length.
        {"shape": "polygon", "sides": 4},
        Line(
            "z",
            (
                (("left", 195), ("bottom", 0)),
                (("left", 195), ("bottom", 90)),
                (("left", 105), ("bottom", 90)),
                (("left", 105), ("bottom", 0)),
            ),
        ),
    ),
    (
        "rebate",
        {"edge": "outside/left", "width": 17, "depth": 6, "stops": {"bottom": 10}},
        Trough("outside", "left", 0, 17, 6, (("bottom", 10),)),
    ),
    (
        "round-over",
        {"edges": ["inside/top", "top/outside"], "radius": 5},
        Edges((("inside", "top"), ("top", "outside")), 5, True),
    ),
    (
        "rounded-corner",
        {"corners": ["top/left", "top/right"], "radius": 20},
        Edges((("top", "left"), ("top", "right")), 20, True),
    ),
    (
        "screw-holes",
        {"face": "inside", "gauge": 8, "row": {"from": "right", "first": 40, "last": 20, "count": 3}, "at": {"top": 15}},
        # 40 to 280 from the right in two steps of 120; hole 4.5, head 10/32 in = 7.9, depth (7.9 - 4.5) / 2.
        Spots(
            "inside",
            tuple((("right", along), ("top", 15)) for along in (40, 160, 280)),
            4.5,
            None,
            7.9,
            1.7,
            True,
        ),
    ),
    (
        "slot",
        {"face": "inside", "length": 80, "width": 12, "ends": "round"},
        Window(
            "inside",
            (Between("left", 110, 190), Between("bottom", 39, 51)),
            radius=6,
            rounded=(("left", "bottom"), ("left", "top"), ("right", "bottom"), ("right", "top")),
        ),
    ),
    (
        "slot",
        {"face": "outside", "at": {"left": 100}, "length": 40, "width": 10, "depth": 7, "open": "top", "ends": "round"},
        Window(
            "outside",
            (Between("left", 100, 110), Between("top", 0, 40)),
            7,
            radius=5,
            rounded=(("left", "bottom"), ("right", "bottom")),
        ),
    ),
    (
        "taper",
        {"edge": "top", "from": "left", "start": 80, "amount": 20},
        Line("z", ((("left", 80), ("top", 0)), (("right", 0), ("top", 20))), ("top", "right")),
    ),
    (
        "biscuit-slots",
        {"face": "top", "depth": 10, "row": {"from": "left", "first": 60, "last": 60, "count": 2}},
        Plunges("top", ((("left", 60), ("outside", 9)), (("left", 240), ("outside", 9))), "x", 100, 4, 10),
    ),
    (
        "spline-slot",
        {"end": "left", "long": "bottom", "from": "inside", "distance": 7, "width": 4, "length": 40},
        Corner("left", "bottom", "inside", 7, 4, 40),
    ),
    (
        "bridle",
        {"end": "left", "length": 45, "thickness": 6, "from_outside": 6},
        Trough("left", "outside", 6, 6, 45),
    ),
    (
        "bridle-tongue",
        {"from": "left", "distance": 105, "width": 90, "depth": 6},
        Trough("inside", "left", 105, 90, 6, twin=True),
    ),
    (
        "dowel-holes",
        {"face": "left", "diameter": 6, "dowel": 36, "at": [{"bottom": 25}, {"top": 25}]},
        # Half of 36, and 2 for the glue.
        Spots("left", ((("bottom", 25), ("outside", 9)), (("top", 25), ("outside", 9))), 6, 20),
    ),
    (
        "mortise",
        {"face": "top", "at": {"left": 20}, "length": 40, "width": 6, "depth": 25, "haunch": {"side": "left", "depth": 8}},
        Window(
            "top",
            (Between("left", 20, 60), Between("outside", 6, 12)),
            25,
            ramps=(Ramp("top", "left", 20, 0, 8, 8),),
        ),
    ),
    (
        "mortise",
        {"face": "top", "at": {"right": 30}, "length": 40, "width": 6, "flare": 3},
        # Three quarters of 90 slope.
        Window(
            "top",
            (Between("right", 30, 70), Between("outside", 6, 12)),
            ramps=(Ramp("bottom", "left", 230, 227, 67.5, 0), Ramp("bottom", "right", 30, 27, 67.5, 0)),
        ),
    ),
    (
        "tongue",
        {"edge": "left", "length": 8, "thickness": 9, "from_outside": 0},
        Shoulders("left", 8, (Between("outside", 0, 9),)),
    ),
    (
        "wedge-kerfs",
        {"end": "left", "length": 25, "from_bottom": 20, "count": 2, "apart": 49},
        Trough("left", "bottom", 20, 1, 25, count=2, pitch=49),
    ),
    (
        "tenon",
        {"end": "right", "length": 30, "thickness": 6, "width": 60, "from_bottom": 0, "haunch": {"side": "top", "length": 8}},
        Shoulders("right", 30, (Between("bottom", 0, 60), Between("outside", 6, 12)), Haunch("top", 8, False)),
    ),
    (
        "tenon",
        {"end": "left", "length": 30, "thickness": 6, "width": 50, "from_bottom": 10},
        Shoulders("left", 30, (Between("bottom", 10, 60), Between("outside", 6, 12))),
    ),
    (
        "recess",
        {"face": "inside", "length": 50, "width": 20, "depth": 2, "at": {"left": 40, "top": 0}},
        Window("inside", (Between("left", 40, 90), Between("top", 0, 20)), 2),
    ),
    (
        "fielded-edge",
        {"face": "inside", "width": 25, "depth": 8, "step": 2, "edges": "top"},
        Moulded((("inside", "top"),), ((0, 8), (25, 2), (25, 0))),
    ),
    (
        "moulding",
        {"edges": "inside/top", "profile": "cove", "size": 8},
        Moulded((("inside", "top"),), tuple((8 * sin(pi / 32 * n), 8 * cos(pi / 32 * n)) for n in range(17))),
    ),
    (
        "cope",
        {"end": "right", "edge": "inside/top", "profile": "square", "size": 30, "width": 8, "depth": 9},
        Coped("right", ("inside", "top"), 0, 8, 9, ((0, 0), (30, 0))),
    ),
    (
        "cope",
        {"end": "left", "edge": "inside/top", "profile": "cove", "size": 8, "depth": 9, "from_end": 25},
        Coped("left", ("inside", "top"), 25, 8, 9, tuple((8 * sin(pi / 32 * n), 8 * cos(pi / 32 * n)) for n in range(17))),
    ),
    ("rounding", {}, Profile("left", ((0, 40), (300, 40)))),
    (
        "turned-profile",
        {"stations": [{"left": 60, "diameter": 36}, {"left": 90, "diameter": 36}, {"left": 300, "diameter": 20}]},
        Profile("left", ((60, 36), (90, 36), (300, 20))),
    ),
    (
        "tenon",
        {"end": "right", "length": 25, "thickness": 8, "from_outside": 0},
        Shoulders("right", 25, (Between("bottom", 0, 90), Between("outside", 0, 8))),
    ),
]

PATHS: list[dict[str, Any]] = [
    # Both ends of the path and its curve as in the cases of real things.
    {
        "edge": ["bottom", "left", "top"],
        "points": [{"at": {"left": 20, "bottom": 0}}, {"arc_to": {"left": 20, "top": 0}, "radius": 60, "turn": "right"}],
    },
    {
        "edge": ["top", "right"],
        "points": [{"at": {"right": 30, "top": 0}}, {"arc_to": {"right": 0, "bottom": 50}, "radius": 50, "turn": "right"}],
    },
    {
        "edge": ["left", "top", "right"],
        "points": [
            {"at": {"left": 0, "bottom": 40}},
            {"at": {"left": 45, "bottom": 70}},
            {"arc_to": {"right": 45, "bottom": 70}, "radius": 120, "turn": "right"},
            {"at": {"right": 0, "bottom": 40}},
        ],
    },
    # From an edge and back to it; narrower at the edge than inside; ended inside the part; along the edge for a while.
    {"edge": "top", "points": [{"at": {"left": 60, "top": 0}}, {"at": {"left": 90, "top": 30}}, {"at": {"left": 120, "top": 0}}]},
    {
        "edge": "bottom",
        "points": [
            {"at": {"left": 60, "bottom": 0}},
            {"at": {"left": 50, "bottom": 30}},
            {"at": {"left": 110, "bottom": 30}},
            {"at": {"left": 100, "bottom": 0}},
        ],
    },
    {
        "edge": "right",
        "points": [{"at": {"right": 40, "bottom": 20}}, {"arc_to": {"right": 30, "bottom": 60}, "radius": 40, "turn": "left"}],
    },
    {
        "edge": "top",
        "points": [
            {"at": {"left": 0, "top": 0}},
            {"at": {"left": 60, "top": 0}},
            {"at": {"left": 90, "top": 25}},
            {"at": {"right": 0, "top": 25}},
        ],
    },
    {"edge": "right", "points": [{"at": {"right": 60, "bottom": 0}}, {"at": {"right": 20, "top": 0}}]},
]


def test_every_kind_has_figures_worked_by_hand() -> None:
    assert {kind for kind, _, _ in SET_OUT} == set(feature_kinds())


@pytest.mark.parametrize(("kind", "fields", "marks"), SET_OUT, ids=[kind for kind, _, _ in SET_OUT])
def test_the_marks_are_as_worked_by_hand(kind: str, fields: dict[str, Any], marks: Marks) -> None:
    feature = make(kind, **fields)
    block = block_of(kind)
    found = feature.marks(block)
    assert type(found) is type(marks)
    assert len(figures(found)) == len(figures(marks))
    for here, there in zip(figures(found), figures(marks), strict=True):
        assert here == (pytest.approx(there, abs=1e-4) if isinstance(there, int | float) else there), found
    say_the_same(feature, block)


@pytest.mark.parametrize("feature", all_samples(), ids=lambda each: each.kind)
def test_a_sample_is_marked_as_it_is_drawn(feature: Feature) -> None:
    say_the_same(feature, block_of(feature.kind))


@pytest.mark.parametrize("feature", all_samples(), ids=lambda each: each.kind)
def test_marks_do_not_ask_the_shapes(feature: Feature, monkeypatch: pytest.MonkeyPatch) -> None:
    marks = feature.marks(block_of(feature.kind))

    def refuse(*_: object) -> None:
        raise AssertionError("the marks were worked out from the shapes")

    monkeypatch.setattr(type(feature), "removes", refuse)
    assert feature.marks(block_of(feature.kind)) == marks


@pytest.mark.parametrize("file", THINGS, ids=lambda file: file.parent.name + "/" + file.name)
def test_the_features_of_real_things_are_marked_as_they_are_drawn(file: Path) -> None:
    parts = read_job(file)[0].parts.values()
    for feature, block in [(feature, part.block) for part in parts for feature in part.features.values()]:
        say_the_same(replace(feature, only=None), block)


@pytest.mark.parametrize("path", PATHS)
def test_an_outline_is_marked_as_it_is_drawn(path: dict[str, Any]) -> None:
    say_the_same(make("outline", **path), BOARD)


@pytest.mark.parametrize("feature", all_samples(), ids=lambda each: each.kind)
def test_marks_change_hands_and_back(feature: Feature) -> None:
    marks = feature.marks(block_of(feature.kind))
    other = mirrored_marks(marks)
    assert mirrored_marks(other) == marks
    swapped = {face: opposite(face) if axis_of(face) == "x" else face for face in measured_faces(marks)}
    assert measured_faces(other) == tuple(swapped.values())


def test_an_ellipse_is_a_line_round_the_middle() -> None:
    marks = make("outline", shape="ellipse").marks(BOARD)
    assert isinstance(marks, Line)
    assert (marks.edges, marks.angle, len(set(marks.points)), len(marks.points)) == ((), None, 64, 64)
    for (_, x), (_, y) in marks.points:
        assert hypot((x - 150) / 150, (y - 45) / 45) == pytest.approx(1)


@pytest.mark.parametrize(
    ("kind", "fields", "wrong"),
    [
        ("groove", {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6}, {"distance": 9}),
        ("groove", {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6}, {"face": "outside"}),
        ("bevel", {"edge": "top", "low": "inside", "angle": 30}, {"angle": 31}),
        ("tenon", {"end": "left", "length": 30, "thickness": 6}, {"length": 31}),
        ("hole", {"face": "inside", "diameter": 10, "countersink": 14}, {"conical": False}),
    ],
)
def test_wrong_marks_make_another_part(kind: str, fields: dict[str, Any], wrong: dict[str, Any]) -> None:
    for marks, part in by_hand(make(kind, **fields), BOARD):
        assert apart(block_solid(BOARD) - waste(BOARD, replace(marks, **wrong)), part) > 20


@settings(max_examples=250, deadline=None)
@given(features())
def test_any_legal_feature_is_marked_as_it_is_drawn(made: tuple[Feature, Block]) -> None:
    say_the_same(*made)


@settings(max_examples=250, deadline=None)
@given(features())
def test_the_angle_of_a_line_leads_to_its_second_point(made: tuple[Feature, Block]) -> None:
    feature, block = made
    marks = feature.marks(block)
    if isinstance(marks, Line):
        drawn = line_points(block, replace(marks, angle=None))
        assert [pytest.approx(spot) for spot in line_points(block, marks)] == drawn
