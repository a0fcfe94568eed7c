"""How the picture of the order draws boxes, arrows and the codes on them. mm on paper; black lines on white."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

from sequencer.model.plan import ReasonKind, Step
from sequencer.paper.order_layout import CLEAR, CODE, GAP, HEAD, Fork, Sheet
from sequencer.paper.order_links import Chain, Link
from sequencer.paper.svg import Box, Paper, Pen, Picture, moved, number, text_width

KINDS: Mapping[ReasonKind, tuple[str, str]] = {
    "reference": ("Rf", "measured or marked from what is true"),
    "support": ("Su", "held and borne well enough"),
    "holding": ("Ho", "gripped while it can be gripped well"),
    "reach": ("Rc", "cannot be got at later"),
    "datum": ("Da", "the edge it is measured from is still there"),
    "break-out": ("Br", "an edge would break out"),
    "splitting": ("Sp", "wood or glass would split"),
    "fit": ("Fi", "must be made before it is tried"),
    "surface": ("Sf", "faces stay clean, edges sharp"),
    "capture": ("Cp", "goes in before it is closed in"),
    "cure": ("Cu", "glue or finish needs its time"),
    "sequence": ("Sq", "acts that follow each other"),
    "drawing": ("Dr", "the drawing asks for it"),
    "decision": ("De", "somebody decided it"),
    "choice": ("Ch", "dashed; no demand, one of two"),
}
"""The code of each kind of reason on the arrows, and what it means."""

THIN, _HEAVY = 0.25, 0.9


def code_of(link: Link) -> str:
    """What stands on an arrow: the codes of the kinds of its reasons."""
    return "+".join(KINDS[kind][0] for kind in link.kinds)


def draw_upright(pen: Pen, words: str, foot: Paper, size: float, *, bold: bool, kind: str, anchor: str = "start") -> None:
    """A text that runs upwards from a point, or up to it with `end`."""
    x, y = foot
    wide = text_width(words, size, bold=bold)
    up = y if anchor == "start" else y + wide
    pen.boxes.append(Box(x - size * 0.48, up - wide, x + size * 0.48, up))
    weight = ' font-weight="700"' if bold else ""
    pen.elements.append(
        f'<text class="{kind}" transform="translate({x + size * 0.35:.2f} {y:.2f}) rotate(-90)" font-size="{size}"'
        f'{weight} text-anchor="{anchor}">{escape(words)}</text>'
    )


# Boxes


def shape_of(step: Step) -> str:
    """Which shape a step is drawn in: `student`, `staff`, `set-up` (guards put back too) or `wait`."""
    if step.kind == "work":
        return step.card
    return "wait" if step.kind == "wait" else "set-up"


def draw_step(pen: Pen, step: Step, box: Box, *, heavy: bool) -> None:
    pen.elements.append(f'<g class="step" data-step="{step.number}">')
    draw_shape(pen, shape_of(step), box, _HEAVY if heavy else THIN)
    pen.text(str(step.number), ((box.left + box.right) / 2, (box.top + box.bottom) / 2), size=3.0, kind="step-number")
    pen.elements.append("</g>")


def draw_shape(pen: Pen, shape: str, box: Box, width: float) -> None:
    """Students' work is a plain box, staff's a double one; a set-up has its corners cut; a wait is pointed at both sides."""
    middle = (box.top + box.bottom) / 2
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    if shape == "wait":
        inner_left, inner_right = left + 1.6, right - 1.6
        upper = [(left, middle), (inner_left, top), (inner_right, top), (right, middle)]
        corners = [*upper, (inner_right, bottom), (inner_left, bottom)]
    elif shape == "set-up":
        corners = _cut_corners(box, 1.1)
    else:
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    pen.path(shape, corners, width, closed=True, fill="#fff")
    if shape in ("staff", "set-up"):
        inner = Box(left + 0.8, top + 0.8, right - 0.8, bottom - 0.8)
        pen.path(f"{shape}-inner", _cut_corners(inner, 0.8 if shape == "set-up" else 0.0), 0.18, closed=True)


def _cut_corners(box: Box, cut: float) -> list[Paper]:
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    return [
        (left + cut, top),
        (right - cut, top),
        (right, top + cut),
        (right, bottom - cut),
        (right - cut, bottom),
        (left + cut, bottom),
        (left, bottom - cut),
        (left, top + cut),
    ]


# Arrows


@dataclass(frozen=True)
class _Line:
    """The line of a link."""

    link: Link
    points: Sequence[Paper]
    heavy: bool

    def draw(self, pen: Pen) -> None:
        """A tie is thinner, since it is two lines; what nothing demands is dashed."""
        width = (_HEAVY if self.heavy else THIN) / (1.6 if self.link.tie else 1.0)
        dashes = ' stroke-dasharray="1.1 0.9"' if self.link.kinds == ("choice",) else ""
        kind = f"{'tie' if self.link.tie else 'link'}{' heavy' if self.heavy else ''}"
        pen.elements.append(
            f'<path class="{kind}" data-link="{self.link.before}-{self.link.after}" d="{_steps(self.points)}" fill="none"'
            f' stroke="#000" stroke-width="{number(width)}" stroke-linejoin="round" stroke-linecap="butt"{dashes}/>'
        )


def draw_arrows(pen: Pen, sheet: Sheet, chain: Chain, top: float) -> None:
    """All arrows: thin lines first, the longest chain over them, then heads, dots and codes, which no line crosses."""
    lines: list[_Line] = []
    marks = Pen()
    for fork in sheet.forks:
        lines += _fork(marks, fork, sheet, chain)
    for link in sheet.straight:
        lines += _straight(marks, link, sheet, chain)
    drawn = Pen()
    for line in sorted(lines, key=lambda line: line.heavy):
        line.draw(drawn)
    for each in (drawn, marks):
        pen.elements.append(moved(Picture(each.finish(0, 0, ""), 0, 0), 0.0, top))
    pen.boxes += [box.moved(0.0, top) for box in marks.boxes]


def _fork(marks: Pen, fork: Fork, sheet: Sheet, chain: Chain) -> list[_Line]:
    """All arrows that leave a step sideways."""
    if fork.from_above:
        draw_upright(marks, f"from {fork.before}", (fork.x, -0.8), CODE, bold=False, kind="from")
    if fork.beyond:
        draw_upright(marks, goes_on(fork), (fork.x, fork.bottom + 0.8), CODE, bold=False, kind="to", anchor="end")
    start = (fork.x if fork.from_above else _side(sheet.boxes[fork.before], fork.x), fork.start)
    lines = []
    for link in fork.links:
        heavy = (link.before, link.after) in chain.pairs
        if link.after in fork.beyond:
            lines.append(_Line(link, [start, (fork.x, fork.start), (fork.x, fork.bottom)], heavy))
            continue
        y, side = fork.ends[link.after], _side(sheet.boxes[link.after], fork.x)
        towards = 1.0 if side > fork.x else -1.0
        lines.append(_Line(link, [start, (fork.x, fork.start), (fork.x, y), (side - towards * HEAD * 0.8, y)], heavy))
        _head(marks, (side, y), (towards, 0.0), heavy)
        wide = text_width(code_of(link), CODE)
        middle = side - towards * (HEAD + CLEAR + wide / 2)
        ground = _steps([(middle - wide / 2 - 0.3, y), (middle + wide / 2 + 0.3, y)])
        marks.elements.append(f'<path class="ground" d="{ground}" fill="none" stroke="#fff" stroke-width="{number(CODE)}"/>')
        marks.text(code_of(link), (middle, y), size=CODE, kind="code")
    for y in sorted(set(fork.ends.values())):
        if y < fork.bottom - 0.01:
            marks.circle((fork.x, y), 0.6, 0.1, fill="#000")
    return lines


def _head(marks: Pen, tip: Paper, towards: Paper, heavy: bool) -> None:
    """An arrowhead, broader than its line."""
    (x, y), (along, down), half = tip, towards, 1.15 if heavy else 0.6
    back = (x - along * HEAD, y - down * HEAD)
    corners = (tip, (back[0] - down * half, back[1] + along * half), (back[0] + down * half, back[1] - along * half))
    marks.elements.append(f'<path class="arrow" d="{_steps(corners)}Z" fill="#000"/>')


def goes_on(fork: Fork) -> str:
    """What stands where an arrow leaves its sheet."""
    return f"to {', '.join(str(each) for each in fork.beyond)}"


def _steps(points: Sequence[Paper]) -> str:
    return "".join(f"{'L' if index else 'M'}{number(x)} {number(y)}" for index, (x, y) in enumerate(points))


def _side(box: Box, x: float) -> float:
    """The edge of a box that looks towards x."""
    return box.left if x < box.left else box.right


def _straight(marks: Pen, link: Link, sheet: Sheet, chain: Chain) -> list[_Line]:
    """An arrow to the next box of the same lane; a tie is two lines without a head."""
    above, below = sheet.boxes[link.before], sheet.boxes[link.after]
    x = (below.left + below.right) / 2
    heavy = (link.before, link.after) in chain.pairs
    if link.tie:
        return [_Line(link, [(x + aside, above.bottom), (x + aside, below.top)], heavy) for aside in (-0.8, 0.8)]
    _head(marks, (x, below.top), (0.0, 1.0), heavy)
    marks.text(code_of(link), (x + 1.4, below.top - GAP), size=CODE, anchor="start", kind="code")
    return [_Line(link, [(x, above.bottom), (x, below.top - HEAD * 0.8)], heavy)]
