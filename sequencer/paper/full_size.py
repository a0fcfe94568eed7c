"""The sheet of templates: each drawn one mm on paper to a mm of wood, with its edges, marks and grain.

One that is larger than the page is turned, or divided over several pages with marks to lay over each other. Every page has a
bar of 100 mm to measure. mm on paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise
from math import ceil, hypot

from markupsafe import Markup

from sequencer.features.base import mm
from sequencer.model.frame import FACES, FaceName, axis_of
from sequencer.model.job import Job
from sequencer.model.marks import Spots
from sequencer.model.plan import Plan, Step
from sequencer.model.shapes import mirror
from sequencer.paper.face_marks import edge_mark, side_mark
from sequencer.paper.fitting import filled
from sequencer.paper.frames import Flat
from sequencer.paper.pages import Page, PageSize, numbered, room_on
from sequencer.paper.svg import TEXT, Box, Paper, Pen, number, text_width
from sequencer.paper.templates import Centre, Template, templates, within
from sequencer.paper.views import body_of, hatched
from sequencer.paper.wood_runs import Wood

BAR = 100.0
"""Length of the bar that is measured."""
BAND = 8.0
"""Room around a template for the names of its edges."""
OVERLAP = 12.0
"""Two pages of one template share a strip this wide."""
LEAST = 60.0
"""The least width for a title."""
_HEAD, _LINE, _BAR = 21.0, 4.8, 15.0
"""Height of the words on every page, of a line over a template, and of the bar."""
_MARK = 14.0
"""Room beside the name of an edge for its face mark."""
_CUT, _FIRM, _THIN = 0.6, 0.45, 0.2
_HATCH = 4.0
_TURNED = {"right": "above", "above": "left", "left": "below", "below": "right"}


@dataclass(frozen=True, eq=False)
class Laid:
    """A template on paper. `turned`: with its right-hand side up, so that it fits a page."""

    template: Template
    turned: bool = False

    @property
    def size(self) -> Paper:
        """Width and height with the names around."""
        window = self.template.window
        width, height = window.width + 2 * BAND, window.height + 2 * BAND
        return (height, width) if self.turned else (width, height)

    def paper(self, point: Flat) -> Paper:
        """Where a place in the view is, from the top left corner."""
        window = self.template.window
        if self.turned:
            return window.bottom - point[1] + BAND, window.right - point[0] + BAND
        return point[0] - window.left + BAND, window.bottom - point[1] + BAND

    def view(self, at: Paper) -> Flat:
        """The place in the view that is at a place on paper."""
        window = self.template.window
        if self.turned:
            return window.right - at[1] + BAND, window.bottom - at[0] + BAND
        return at[0] + window.left - BAND, window.bottom - at[1] + BAND

    def side(self, face: FaceName) -> str:
        """On which side of the drawing a face is."""
        axis, high = self.template.frame.side(face)
        side = ("right" if high else "left") if axis == "x" else ("above" if high else "below")
        return _TURNED[side] if self.turned else side

    def shown(self, tile: Box) -> Box:
        """The stretch of wood in a piece of the drawing, in the view."""
        window = self.template.window
        (x, y), (u, v) = self.view((tile.left, tile.top)), self.view((tile.right, tile.bottom))
        left, right, low, high = min(x, u), max(x, u), min(y, v), max(y, v)
        return Box(max(left, window.left), max(low, window.top), min(right, window.right), min(high, window.bottom))


def _lay(word: str) -> str:
    return f"Lay this line on the {word}."


@dataclass(frozen=True)
class Sheet:
    """A template, or the piece of one that a page holds, with its size and which piece of how many."""

    template: Template
    drawing: Markup
    width: float
    height: float
    tile: str = ""

    @property
    def room(self) -> float:
        """Width with the words over it."""
        return max(self.width, LEAST)

    @property
    def tall(self) -> float:
        """Height with the words over it."""
        return self.height + _LINE * (1 + len(self.template.holes) + bool(self.laid_on)) + 3.0

    @property
    def laid_on(self) -> str:
        """What it is laid on, where one of its edges is too short for the words beside it; else empty."""
        template, window = self.template, self.template.window
        for face in template.references:
            long = window.height if template.frame.side(face)[0] == "x" else window.width
            if text_width(_lay(template.called(face)), bold=True) + _MARK > long:
                return template.laid_on
        return ""


@dataclass(frozen=True)
class TemplatePage:
    """What a page shows: rows of templates, and the bar to measure."""

    rows: tuple[tuple[Sheet, ...], ...]
    bar: Markup

    @property
    def joined(self) -> bool:
        """Whether a template goes on on another page."""
        return any(sheet.tile for row in self.rows for sheet in row)


def full_size(plan: Plan, job: Job, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """The templates of a job as pages; one page that says so if it needs none."""
    room = room_on(size, spare=spare)
    wide, tall = room.width - 1.0, room.height - _HEAD - _BAR
    rows = _rows([sheet for template in templates(job) for sheet in sheets_of(template, wide, tall)], wide)
    groups = filled(rows, lambda row: max(sheet.tall for sheet in row), tall, tall)
    bar = Markup(scale_bar())
    steps = _steps_by_feature(plan)

    def steps_of(page: object) -> Sequence[Step]:
        if not isinstance(page, TemplatePage) or not page.rows:
            return plan.steps
        shown = [
            (sheet.template.part.name, feature.name) for row in page.rows for sheet in row for feature in sheet.template.features
        ]
        return tuple({step.id: step for name in shown for step in steps.get(name, ())}.values())

    return numbered(plan, [[TemplatePage(tuple(group), bar)] for group in groups], steps_of)


def _steps_by_feature(plan: Plan) -> dict[tuple[str, str], list[Step]]:
    """The steps that work on each feature, by part and feature."""
    acts = {task.id: task for task in plan.tasks}
    found: dict[tuple[str, str], list[Step]] = {}
    for step in plan.steps:
        for name in step.tasks:
            if name in acts:
                found.setdefault((acts[name].part, acts[name].feature), []).append(step)
    return found


def _rows(sheets: Sequence[Sheet], wide: float) -> list[tuple[Sheet, ...]]:
    """Drawings in order, as many beside each other as there is room for."""
    rows: list[tuple[Sheet, ...]] = []
    for sheet in sheets:
        beside = (*rows[-1], sheet) if rows else (sheet,)
        if rows and sum(each.room + 1.5 for each in beside) <= wide:
            rows[-1] = beside
        else:
            rows.append((sheet,))
    return rows


def sheets_of(template: Template, wide: float, tall: float) -> Iterator[Sheet]:
    """A template as one drawing, or in pieces no larger than the room, turned where that takes fewer."""
    words = Sheet(template, Markup(""), 0.0, 0.0).tall

    def pieces(laid: Laid) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
        return _cuts(laid.size[0], wide), _cuts(laid.size[1], tall - words)

    laid = min((Laid(template), Laid(template, True)), key=lambda each: len(pieces(each)[0]) * len(pieces(each)[1]))
    across, down = pieces(laid)
    for row, (top, bottom) in enumerate(down, 1):
        for column, (left, right) in enumerate(across, 1):
            tile = Box(left, top, right, bottom)
            drawing = Markup(_drawn(laid, tile, _seams(across, down, tile)))
            place = f"row {row} of {len(down)}, column {column} of {len(across)}" if len(across) * len(down) > 1 else ""
            yield Sheet(template, drawing, tile.width, tile.height, place)


def _cuts(total: float, room: float) -> list[tuple[float, float]]:
    """From where to where each piece of a length runs, neighbours sharing a strip."""
    if total <= room:
        return [(0.0, total)]
    count = ceil((total - OVERLAP) / (room - OVERLAP))
    each = (total - OVERLAP) / count
    return [(each * at, each * (at + 1) + OVERLAP) for at in range(count)]


def _seams(across: Sequence[tuple[float, float]], down: Sequence[tuple[float, float]], tile: Box) -> list[tuple[str, Paper]]:
    """The marks in a piece that lie over those of its neighbours: two on each shared strip, each with a number of its own."""
    spots: list[Paper] = []
    for cuts, along, upright in ((across, down, True), (down, across, False)):
        for (_, stop), (start, _) in pairwise(cuts):
            middle = (start + stop) / 2
            levels = [low + share * (high - low) for low, high in along for share in (0.2, 0.8)]
            spots += [(middle, level) if upright else (level, middle) for level in levels]
    return [(str(count), at) for count, at in enumerate(spots, 1) if within(tile, at)]


@dataclass(frozen=True, eq=False)
class _Drawing:
    """A piece of a template being drawn."""

    pen: Pen
    laid: Laid
    tile: Box

    @property
    def template(self) -> Template:
        return self.laid.template

    @property
    def shown(self) -> Box:
        return self.laid.shown(self.tile)

    def at(self, point: Flat) -> Paper:
        """Where a place in the view is in this piece."""
        x, y = self.laid.paper(point)
        return x - self.tile.left, y - self.tile.top

    def waste(self) -> None:
        """What curves take off, hatched."""
        template = self.template
        frame, part = template.frame, template.part
        taken = [
            mirror(shape, part.length) if template.hand == "right" else shape
            for feature in template.features
            if not isinstance(feature.marks(part.block), Spots)
            for shape in feature.removes(part.block)
        ]
        lines = hatched(Wood(body_of(frame, part.section), ()), frame.shapes(taken), _HATCH)
        inside = [line for line in lines if within(template.window, line.start) and within(template.window, line.stop)]
        self.pen.lines("waste", ((self.at(line.start), self.at(line.stop)) for line in inside), _THIN)

    def edges(self) -> None:
        """The edges of the wood: firm where the template is laid on, thin elsewhere; dots where the template ends."""
        for face in (each for each in FACES if axis_of(each) != axis_of(self.template.face)):
            self._edge(face)

    def _edge(self, face: FaceName) -> None:
        window = self.template.window
        right, up, _ = self.template.frame.size
        axis, high = self.template.frame.side(face)
        level = (right if axis == "x" else up) if high else 0.0
        low, top = (window.left, window.right) if axis == "x" else (window.top, window.bottom)
        inside = low - 0.01 <= level <= top + 0.01
        level = level if inside else top if high else low
        ends = ((level, window.top), (level, window.bottom)) if axis == "x" else ((window.left, level), (window.right, level))
        width = _FIRM if face in self.template.references else _THIN
        self.pen.lines("edge" if inside else "end", [(self.at(ends[0]), self.at(ends[1]))], width, "" if inside else "1 2")
        shown = self.shown
        along = ((shown.top, shown.bottom), (shown.left, shown.right))[axis == "y"]
        spot = (level, sum(along) / 2) if axis == "x" else (sum(along) / 2, level)
        if inside and within(shown, spot):
            self._name(face, self.at(spot), along[1] - along[0])

    def _name(self, face: FaceName, spot: Paper, room: float) -> None:
        """The name of an edge beside its middle, with what to do there, and its face mark."""
        part, side = self.template.part, self.laid.side(face)
        laid = face in self.template.references
        word = self.template.called(face)
        words = _lay(word) if laid else word
        if text_width(words, bold=laid) + _MARK > room:
            words = word
        if text_width(words, bold=laid) > room:
            return
        x, y = spot
        away = {"right": (3.4, 0.0), "left": (-3.4, 0.0), "above": (0.0, -3.4), "below": (0.0, 3.4)}[side]
        middle = (x + away[0], y + away[1])
        level = side in ("above", "below")
        if level:
            self.pen.text(words, middle, bold=laid, kind="edge-name")
        else:
            _upright(self.pen, words, middle, bold=laid)
        shift = text_width(words, bold=laid) / 2 + 3.0
        beside = (x - shift, y) if level else (x, y + shift)
        if face == part.face_edge:
            edge_mark(self.pen, beside, side)
        elif face == part.face_side:
            side_mark(self.pen, beside, side)

    def centre(self, centre: Centre) -> None:
        """The cross at a centre, the hole around it, and its diameter beside it."""
        x, y = self.at(centre.at)
        reach = centre.reach
        self.pen.lines("centre", [((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))], _THIN)
        self.pen.circle((x, y), centre.diameter / 2, 0.3)
        words = mm(centre.diameter)
        fits = x + reach + text_width(words) + 1.0 < self.tile.width
        self.pen.text(words, (x + (reach + 0.6) * (1 if fits else -1), y - 2.6), anchor="start" if fits else "end", kind="hole")

    def letter(self) -> None:
        """The letter of the part, the mark of the face side and the way of the grain, where there is most room."""
        template, shown = self.template, self.shown
        taken = [point for curve in template.curves for point in curve.points] + [centre.at for centre in template.centres]
        shares = (0.5, 0.65, 0.35, 0.8, 0.2)
        spots = [(shown.left + shown.width * u, shown.top + shown.height * v) for v in shares for u in shares]

        def room(spot: Flat) -> float:
            free = min((hypot(spot[0] - x, spot[1] - y) for x, y in taken), default=100.0)
            return round(
                min(free, spot[0] - shown.left, shown.right - spot[0], spot[1] - shown.top, shown.bottom - spot[1], 20.0), 3
            )

        x, y = self.at(max(spots, key=room))
        self.pen.circle((x, y), 4.0, 0.5, "#fff")
        self.pen.text(template.part.letter, (x, y), size=5.0 if len(template.part.letter) == 1 else 3.6, kind="letter")
        if template.face == template.part.face_side:
            side_mark(self.pen, (x + 6.5, y + 2.3), "above")
        axis = template.frame.axis(template.part.grain)
        if axis == "z":
            return
        level = (axis == "x") != self.laid.turned
        way = (1.0, 0.0) if level else (0.0, 1.0)
        foot = (x, y + 7.0) if level else (x - 7.0, y)
        start, stop = ((foot[0] + sign * 10.0 * way[0], foot[1] + sign * 10.0 * way[1]) for sign in (-1, 1))
        self.pen.lines("grain", [(start, stop)], 0.35)
        self.pen.arrow(stop, way)
        self.pen.arrow(start, (-way[0], -way[1]))

    def seam(self, words: str, spot: Paper) -> None:
        """A mark to lay over the same mark of another page."""
        x, y = spot[0] - self.tile.left, spot[1] - self.tile.top
        self.pen.circle((x, y), 2.4, 0.25, "#fff")
        self.pen.lines("register", [((x - 4.0, y), (x + 4.0, y)), ((x, y - 4.0), (x, y + 4.0))], _THIN)
        self.pen.text(words, (x + 3.4, y - 3.2), size=2.8, kind="register")


def _drawn(laid: Laid, tile: Box, seams: Sequence[tuple[str, Paper]]) -> str:
    """The piece of a template inside a tile as SVG, at full size."""
    drawing = _Drawing(Pen(), laid, tile)
    drawing.waste()
    drawing.edges()
    for curve in laid.template.curves:
        drawing.pen.path("cut", [drawing.at(point) for point in curve.points], _CUT, closed=curve.closed)
    for centre in laid.template.centres:
        drawing.centre(centre)
    drawing.letter()
    for words, spot in seams:
        drawing.seam(words, spot)
    return drawing.pen.finish(tile.width, tile.height, f"{laid.template.title}, full size")


def _upright(pen: Pen, words: str, spot: Paper, *, bold: bool) -> None:
    """A text that reads upwards, its middle at a point."""
    x, y = number(spot[0]), number(spot[1])
    weight = ' font-weight="700"' if bold else ""
    pen.elements.append(
        f'<text class="edge-name" transform="rotate(-90 {x} {y})" x="{x}" y="{number(spot[1] + TEXT * 0.35)}"'
        f' font-size="{number(TEXT)}"{weight} text-anchor="middle">{escape(words)}</text>'
    )


def scale_bar() -> str:
    """A bar of exactly 100 mm as SVG, with a tick every 10."""
    pen = Pen()
    left, y = 2.0, 3.0
    # The round ends of the line stay inside the outer ticks, between whose middles the bar is measured.
    pen.lines("bar", [((left + 0.25, y), (left + BAR - 0.25, y))], 0.5)
    ticks = [(left + 10.0 * step, 2.5 if step in (0, 10) else 1.6 if step == 5 else 1.0) for step in range(11)]
    pen.lines("bar tick", [((x, y - high), (x, y + high)) for x, high in ticks], _THIN)
    pen.text(f"{mm(BAR)} mm", (left + BAR + 3.0, y), anchor="start", kind="bar")
    return pen.finish(left + BAR + 20.0, 6.0, "A bar of 100 mm")
