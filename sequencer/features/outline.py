"""Outline: a shape sawn through the thickness, along a path or to a regular form."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.checks import COMMON, END_GRAIN
from sequencer.features.paths import Spot, arc_between, arc_centre, crosses_itself, same, waste
from sequencer.features.placing import both_sides, bounding, meet, placed, placing, point, references, without_repeats
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, At, Faces, Length
from sequencer.model.frame import AXIS_WORDS, Axis, Block, FaceName, Point, axis_of, is_high
from sequencer.model.marks import Line, Marks
from sequencer.model.shapes import Prism, Shape, arc

SEEN: FaceName = "inside"
"""The face an outline is drawn on."""


@dataclass(frozen=True, kw_only=True)
class PathPoint:
    """A point of the path: a corner `at` a spot, or the end of an arc, `arc_to` a spot with a `radius`, turning left or
    right as one goes along and looks at the inside face. The arc is the shorter one."""

    __pydantic_config__ = STRICT

    at: At | None = None
    arc_to: At | None = None
    radius: Length | None = None
    turn: Literal["left", "right"] | None = None

    def __post_init__(self) -> None:
        if (self.at is None) == (self.arc_to is None):
            raise refuse("a point of an outline has either `at` or `arc_to`")
        if (self.arc_to is None) != (self.radius is None) or (self.arc_to is None) != (self.turn is None):
            raise refuse("`arc_to` needs `radius` and `turn`, and only `arc_to` has them")
        bounding("point", SEEN, self.place())

    def place(self) -> dict[FaceName, float]:
        """The distances it is placed by."""
        return self.at or self.arc_to or {}

    def spot(self, block: Block) -> Spot:
        """Where it is along the length and the width."""
        spans = placed(block, SEEN, self.place(), {})
        return spans["x"][0], spans["y"][0]


@register
@dataclass(frozen=True, kw_only=True)
class Outline(Feature):
    """A path of `points` along an `edge`, or along edges in the order the path passes them: the waste between path and
    edge comes off. Or a regular `shape` as large as the part allows, centred: a polygon of so many `sides` that stands on
    its bottom, a circle, an ellipse."""

    gives: ClassVar = (
        "feature.length",
        "feature.depth",
        "feature.radius",
        "feature.through",
        "feature.count",
    )

    kind: ClassVar = "outline"
    title: ClassVar = "outline"
    says: ClassVar = "a shape through the thickness: straight lines and arcs along an edge, a polygon, a circle, an ellipse"
    nature: ClassVar = "shape"
    sawn_to_line: ClassVar = True
    shape_left: ClassVar = "curved"

    edge: Faces | None = None
    points: tuple[PathPoint, ...] = ()
    shape: Literal["polygon", "circle", "ellipse"] | None = None
    sides: Annotated[int, Field(ge=3, le=24)] | None = None

    def __post_init__(self) -> None:
        if (self.shape is None) == (self.edge is None):
            raise refuse("an outline has either an `edge` with `points`, or a `shape`")
        if (self.shape == "polygon") != (self.sides is not None):
            raise refuse("a polygon needs its number of `sides`, and only a polygon has it")
        if (self.edge is None) != (not self.points):
            raise refuse("an outline along an `edge` needs `points`, and a `shape` has none")
        if self.points and (len(self.points) < 2 or self.points[0].at is None):
            raise refuse("the path of an outline has at least two points and starts with one `at` a spot")
        for edge in self.edge or ():
            if axis_of(edge) == "z":
                raise refuse(f"an outline is cut through the thickness; {edge} is not an edge it can shape")
        for one, two in pairwise(self.edge or ()):
            meet("outline", one, two)

    def path(self, block: Block) -> list[Spot]:
        """The line sawn, along the length and the width, curves as chords; a regular shape starts at its bottom."""
        if self.shape is not None:
            return self._regular(block)
        path = [self.points[0].spot(block)]
        for each in self.points[1:]:
            stop = each.spot(block)
            if each.radius is not None:
                path.extend(arc_between(path[-1], stop, each.radius, each.turn == "left")[1:])
            else:
                path.append(stop)
        return path

    def _regular(self, block: Block) -> list[Spot]:
        half, high = block.length / 2, block.width
        if self.sides is None:
            round_about = [*arc((0.0, 0.0), 1.0, -90, 270, 64)]
            return [(half + half * u, high / 2 + high / 2 * v) for u, v in round_about]
        radius = self.circumradius(block)
        apothem = radius * cos(pi / self.sides)
        # From the right-hand corner of the bottom side once round to its left-hand corner.
        turns = ((number + 0.5) * 2 * pi / self.sides - pi / 2 for number in range(self.sides))
        return [(half + radius * cos(turn), apothem + radius * sin(turn)) for turn in turns]

    def circumradius(self, block: Block) -> float:
        """Radius to the corners of the regular polygon that is as high as the part is wide."""
        sides = self.sides or 3
        height = 2 * cos(pi / sides) if sides % 2 == 0 else 1 + cos(pi / sides)
        return block.width / height

    def border(self, block: Block) -> list[Spot]:
        """The line along the edges that the waste reaches to, from the start of the path to its end."""
        path = self.path(block)
        if self.edge is None:
            corners = [(block.length, 0.0), (block.length, block.width), (0.0, block.width), (0.0, 0.0)]
            return [path[0], *corners, path[-1]]
        first, last = self.edge[0], self.edge[-1]
        between = [_crossing(block, one, two) for one, two in pairwise(self.edge)]
        return [_onto(block, path[0], first), *between, _onto(block, path[-1], last)]

    def removes(self, block: Block) -> tuple[Shape, ...]:
        pieces = waste(self.path(block), self.border(block))
        return tuple(Prism("z", tuple(piece), 0.0, block.thickness) for piece in pieces)

    def marks(self, block: Block) -> Marks:
        """The path as a template gives it, from the left and the bottom, or from the right where the drawing measures from there
        alone. A path that ends inside the part is led on straight across to its edge."""
        path = self.path(block)
        if self.edge is None:
            path = path[:-1] if same(path[0], path[-1]) else path
        else:
            path = [*_led_on(block, path[0], self.edge[0]), *path, *_led_on(block, path[-1], self.edge[-1])]
        if "right" in self.measured_from() and "left" not in self.measured_from():
            return Line("z", tuple((("right", block.length - x), ("bottom", y)) for x, y in path), self.edge or ())
        return Line("z", tuple((("left", x), ("bottom", y)) for x, y in path), self.edge or ())

    def smallest_radius(self, block: Block) -> float:
        """Smallest radius of a curve; where all is straight, the longest side of the part."""
        if self.shape in ("circle", "ellipse"):
            short, long = sorted((block.length / 2, block.width / 2))
            return short**2 / long
        radii = [each.radius for each in self.points if each.radius is not None]
        return min(radii, default=max(block.length, block.width))

    def figures(self, block: Block) -> dict[str, float]:
        """`feature.length` is the line to be sawn: what lies on the edges of the part is not counted."""
        path = self.path(block)
        if self.shape is not None:
            path = [*path, path[0]]
        return {
            "feature.length": sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(path) if not _on_one_edge(block, a, b)),
            "feature.depth": block.thickness,
            "feature.radius": self.smallest_radius(block),
            "feature.through": 1.0,
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        return self._form_sizes(block) if self.shape is not None else without_repeats(self._path_sizes(block))

    def _form_sizes(self, block: Block) -> tuple[Dimension, ...]:
        def size(axis: Axis, start: Spot, stop: Spot, label: str) -> Dimension:
            return Dimension(axis, _drawn(block, start), _drawn(block, stop), label)

        across = size("x", (0.0, block.width / 2), (block.length, block.width / 2), mm(block.length))
        if self.shape == "circle":
            return (replace(across, label=f"diameter {mm(block.length)}"),)
        if self.sides is None:
            return (across, size("y", (block.length / 2, 0.0), (block.length / 2, block.width), mm(block.width)))
        corner, last = self.path(block)[0], self.path(block)[-1]
        return (
            size("x", (0.0, 0.0), last, mm(last[0])),
            size("x", last, corner, mm(corner[0] - last[0])),
        )

    def _path_sizes(self, block: Block) -> Iterator[Dimension]:
        start: Spot | None = None
        for each in self.points:
            stop = each.spot(block)
            yield from placing(block, SEEN, each.place(), {"x": (stop[0], stop[0]), "y": (stop[1], stop[1])})
            if start is not None and each.radius is not None:
                centre = arc_centre(start, stop, each.radius, each.turn == "left")
                on_arc = arc_between(start, stop, each.radius, each.turn == "left")[8]
                along: Axis = "x" if abs(on_arc[0] - centre[0]) > abs(on_arc[1] - centre[1]) else "y"
                yield Dimension(along, _drawn(block, centre), _drawn(block, on_arc), f"radius {mm(each.radius)}")
            start = stop

    def opens(self) -> tuple[FaceName, ...]:
        return (*both_sides(SEEN, True), *self.spoils())

    def measured_from(self) -> tuple[FaceName, ...]:
        if self.shape is not None:
            return self.spoils()
        named = (face for each in self.points for face in references(SEEN, each.place()) if face != SEEN)
        return tuple(dict.fromkeys(named))

    def spoils(self) -> tuple[FaceName, ...]:
        return self.edge if self.edge is not None else ("left", "right", "bottom", "top")

    def lengthwise(self, block: Block) -> bool:
        return False

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        yield from self._form_findings(block) if self.shape is not None else self._path_findings(block)
        yield from self._neck(block, grain)

    def _form_findings(self, block: Block) -> Iterator[Finding]:
        if self.shape == "circle" and abs(block.length - block.width) > NEAR:
            yield finding(
                self,
                "error",
                "not-square",
                f"A circle needs a square part; this one is {mm(block.length)} by {mm(block.width)} mm.",
                remedy="Make the part square, or write an ellipse.",
            )
        if self.sides is not None:
            wide = max(x for x, _ in self.path(block)) - min(x for x, _ in self.path(block))
            if wide > block.length + NEAR:
                yield finding(
                    self,
                    "error",
                    "outside-part",
                    f"A polygon of {self.sides} sides, {mm(block.width)} mm high, is {mm(wide)} mm long; the part is only "
                    f"{mm(block.length)} mm long.",
                    remedy=f"Make the part at least {mm(wide)} mm long.",
                )

    def _path_findings(self, block: Block) -> Iterator[Finding]:
        yield from outside_part(self, block)
        for one, two in pairwise(self.points):
            if two.radius is not None:
                (a, b), (c, d) = one.spot(block), two.spot(block)
                half = hypot(c - a, d - b) / 2
                if two.radius < half - NEAR:
                    yield finding(
                        self,
                        "error",
                        "arc-too-small",
                        f"An arc of radius {mm(two.radius)} mm cannot reach over {mm(2 * half)} mm.",
                        remedy=f"Make its radius at least {mm(half)} mm.",
                    )
        if crosses_itself([self.border(block)[0], *self.path(block), self.border(block)[-1]]):
            yield finding(
                self,
                "error",
                "path-crosses-itself",
                "The path of the outline crosses itself.",
                remedy="Write the points in the order a pencil passes them, and the edges in the same order.",
            )
        elif not self.removes(block):
            yield finding(
                self,
                "error",
                "nothing-to-cut",
                "The outline runs along the edge and removes nothing.",
                remedy="Move its points inwards.",
            )

    def _neck(self, block: Block, grain: Axis) -> Iterator[Finding]:
        if self.edge is None or len(self.edge) > 1 or axis_of(self.edge[0]) == grain:
            return
        edge = self.edge[0]
        index = "xy".index(axis_of(edge))
        left = min(spot[index] if is_high(edge) else block.size(axis_of(edge)) - spot[index] for spot in self.path(block))
        if left < END_GRAIN - NEAR:
            yield finding(
                self,
                "error" if left < NEAR else "warning",
                "narrow-neck",
                f"At its narrowest the outline leaves {mm(max(left, 0.0))} mm of the {AXIS_WORDS[axis_of(edge)]}.",
                why="So narrow a neck breaks when it is sawn, shaped or used.",
                remedy=f"Leave at least {mm(END_GRAIN)} mm.",
                source=COMMON,
            )


def _drawn(block: Block, spot: Spot) -> Point:
    return point({"x": spot[0], "y": spot[1], "z": block.level(SEEN)})


def _crossing(block: Block, one: FaceName, two: FaceName) -> Spot:
    """The corner of the broad face where two edges meet."""
    levels = {axis_of(face): block.level(face) for face in (one, two)}
    return levels["x"], levels["y"]


def _onto(block: Block, spot: Spot, edge: FaceName) -> Spot:
    """The point of an edge straight across from a spot."""
    level = block.level(edge)
    return (level, spot[1]) if axis_of(edge) == "x" else (spot[0], level)


def _led_on(block: Block, spot: Spot, edge: FaceName) -> tuple[Spot, ...]:
    """The point of the edge that a path ending at a spot is led on to; none where it ends at the outside of the part."""
    gaps = (spot[0], block.length - spot[0], spot[1], block.width - spot[1])
    return () if min(gaps) < NEAR else (_onto(block, spot, edge),)


def _on_one_edge(block: Block, a: Spot, b: Spot) -> bool:
    return any(
        abs(a[index] - level) < NEAR and abs(b[index] - level) < NEAR
        for index, levels in enumerate(((0.0, block.length), (0.0, block.width)))
        for level in levels
    )
