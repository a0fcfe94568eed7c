"""One picture by itself, for a screen or another document: the whole, its parts, a part with its sizes, a step, the order.

mm on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from html import escape

from sequencer.design.placing import place
from sequencer.model.frame import Hand
from sequencer.model.job import Job, Part
from sequencer.model.plan import Plan, Step
from sequencer.paper import wording
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.composing import compose
from sequencer.paper.corner_pictures import with_splines
from sequencer.paper.drawing import picture
from sequencer.paper.order_picture import HEIGHT as ORDER_HEIGHT
from sequencer.paper.order_picture import WIDTH as ORDER_WIDTH
from sequencer.paper.overview import part_scene, parts_overview
from sequencer.paper.pdf import make_pdf
from sequencer.paper.pictured import Pictured
from sequencer.paper.pieces import part_panels
from sequencer.paper.scene import Scene
from sequencer.paper.svg import Pen, Picture, moved, number
from sequencer.paper.whole import Whole
from sequencer.paper.whole_scenes import assembled_scene, exploded_scene
from sequencer.paper.writing import font_faces, stylesheet
from sequencer.planning.assembling import assembled
from sequencer.proving.making import Making
from sequencer.solid.gltf import gltf_bytes
from sequencer.solid.locking import locked_whole

WIDTH, HEIGHT = 180.0, 150.0
"""Room for a picture by itself."""
_PIECE, _VIEW = 60.0, 75.0
"""Height for a part in the round, and for each of its views."""
_BETWEEN = 5.0
_UNDATED = date(2000, 1, 1)
"""Stands in the file's own record: a picture has no date, and the same job gives the same bytes."""


def whole_picture(job: Job, *, apart: bool) -> Picture:
    """The thing as it stands, or taken apart."""
    whole = Whole(job, place(job))
    together = with_splines(assembled_scene(whole), whole, tuple(job.joints.values()))
    return draw_scene(exploded_scene(whole) if apart else together, WIDTH, HEIGHT)


def locked_pieces(job: Job) -> tuple[str, ...]:
    """The pieces that no order puts together, else those that the order of the joints shuts out; none where all go together."""
    placement = place(job)
    found = locked_whole(job, placement)
    if found:
        return found[0].bodies
    shut_out = next((each for each in assembled(job).closings if each.locked is not None), None)
    if shut_out is None or shut_out.locked is None:
        return ()
    return tuple(piece for body in shut_out.locked.bodies for piece in shut_out.bodies[body])


def pieces_picture(job: Job, pieces: Sequence[str]) -> Picture:
    """Some pieces of the thing where they stand, each by itself: `A 1` is the first piece of part A."""
    shown = assembled_scene(Whole(job, place(job)), pieces)
    chosen = (piece for piece in job.pieces() if piece in pieces)
    things = tuple(replace(thing, letter=_piece_label(job, piece)) for thing, piece in zip(shown.things, chosen, strict=True))
    return draw_scene(replace(shown, things=things), WIDTH, HEIGHT)


def _piece_label(job: Job, piece: str) -> str:
    """The letter of a piece's part, with what tells it from the part's other pieces as its name does."""
    return f"{job.part_of(piece).letter} {piece.partition('.')[2]}".strip()


def parts_picture(job: Job) -> Picture:
    """Every part once, at one scale."""
    return parts_overview(job, WIDTH, HEIGHT)


def part_picture(job: Job, part: Part) -> Picture:
    """A part as drawn: its hands in the round, then every face that something is cut in, with the sizes."""
    pen = Pen()
    top, readable = 0.0, True
    hands = dict.fromkeys(piece.hand for piece in part.pieces)
    room = (WIDTH - _BETWEEN * (len(hands) - 1)) / len(hands)
    drawn = [draw_scene(_named(part_scene(job, part, hand), part, hand), room, _PIECE) for hand in hands]
    tall = max(each.height for each in drawn)
    for index, each in enumerate(drawn):
        pen.elements.append(moved(each, index * (room + _BETWEEN), tall - each.height))
        readable = readable and each.readable
    top += tall + _BETWEEN
    for panel in part_panels(part, set()):
        used, read = compose(pen, panel.main, panel.section, 0.0, top, WIDTH, _VIEW)
        top, readable = top + used + _BETWEEN, readable and read
    top -= _BETWEEN
    return Picture(pen.finish(WIDTH, top, f"{part.name} of {job.name}"), WIDTH, top, tuple(pen.boxes), readable)


def _named(scene: Scene, part: Part, hand: Hand | None) -> Scene:
    return replace(scene, things=tuple(replace(thing, letter=part.letter, name=hand or "") for thing in scene.things))


def step_picture(step: Step, plan: Plan, job: Job, making: Making) -> Picture:
    """A step's picture as on the card; NOTHING where it has none."""
    return picture(step, Pictured(plan, job, making))


def as_svg(shown: Picture) -> bytes:
    """The picture as an SVG file."""
    return f"{shown.svg}\n".encode()


def order_svg(shown: Picture) -> bytes:
    """The order as an SVG file with the fonts inside it: its sentences fill their column, and another font might run over."""
    opened, _, rest = shown.svg.partition(">")
    return f"{opened}><style>{font_faces()}</style>{rest}\n".encode()


def as_pdf(shown: Picture, title: str) -> bytes:
    """The picture on a page by itself with its title and the caution. NoPango if PDF cannot be made here."""
    return _pdf([f"<h1>{escape(title)}</h1>{shown.svg}"], title, "on-a4")


def order_pdf(sheets: Sequence[Picture], title: str) -> bytes:
    """The sheets of an order, each on a page of A4 across with the caution; one that is larger is made smaller to fit. NoPango
    if PDF cannot be made here."""
    return _pdf([_fitted(sheet, ORDER_WIDTH, ORDER_HEIGHT) for sheet in sheets], title, "on-a4 landscape")


def _fitted(shown: Picture, width: float, height: float) -> str:
    """The picture's lines, made smaller where it is larger than a room."""
    scale = min(1.0, width / shown.width, height / shown.height)
    size = f'width="{number(shown.width)}mm" height="{number(shown.height)}mm"'
    return shown.svg.replace(size, f'width="{number(shown.width * scale)}mm" height="{number(shown.height * scale)}mm"', 1)


def _pdf(contents: Sequence[str], title: str, page: str) -> bytes:
    day = _UNDATED
    caution = f'<p class="small">{escape(wording.CAUTION)}</p>'
    sections = "".join(f'<section class="page">{content}{caution}</section>' for content in contents)
    html = (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"/><title>{escape(title)}</title>'
        f'<meta name="dcterms.created" content="{day.isoformat()}"/><meta name="dcterms.modified" content="{day.isoformat()}"/>'
        f'</head><body class="{page}">{sections}</body></html>'
    )
    return make_pdf(html, stylesheet(), day, lambda done, count: None, strict=False)


def as_model(job: Job) -> bytes:
    """The thing as it stands as a glTF model."""
    return gltf_bytes(Whole(job, place(job)).standing)
