"""A scene as the viewer sees it, before it has a scale: outlines, what hides what, places where words may point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from weakref import WeakKeyDictionary

import numpy as np

from sequencer.model.frame import AXES, Point
from sequencer.paper.outlines import Eye, Surface, eye, surface
from sequencer.paper.scene import Look, Scene, Thing
from sequencer.paper.shortening import room, shortened
from sequencer.paper.svg import Box, Paper
from sequencer.paper.visible import SLACK, Cover, Flags, Floats, Whole, cover, seen, topmost
from sequencer.solid.solids import Solid, without

_ANGLES = (45.0, 135.0, 60.0, 120.0, 30.0, 150.0, 75.0, 105.0)
_LENGTHS = 5.0
"""How many times as long as broad broken wood is drawn."""
_SHOTS: WeakKeyDictionary[Scene, Shot] = WeakKeyDictionary()
"""The shots of scenes that are still in use: a card tries a picture in several rooms."""


def shot_of(scene: Scene) -> Shot:
    """The scene from where it is seen, worked out once for all rooms it is drawn in."""
    shot = _SHOTS.get(scene)
    if shot is None:
        things = tuple(sorted((thing for thing in _apart(scene.things) if not thing.solid.empty), key=_order))
        shot = _SHOTS[scene] = Shot(things, replace(scene, things=things), eye(scene.looks_from))
    return shot


def _apart(things: Sequence[Thing]) -> Iterator[Thing]:
    """The things with no wood where a tool is, so that a line shows where the tool goes in."""
    tools = [thing.solid for thing in things if thing.look == "tool" and not thing.solid.empty]
    for thing in things:
        inside = [tool for tool in tools if thing.look in ("wood", "waste") and _meet(thing.solid, tool)]
        yield replace(thing, solid=without(thing.solid, inside)) if inside else thing


def _meet(one: Solid, two: Solid) -> bool:
    """Whether the boxes around two bodies share room."""
    if one.empty:
        return False
    spans = ((one.bounds.span(axis), two.bounds.span(axis)) for axis in AXES)
    return all(min(a[1], b[1]) - max(a[0], b[0]) > SLACK for a, b in spans)


def _broken(scene: Scene) -> Scene | None:
    """The scene with its wood broken along its greatest length; None where nothing can be taken out."""
    wood = [thing for thing in scene.things if thing.look in ("wood", "waste")]
    if not wood:
        return None
    length, breadth = sorted(((room(wood).size(axis), axis) for axis in AXES), reverse=True)[:2]
    return shortened(scene, length[1], _LENGTHS * breadth[0])


def _order(thing: Thing) -> tuple[object, ...]:
    bounds = thing.solid.bounds
    measures = (*bounds.low, *bounds.high, thing.solid.volume, thing.solid.area)
    return (*(round(value, 4) for value in measures), thing.look, thing.letter, thing.name, thing.through)


@dataclass(frozen=True, eq=False)
class Shot:
    """A scene from where it is seen, before it has a scale: paper coordinates times the scale give mm on paper."""

    things: tuple[Thing, ...]
    scene: Scene
    viewer: Eye

    @cached_property
    def broken(self) -> Scene | None:
        """The scene with its wood broken along its greatest length; None where nothing can be taken out."""
        return _broken(self.scene)

    @cached_property
    def surface(self) -> Surface:
        return surface([thing.solid.mesh for thing in self.things], self.viewer)

    @cached_property
    def cover(self) -> Cover:
        return cover(self.surface.faces)

    @cached_property
    def pieces(self) -> tuple[Floats, Whole, Whole]:
        """Visible pieces of lines (n x 4, paper coordinates), the thing each is of, and 1 for contours."""
        lines = self.surface.lines
        line, begin, end = seen(lines.start, lines.stop, self.cover)
        way = lines.stop[line] - lines.start[line]
        start, stop = lines.start[line] + begin[:, None] * way, lines.start[line] + end[:, None] * way
        return flat(start, stop), lines.owner[line], lines.contour[line].astype(np.int64)

    @cached_property
    def inside(self) -> Floats:
        """Outlines of things that show through wood, as if there were none (n x 4, paper coordinates)."""
        lines, surface = self.surface.lines, self.surface
        through = np.array([thing.through for thing in self.things])
        wood = np.array([thing.look in ("wood", "waste") for thing in self.things])
        mine = through[lines.owner] & lines.contour
        if not mine.any():
            return np.empty((0, 4))
        return flat(*parts(lines.start[mine], lines.stop[mine], cover(surface.faces[~wood[surface.owner]])))

    @cached_property
    def box(self) -> Box:
        """Around what is visible of the things."""
        pieces = self.pieces[0]
        if not len(pieces):
            return Box(0.0, 0.0, 0.0, 0.0)
        across, down = pieces[:, 0::2], pieces[:, 1::2]
        return Box(float(across.min()), float(down.min()), float(across.max()), float(down.max()))

    def narrowest(self, look: Look) -> float:
        """Least breadth of any body of a look as it is seen: its area over its length."""
        found = [self.box.width + self.box.height]
        for number, thing in enumerate(self.things):
            faces = self.surface.faces[self.surface.owner == number][:, :, :2]
            if thing.look != look or not len(faces):
                continue
            one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
            area = float(np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum()) / 2
            spots = faces.reshape(-1, 2)
            length = float(np.hypot(*(spots.max(axis=0) - spots.min(axis=0))))
            found.append(area / length)
        return min(found)

    @cached_property
    def hatch_angle(self) -> float:
        """The slope that differs most from the lines of wood and waste."""
        pieces, owner, _ = self.pieces
        looks = np.array([thing.look in ("wood", "waste") for thing in self.things])
        mine = pieces[looks[owner]] if len(pieces) else pieces
        x, y = mine[:, 2] - mine[:, 0], mine[:, 1] - mine[:, 3]
        slopes = np.round(np.degrees(np.arctan2(y, x)) % 180, 1)
        length = np.hypot(x, y)
        main = slopes[length >= 0.15 * length.max(initial=0.0)]
        if not len(main):
            return _ANGLES[0]
        off = [np.abs((main - angle + 90) % 180 - 90).min() for angle in _ANGLES]
        return _ANGLES[int(np.argmax(np.minimum(off, 25.0)))]

    def paper(self, point: Point) -> Paper:
        """A point of the scene in paper coordinates."""
        found = self.viewer.direction(point)
        return found.x, -found.y

    @cached_property
    def spots(self) -> dict[int, Floats]:
        """Points of each thing that has a letter or a name where it is what the viewer sees, the most central first."""
        faces, owner = self.surface.faces, self.surface.owner
        found = {}
        for number, thing in enumerate(self.things):
            if not (thing.letter or thing.name):
                continue
            mine = np.nonzero(owner == number)[0]
            points = _sampled(faces[mine])
            top = topmost(points, self.cover)
            visible = points[(top >= 0) & (owner[top] == number)]
            if not len(visible):
                lines, of, _ = self.pieces
                visible = (lines[of == number][:, :2] + lines[of == number][:, 2:]) / 2 * (1.0, -1.0)
            if len(visible):
                middle = visible.mean(axis=0)
                away = np.round(np.hypot(*(visible - middle).T), 3)
                order = np.lexsort((np.round(visible[:, 1], 3), np.round(visible[:, 0], 3), away))
                found[number] = visible[order] * (1.0, -1.0)
        return found

    def taken(self, points: Floats) -> Flags:
        """Whether wood, waste or a tool is seen at points in paper coordinates (k x 2)."""
        solid = np.array([thing.look in ("wood", "waste", "tool") for thing in self.things] + [False])
        owner, broad = self._broad
        if not len(owner):
            return np.zeros(len(points), dtype=bool)
        top = topmost(points * (1.0, -1.0), broad)
        found: Flags = solid[np.where(top >= 0, owner[top], -1)]
        return found

    @cached_property
    def _broad(self) -> tuple[Whole, Cover]:
        """The faces that fill the picture, without the rims of small holes, and the things they are of."""
        faces = self.surface.faces
        one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
        area = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
        broad = area > 2e-3 * self.box.width * self.box.height
        return self.surface.owner[broad], cover(faces[broad])


def parts(start: Floats, stop: Floats, hiding: Cover) -> tuple[Floats, Floats]:
    """The visible parts of lines in space."""
    line, begin, end = seen(start, stop, hiding)
    way = stop[line] - start[line]
    return start[line] + begin[:, None] * way, start[line] + end[:, None] * way


def flat(start: Floats, stop: Floats) -> Floats:
    """Lines as the viewer sees them in paper coordinates, y downwards (n x 4)."""
    return np.concatenate([start[:, :2] * (1.0, -1.0), stop[:, :2] * (1.0, -1.0)], axis=1)


_FINE = np.array([(a + 1 / 3, b + 1 / 3, 5 - a - b + 1 / 3) for a in range(6) for b in range(6 - a)]) / 6


def _sampled(faces: Floats) -> Floats:
    """Points spread over triangles: many over the largest, the middle of the others (k x 2)."""
    one, two = faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
    area = np.round(np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]), 4)
    order = np.argsort(-area, kind="stable")
    large, small = faces[order[:6], :, :2], faces[order[6:60], :, :2]
    return np.concatenate([np.einsum("kc,mcx->mkx", _FINE, large).reshape(-1, 2), small.mean(axis=1)])
