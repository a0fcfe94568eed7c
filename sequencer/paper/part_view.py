"""One view of one piece of wood: its edges, the hatched waste, its sizes and marks, with long stretches broken out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import atan2, cos, hypot, pi, sin

from sequencer.features.base import Dimension, mm
from sequencer.model.frame import AXES, FACES, Axis, Block, FaceName, Point
from sequencer.model.shapes import Cone, Prism, Rind, Shape, bounds
from sequencer.paper import dimensioning, running_sizes
from sequencer.paper.breaking import Kept, Places, Strip, joined, zigzag
from sequencer.paper.dimensioning import Size
from sequencer.paper.face_marks import MARK, edge_mark, free_spot, loop, side_mark
from sequencer.paper.frames import Cut, Flat, Frame
from sequencer.paper.running_sizes import Running
from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width
from sequencer.paper.views import Line, Wood, body_of, hatched, seen, sliced

_SMALL = 6.0
"""Round cuts smaller than this on paper, mm, are measured by a leader."""
_HEAD = 5.8
_NAME = 3.2
"""Height of the names of ends and edges, mm on paper."""
_ARC = 11.0
"""The largest radius of the arc of an angle, mm on paper."""
_OUTLINE, _HIDDEN, _THIN = 0.5, 0.3, 0.22


@dataclass(frozen=True)
class Subject:
    """A piece of wood at one moment: what is cut already, what this step cuts, how it is marked.

    names
        What its faces are called; a face without one goes by its own name.
    left_on
        Waste that stays on until later, by face: amount, mm. The block holds it, and a line shows where it ends.
    parts
        From where to where along the block parts lie that are not yet cut to length; empty where the block is the part.
    called
        What each of these parts is called, where several kinds lie in one piece.
    """

    letter: str
    block: Block
    before: tuple[Shape, ...] = ()
    waste: tuple[Shape, ...] = ()
    section: str = "rectangular"
    grain: Axis = "x"
    face_side: FaceName = "inside"
    face_edge: FaceName = "bottom"
    names: Mapping[FaceName, str] = field(default_factory=dict)
    left_on: Mapping[FaceName, float] = field(default_factory=dict)
    parts: tuple[tuple[float, float], ...] = ()
    called: tuple[str, ...] = ()

    @property
    def marked(self) -> bool:
        """Whether it has a face side and a face edge: round stock has none."""
        return self.section != "round"


@dataclass(frozen=True)
class Edge:
    """A size in the view frame, part millimetres. `slope` is the end of the second arm of an angle."""

    level: bool
    start: Flat
    stop: Flat
    label: str
    slope: Flat | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """Where it starts and stops along its direction, low first."""
        index = 0 if self.level else 1
        low, high = sorted((self.start[index], self.stop[index]))
        return low, high


@dataclass(frozen=True)
class View:
    """A subject seen from one face. An arrow beside its title runs with the grain.

    at
        Where a section is taken, in the view's depth; None for a view from outside.
    near
        Only what is near the cut and its sizes is shown, the rest broken off.
    main
        It carries the part's letter, the grain and the names of the ends.
    running
        Under it stands how far each end of each part is from where the first part begins.
    insets
        How far within its ends each part is measured there, where sloping ends make it shorter on this face.
    """

    subject: Subject
    face: FaceName
    title: str
    sizes: tuple[Dimension, ...] = ()
    at: float | None = None
    near: bool = False
    broken: bool = False
    main: bool = True
    running: bool = False
    insets: tuple[tuple[float, float], ...] = ()

    @cached_property
    def frame(self) -> Frame:
        """The view frame."""
        return Frame(self.face, self.subject.block)

    @cached_property
    def _woods(self) -> tuple[Wood, Wood, tuple[Cut, ...]]:
        frame, depth = self.frame, self.frame.size[2]
        body = body_of(frame, self.subject.section)
        before, waste = frame.shapes(self.subject.before), frame.shapes(self.subject.waste)
        if self.at is not None:
            at = self.at
            body = next(iter(sliced(body, at, depth)), body)
            before = tuple(flat for shape in before for flat in sliced(shape, at, depth))
            waste = tuple(flat for shape in waste for flat in sliced(shape, at, depth))
        return Wood(body, before), Wood(body, (*before, *waste)), waste

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The edges once this step is done."""
        return seen(self._woods[1])

    @cached_property
    def waste_lines(self) -> tuple[Line, ...]:
        """The visible edges before this step's cut that are no edges after it."""
        before, _, waste = self._woods
        if not waste:
            return ()
        done = {(line.start, line.stop) for line in self.lines if not line.hidden}
        return tuple(line for line in seen(before) if not line.hidden and (line.start, line.stop) not in done)

    def hatch(self, scale: float) -> tuple[Line, ...]:
        """Slanting lines over the waste, about 1.6 mm apart on paper, closer on narrow cuts."""
        before, _, waste = self._woods
        if not waste:
            return ()
        narrow = min(min(around.size("x"), around.size("y")) for around in map(bounds, waste)) * scale
        return hatched(before, waste, max(1.0, min(1.6, narrow / 1.5)) / scale)

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """The sizes in the view frame, each once; those in the view's depth are left to another view."""
        found: dict[tuple[bool, tuple[float, float], str], Edge] = {}
        for size in self.sizes:
            axis = self.frame.axis(size.along)
            if "z" in (self.frame.axis(each) for each in size.axes):
                continue
            start, stop = self.frame.spot(size.start), self.frame.spot(size.stop)
            slope = self.frame.spot(size.slope)[:2] if size.slope is not None else None
            edge = Edge(axis == "x", start[:2], stop[:2], size.label, slope)
            found.setdefault((edge.level, edge.ends, edge.label), edge)
        return tuple(found.values())

    @cached_property
    def kept(self) -> tuple[Kept, Kept]:
        """What is shown, to the right and upwards."""
        return self._kept("x"), self._kept("y")

    def _kept(self, axis: Axis) -> Kept:
        index = AXES.index(axis)
        size = self.frame.size[index]
        across = min(self.frame.size[:2])
        if not ((self.near and size > 4 * across) or (self.broken and size == max(self.frame.size[:2]))):
            return ((0.0, size),)
        margin = max(3.0, 0.6 * across) if self.near else 0.5 * across
        stretches = [around.span(axis) for around in map(bounds, self._woods[2])]
        for edge in self.edges:
            stretches.append((edge.start[index], edge.start[index]))
            stretches.append((edge.stop[index], edge.stop[index]))
        # A cut that runs the whole way along its part looks the same everywhere: its two ends say enough.
        parts = self.subject.parts if self.frame.axis("x") == axis else ()
        whole = 0.9 * min((high - low for low, high in parts), default=size)
        wanted = [(low - margin, high + margin) for low, high in stretches if high - low < whole]
        if not self.near or not wanted:
            wanted += [(0.0, margin), (size - margin, size)]
        return joined(wanted, size)

    def extent(self, scale: float) -> tuple[float, float]:
        """Width and height of the view itself, mm on paper."""
        right, up = (Strip(kept, scale).length for kept in self.kept)
        return right, up

    def box(self, scale: float) -> Box:
        """The room it takes with sizes, marks and words around it, the view's own top left corner at 0, 0."""
        if scale not in self._boxes:
            around, _ = self._around(scale)
            right = max(around.right, around.left + self._title_width()) if self._head() else around.right
            self._boxes[scale] = Box(around.left - 0.4, around.top - self._head(), right + 0.4, around.bottom + 0.4)
        return self._boxes[scale]

    @cached_property
    def _boxes(self) -> dict[float, Box]:
        return {}

    def legible(self, scale: float) -> float:
        """How large the smallest thing that matters is on paper, mm: the piece itself, in a section the waste."""
        if self.near and self._woods[2]:
            return min(min(around.size("x"), around.size("y")) for around in map(bounds, self._woods[2])) * scale
        return min(self.extent(scale))

    def _head(self) -> float:
        return _HEAD if self.title or self.main else 0.0

    def _ends(self, scale: float) -> tuple[str, str] | None:
        """The names of the ends to the left and right, if they are printed: in a band below, beside the face edge mark."""
        if not self.main or self.frame.axis("x") != "x" or self.at is not None:
            return None
        words = self._called("x", False), self._called("x", True)
        wide = sum(text_width(word, _NAME, bold=False) for word in words)
        if not any(words):
            return None
        return words if self.extent(scale)[0] >= max(22.0, wide + 6.0) else None

    def _called(self, axis: Axis, high: bool) -> str:
        face = next(each for each in FACES if self.frame.side(each) == (axis, high))
        return self.subject.names.get(face, face).replace("-", " ")

    def _edge_names(self, scale: float) -> dict[str, str]:
        """Names of the upper and lower edge of a broad face, where the part has names of its own for them."""
        ends = self._ends(scale)
        if ends is None or self.frame.axis("y") != "y":
            return {}
        room = self.extent(scale)[0] - 1.0
        found = {"above": self._called("y", True), "below": self._called("y", False)}
        wide = {"above": 0.0, "below": sum(text_width(word, _NAME, bold=False) for word in ends) + 10.0}
        return {
            side: word
            for side, word in found.items()
            if word not in FACES and text_width(word, _NAME, bold=False) + wide[side] <= room
        }

    @property
    def _ringed(self) -> bool:
        """Whether the part's letter stands before the title; in a stick of several each part carries its own."""
        return self.main and len(self.subject.parts) < 2

    def _title_width(self) -> float:
        letter = 6.6 if self._ringed else 0.0
        grain = 7.0 if self.main else 0.0
        return letter + text_width(self.title, bold=False) + grain

    def _around(self, scale: float) -> tuple[Box, tuple[dimensioning.Placed, ...]]:
        width, height = self.extent(scale)
        view = Box(0.0, 0.0, width, height)
        first = {"below": 1.5, "above": 1.5, "left": 1.8, "right": 1.8}
        bands = self._bands(scale)
        for side in bands:
            first[side] = MARK + 1.2
        rows = running_sizes.height(self._running(scale)) if self.running else 0.0
        under = first["below"]
        first["below"] += rows
        places = dimensioning.placed(self._on_paper(scale), view, first)
        around = dimensioning.around(places, view)
        for side in sorted(bands):
            room = MARK + 0.8
            around = Box(
                min(around.left, -room if side == "left" else 0.0),
                min(around.top, -room if side == "above" else 0.0),
                max(around.right, width + (room if side == "right" else 0.0)),
                max(around.bottom, height + (room if side == "below" else 0.0)),
            )
        return replace(around, bottom=max(around.bottom, height + under + rows)) if self.running else around, places

    def _running(self, scale: float) -> tuple[Running, ...]:
        """The running sizes where they lie under the view, its top left corner at 0, 0."""
        place, parts = Places(self.kept, scale), self.subject.parts

        def spot(at: float) -> float:
            return place(self.frame.spot(Point(at, 0.0, 0.0))[:2])[0]

        insets = self.insets or ((0.0, 0.0),) * len(parts)
        spans = [(low + more, high - less) for (low, high), (more, less) in zip(parts, insets, strict=True)]
        return running_sizes.running(spans, [(spot(low), spot(high)) for low, high in spans], parts[0][0])

    def _bands(self, scale: float) -> set[str]:
        """The sides on which face marks or names stand next to the view."""
        bands = {side for side, _ in self._side_marks()} | ({"below"} if self._ends(scale) else set())
        return bands | set(self._edge_names(scale))

    def _side_marks(self) -> list[tuple[str, str]]:
        """Face marks that stand beside an edge of the view: side and which mark."""
        found: list[tuple[str, str]] = []
        if not self.subject.marked:
            return found
        for mark, face in (("side", self.subject.face_side), ("edge", self.subject.face_edge)):
            axis, high = self.frame.side(face)
            if axis == "x":
                found.append(("right" if high else "left", mark))
            elif axis == "y":
                found.append(("above" if high else "below", mark))
        return found

    def _on_paper(self, scale: float) -> tuple[Size, ...]:
        place = Places(self.kept, scale)
        return tuple(
            self._angle(edge, edge.slope, place)
            if edge.slope is not None
            else Size(
                edge.level,
                place(edge.start),
                place(edge.stop),
                edge.label,
                (edge.ends[1] - edge.ends[0]) * scale < _SMALL and self._across_round(edge),
            )
            for edge in self.edges
        )

    def _angle(self, edge: Edge, slope: Flat, place: Places) -> Size:
        """An angle at its corner: the arc from one arm to the other, with a line from its middle to the label."""
        corner = place(edge.start)
        arms = [(end[0] - edge.start[0], edge.start[1] - end[1]) for end in (edge.stop, slope)]
        first, last = (atan2(y, x) for x, y in arms)
        turn = (last - first + pi) % (2 * pi) - pi
        radius = min(_ARC, 0.6 * hypot(*arms[0]) * place.scale)
        arc = tuple(
            (corner[0] + radius * cos(first + turn * step / 8), corner[1] + radius * sin(first + turn * step / 8))
            for step in range(9)
        )
        return Size(True, arc[4], arc[4], edge.label, True, arc)

    def _across_round(self, edge: Edge) -> bool:
        """Whether a size is the diameter of a round cut seen end on."""
        low, high = edge.ends
        for middle, radii in self._rounds:
            spot = middle[0] if edge.level else middle[1]
            if abs((low + high) / 2 - spot) < 0.01 and any(abs(high - low - 2 * radius) < 0.01 for radius in radii):
                return True
        return False

    @cached_property
    def _rounds(self) -> tuple[tuple[Flat, tuple[float, ...]], ...]:
        """Round cuts seen end on: their middles in the view frame, and their radii."""
        found = []
        for shape in self.subject.waste if self.at is None else ():
            if isinstance(shape, Prism) or self.frame.axis(shape.axis) != "z":
                continue
            around = bounds(shape)
            middle = self.frame.spot(Point(*((a + b) / 2 for a, b in zip(around.low, around.high, strict=True))))
            radii = (shape.radius_start, shape.radius_stop) if isinstance(shape, Cone | Rind) else (around.size("y") / 2,)
            found.append((middle[:2], radii))
        return tuple(found)

    def draw(self, pen: Pen, left: float, top: float, scale: float) -> None:
        """Draws the view with its room's top left corner at a point of the paper."""
        room = self.box(scale)
        dx, dy = left - room.left, top - room.top
        place = Places(self.kept, scale)

        def moved(lines: Sequence[Line]) -> Iterator[tuple[Paper, Paper]]:
            for start, stop in place.clipped(lines):
                yield (start[0] + dx, start[1] + dy), (stop[0] + dx, stop[1] + dy)

        pen.lines("waste", moved(self.hatch(scale)), _THIN)
        pen.lines("before", moved(self.waste_lines), _THIN)
        pen.lines("hidden", moved([line for line in self.lines if line.hidden]), _HIDDEN, "1.6 0.9")
        pen.lines("centre", moved(self._centres(scale)), _THIN)
        pen.lines("edge", moved([line for line in self.lines if not line.hidden]), _OUTLINE)
        pen.lines("left-on", moved(self._left_on()), _HIDDEN, "3 0.8 0.6 0.8")
        self._breaks(pen, dx, dy, scale)
        width, height = self.extent(scale)
        view = Box(dx, dy, dx + width, dy + height)
        _, places = self._around(scale)
        dimensioning.draw(pen, [_shifted(each, dx, dy) for each in places], view)
        if self.running:
            moved_on = [
                replace(each, at=each.at + dx, left=each.left + dx, right=each.right + dx) for each in self._running(scale)
            ]
            running_sizes.draw(pen, moved_on, view, view.bottom + (MARK + 1.2 if "below" in self._bands(scale) else 1.5))
        self._marks(pen, view, place, dx, dy)
        for words, (x, y) in self._names(place):
            pen.text(words, (x + dx, y + dy), kind="piece", size=self._name_size(scale), clear=True)
        self._words(pen, left, top, view, scale)

    def _names(self, place: Places) -> Iterator[tuple[str, Paper]]:
        """What each part of a strip is called, in the middle of it, where the view shows the strip from its side."""
        if self.at is not None or self.frame.axis("x") != "x":
            return
        for words, (low, high) in zip(self.subject.called, self.subject.parts, strict=False):
            middle = self.frame.spot(Point((low + high) / 2, self.subject.block.width / 2, self.subject.block.thickness / 2))
            long = f"{words}: {mm(high - low)}"
            # A slanting end takes as much of the part's length as of its width.
            fits = text_width(long, self._name_size(place.scale)) < (high - low - 2 * self.subject.block.width) * place.scale
            yield long if self.running and not self.insets and fits else words, place((middle[0], middle[1]))

    def _name_size(self, scale: float) -> float:
        """The size of these names: that of other names at the least, which a copier keeps."""
        return max(_NAME, min(TEXT, self.extent(scale)[1] * 0.7))

    def _centres(self, scale: float) -> list[Line]:
        """A cross at the middle of every round cut seen end on: where the point of the bit goes."""
        found = []
        for shape in self.subject.waste if self.at is None else ():
            if isinstance(shape, Prism) or self.frame.axis(shape.axis) != "z":
                continue
            around = bounds(shape)
            middle = Point(*((low + high) / 2 for low, high in zip(around.low, around.high, strict=True)))
            x, y, _ = self.frame.spot(middle)
            reach = max(around.size(axis) for axis in AXES if axis != shape.axis) / 2 + 1.2 / scale
            found += [Line((x - reach, y), (x + reach, y)), Line((x, y - reach), (x, y + reach))]
        return found

    def _left_on(self) -> list[Line]:
        """Where the part ends and the waste begins that stays on for now."""
        right, up, _ = self.frame.size
        found = []
        for face, amount in self.subject.left_on.items():
            axis, high = self.frame.side(face)
            if axis == "x":
                x = right - amount if high else amount
                found.append(Line((x, 0.0), (x, up)))
            elif axis == "y":
                y = up - amount if high else amount
                found.append(Line((0.0, y), (right, y)))
        return found

    def _breaks(self, pen: Pen, dx: float, dy: float, scale: float) -> None:
        across, up = (Strip(kept, scale) for kept in self.kept)
        for at in across.breaks(self.frame.size[0]):
            pen.path("break", zigzag(dx + at, dy - 1.0, dy + up.length + 1.0, False), _THIN)
        for at in up.breaks(self.frame.size[1]):
            pen.path("break", zigzag(dy + up.length - at, dx - 1.0, dx + across.length + 1.0, True), _THIN)

    def _marks(self, pen: Pen, view: Box, place: Places, dx: float, dy: float) -> None:
        taken = [each.label.moved(dx, dy) for each in self._around(place.scale)[1]]
        sizes = [
            value + (dx if edge.level else dy)
            for edge in self._on_paper(place.scale)
            for value in ((edge.start[0], edge.stop[0]) if edge.level else (edge.start[1], edge.stop[1]))
        ]
        words = {side: text_width(word, _NAME, bold=False) / 2 for side, word in self._edge_names(place.scale).items()}
        breaks = (
            [dx + at for at in place.across.breaks(self.frame.size[0])],
            [dy + place.up.length - at for at in place.up.breaks(self.frame.size[1])],
        )
        for side, mark in self._side_marks():
            ends = sizes + breaks[0 if side in ("above", "below") else 1]
            ends += [each.at + dx for each in self._running(place.scale)] if self.running and side == "below" else []
            middle, half = (view.left + view.right) / 2, words.get(side, 0.0)
            ends += [middle + half * share for share in (-1.0, -0.5, 0.0, 0.5, 1.0)] if half else []
            if side == "below":
                ends += self._end_words(view, place.scale)
            along = self._along_part(view, place, dx) if side in ("above", "below") else (view.top, view.bottom)
            at = free_spot(along, ends)
            x, y = (
                (at, view.bottom if side == "below" else view.top)
                if side in ("above", "below")
                else (view.left if side == "left" else view.right, at)
            )
            (edge_mark if mark == "edge" else side_mark)(pen, (x, y), side)
        seen_on = self.frame.side(self.subject.face_side) == ("z", True) and self.at is None
        if seen_on and self.subject.marked:
            spot = self._clear_spot(view, place, dx, dy)
            if spot is not None and not any(box.left < spot[0] < box.right for box in taken if box.overlaps(view)):
                loop(pen, spot[0], spot[1], spot[2])

    def _along_part(self, view: Box, place: Places, dx: float) -> tuple[float, float]:
        """Where the first part lies along the view: in a longer piece a mark stands on the part, not on waste."""
        if not self.subject.parts or self.frame.axis("x") != "x":
            return view.left, view.right
        ends = (place(self.frame.spot(Point(at, 0.0, 0.0))[:2])[0] + dx for at in self.subject.parts[0])
        low, high = sorted(ends)
        return low, high

    def _end_words(self, view: Box, scale: float) -> list[float]:
        """Places along the lower edge where the names of the ends stand."""
        found = []
        for word, start, way in zip(self._ends(scale) or (), (view.left, view.right), (1.0, -1.0), strict=False):
            wide = text_width(word, _NAME, bold=False)
            found += [start + way * wide * share for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
        return found

    def _clear_spot(self, view: Box, place: Places, dx: float, dy: float) -> tuple[float, float, float] | None:
        """Where on the face side, beside the face edge if it is in sight, the looped mark disturbs nothing."""
        height = min(7.0, view.height * 0.62)
        low = self.frame.side(self.subject.face_edge) != ("y", True)
        blocked = []
        for shape in self._woods[1].cuts:
            around = bounds(shape)
            a, b = place((around.low.x, around.low.y)), place((around.high.x, around.high.y))
            blocked.append(Box(min(a[0], b[0]) + dx, min(a[1], b[1]) + dy, max(a[0], b[0]) + dx, max(a[1], b[1]) + dy))
        for at in place.across.breaks(self.frame.size[0]):
            blocked.append(Box(dx + at - 0.8, view.top, dx + at + 0.8, view.bottom))
        for words, (x, y) in self._names(place):
            size = self._name_size(place.scale)
            half = text_width(words, size) / 2
            blocked.append(Box(x + dx - half, y + dy - size / 2, x + dx + half, y + dy + size / 2))
        tops = (view.bottom - height - 0.6, view.top + (view.height - height) / 2, view.top + 0.6)
        for top in tops if low else tops[::-1]:
            for share in (0.3, 0.4, 0.6, 0.7, 0.5, 0.2, 0.8, 0.12, 0.88):
                x = view.left + view.width * share
                mark = Box(x - 2.2, top, x + 2.2, top + height)
                if mark.left > view.left and mark.right < view.right and not any(box.overlaps(mark, 0.3) for box in blocked):
                    return x, top, height
        return None

    def _words(self, pen: Pen, left: float, top: float, view: Box, scale: float) -> None:
        x, y = left + 0.4, top + self._head() / 2
        if self._ringed:
            pen.circle((x + 2.6, y), 2.5, 0.35)
            pen.text(self.subject.letter, (x + 2.6, y), size=TEXT if len(self.subject.letter) == 1 else 2.6, kind="letter")
            x += 6.6
        if self.title:
            pen.text(self.title, (x, y), kind="view", anchor="start", bold=False)
            x += text_width(self.title, bold=False) + 1.6
        if self.main:
            self._grain(pen, x, y)
        ends = self._ends(scale)
        if ends is not None:
            row = view.bottom + 2.7
            pen.text(ends[0], (view.left + 0.5, row), kind="end", anchor="start", bold=False, size=_NAME, clear=True)
            pen.text(ends[1], (view.right - 0.5, row), kind="end", anchor="end", bold=False, size=_NAME, clear=True)
        middle = (view.left + view.right) / 2
        for side, word in self._edge_names(scale).items():
            row = view.top - 2.5 if side == "above" else view.bottom + 2.7
            pen.text(word, (middle, row), kind="edge-name", bold=False, size=_NAME, clear=True)

    def _grain(self, pen: Pen, x: float, y: float) -> None:
        axis = self.frame.axis(self.subject.grain)
        if axis == "x":
            pen.lines("grain", [((x, y), (x + 6.0, y))], 0.35)
            pen.arrow((x, y), (-1.0, 0.0), 1.7)
            pen.arrow((x + 6.0, y), (1.0, 0.0), 1.7)
        elif axis == "y":
            pen.lines("grain", [((x + 3.0, y - 2.5), (x + 3.0, y + 2.5))], 0.35)
            pen.arrow((x + 3.0, y - 2.5), (0.0, -1.0), 1.7)
            pen.arrow((x + 3.0, y + 2.5), (0.0, 1.0), 1.7)
        else:
            pen.circle((x + 3.0, y), 1.6, 0.35)
            pen.circle((x + 3.0, y), 0.4, 0.35, "#000")


def _shifted(each: dimensioning.Placed, dx: float, dy: float) -> dimensioning.Placed:
    return dimensioning.Placed(each.size.moved(dx, dy), each.side, each.lane, each.label.moved(dx, dy), each.outside)
