"""A small pen: collects SVG elements in millimetres on paper, y downwards, fixed decimals, black on white."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from html import escape

Paper = tuple[float, float]

TEXT = 3.5
"""Height of the letters' em on drawings, mm: 9.9 pt."""

# Advance widths of our font from the space to the tilde, thousandths of the em, as the font files give them.
_REGULAR = (
    280,
    281,
    301,
    655,
    594,
    927,
    705,
    160,
    300,
    300,
    433,
    602,
    205,
    368,
    205,
    377,
    648,
    402,
    549,
    574,
    614,
    583,
    598,
    510,
    615,
    598,
    205,
    205,
    553,
    602,
    553,
    520,
    780,
    626,
    619,
    656,
    673,
    567,
    548,
    710,
    690,
    414,
    510,
    627,
    539,
    820,
    689,
    727,
    601,
    753,
    618,
    596,
    558,
    690,
    589,
    840,
    623,
    595,
    607,
    315,
    377,
    315,
    552,
    396,
    268,
    526,
    566,
    500,
    564,
    539,
    311,
    560,
    546,
    278,
    254,
    490,
    239,
    841,
    546,
    552,
    566,
    576,
    340,
    471,
    324,
    536,
    441,
    654,
    461,
    429,
    460,
    319,
    233,
    319,
    555,
)
_BOLD = (
    320,
    283,
    410,
    783,
    619,
    977,
    702,
    222,
    366,
    366,
    434,
    618,
    243,
    374,
    243,
    442,
    652,
    448,
    586,
    605,
    626,
    612,
    632,
    543,
    625,
    561,
    243,
    243,
    573,
    618,
    573,
    614,
    754,
    690,
    639,
    673,
    686,
    580,
    544,
    719,
    679,
    458,
    560,
    659,
    537,
    842,
    700,
    764,
    626,
    781,
    654,
    619,
    617,
    663,
    656,
    883,
    699,
    687,
    621,
    333,
    442,
    333,
    589,
    430,
    314,
    553,
    596,
    520,
    596,
    566,
    367,
    597,
    572,
    315,
    259,
    567,
    314,
    886,
    572,
    573,
    596,
    601,
    372,
    534,
    379,
    570,
    526,
    723,
    533,
    518,
    516,
    370,
    234,
    370,
    533,
)
_OTHER = 1000
"""For letters beyond ASCII: another font may have to print them, so a whole em."""


@lru_cache(maxsize=4096)
def text_width(text: str, size: float = TEXT, *, bold: bool = True) -> float:
    """How wide a text prints in our font, in the unit of `size`."""
    widths = _BOLD if bold else _REGULAR
    return size / 1000 * sum(widths[ord(char) - 32] if 32 <= ord(char) < 127 else _OTHER for char in text)


def shortened(words: str, width: float, size: float = TEXT) -> str:
    """Words cut to a width, with dots where they were cut."""
    if text_width(words, size, bold=False) <= width:
        return words
    while words and text_width(words + "…", size, bold=False) > width:
        words = words[:-1]
    return words.rstrip() + "…"


def number(value: float) -> str:
    """A coordinate with two decimals at most, never `-0`."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@dataclass(frozen=True)
class Box:
    """A rectangle on paper, mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two boxes share any area, or come closer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def moved(self, x: float, y: float) -> Box:
        """The box shifted by x and y."""
        return Box(self.left + x, self.top + y, self.right + x, self.bottom + y)


@dataclass(frozen=True)
class Picture:
    """An SVG with its size on paper, mm, and where its texts stand. `svg` is empty where there is nothing to draw;
    `readable` is False where the room was too narrow for it.
    """

    svg: str
    width: float
    height: float
    texts: tuple[Box, ...] = ()
    readable: bool = True


NOTHING = Picture("", 0.0, 0.0)


def moved(picture: Picture, x: float, y: float) -> str:
    """A picture's lines somewhere else in another picture."""
    inner = picture.svg.partition(">")[2].removesuffix("</svg>")
    return f'<g transform="translate({x:.2f} {y:.2f})">{inner}</g>'


@dataclass
class Pen:
    """Collects elements; `finish` writes them as one SVG."""

    elements: list[str] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    """Where text stands, for whoever must keep clear of it."""

    def lines(self, kind: str, pieces: Iterable[tuple[Paper, Paper]], width: float, dash: str = "") -> None:
        """Straight pieces as one path; pieces that follow on are joined. `kind` is the path's class."""
        steps: list[str] = []
        end: Paper | None = None
        for start, stop in pieces:
            if end is None or abs(start[0] - end[0]) + abs(start[1] - end[1]) > 0.01:
                steps.append(f"M{number(start[0])} {number(start[1])}")
            steps.append(f"L{number(stop[0])} {number(stop[1])}")
            end = stop
        if steps:
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            self.elements.append(
                f'<path class="{kind}" d="{"".join(steps)}" fill="none" stroke="#000" stroke-width="{number(width)}"'
                f' stroke-linecap="round"{dashes}/>'
            )

    def path(self, kind: str, points: Sequence[Paper], width: float, *, closed: bool = False, fill: str = "none") -> None:
        """A bent line or an outline."""
        steps = "".join(f"{'L' if index else 'M'}{number(x)} {number(y)}" for index, (x, y) in enumerate(points))
        self.elements.append(
            f'<path class="{kind}" d="{steps}{"Z" if closed else ""}" fill="{fill}" stroke="#000"'
            f' stroke-width="{number(width)}" stroke-linejoin="round" stroke-linecap="round"/>'
        )

    def strokes(self, kind: str, bent: Iterable[Sequence[Paper]], width: float, dash: str = "") -> None:
        """Bent lines as one path; nothing without any."""
        steps = "".join(
            f"{'L' if index else 'M'}{number(x)} {number(y)}" for points in bent for index, (x, y) in enumerate(points)
        )
        if steps:
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            self.elements.append(
                f'<path class="{kind}" d="{steps}" fill="none" stroke="#000" stroke-width="{number(width)}"'
                f' stroke-linejoin="round" stroke-linecap="round"{dashes}/>'
            )

    def curve(self, kind: str, steps: str, width: float) -> None:
        """A path in SVG's own path language."""
        self.elements.append(
            f'<path class="{kind}" d="{steps}" fill="none" stroke="#000" stroke-width="{number(width)}"'
            ' stroke-linejoin="round" stroke-linecap="round"/>'
        )

    def circle(self, centre: Paper, radius: float, width: float, fill: str = "none") -> None:
        self.elements.append(
            f'<circle cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius)}" fill="{fill}" stroke="#000"'
            f' stroke-width="{number(width)}"/>'
        )

    def arrow(self, tip: Paper, towards: Paper, size: float = 1.9) -> None:
        """A slim filled arrowhead with its tip at a point, looking along `towards` (a unit step)."""
        (x, y), (dx, dy) = tip, towards
        back, half = size, size * 0.28
        points = (
            (x, y),
            (x - dx * back - dy * half, y - dy * back + dx * half),
            (x - dx * back + dy * half, y - dy * back - dx * half),
        )
        steps = "".join(f"{'L' if index else 'M'}{number(px)} {number(py)}" for index, (px, py) in enumerate(points))
        self.elements.append(f'<path class="arrow" d="{steps}Z" fill="#000"/>')

    def text(
        self,
        words: str,
        at: Paper,
        *,
        size: float = TEXT,
        bold: bool = True,
        kind: str = "label",
        anchor: str = "middle",
        clear: bool = False,
    ) -> None:
        """A text whose middle line stands at a point. `clear` whitens the ground behind it first."""
        width = text_width(words, size, bold=bold)
        left = at[0] - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        box = Box(left, at[1] - size * 0.48, left + width, at[1] + size * 0.48)
        self.boxes.append(box)
        if clear:
            self.elements.append(
                f'<rect x="{number(box.left)}" y="{number(box.top)}" width="{number(box.width)}"'
                f' height="{number(box.height)}" fill="#fff"/>'
            )
        weight = ' font-weight="700"' if bold else ""
        self.elements.append(
            f'<text class="{kind}" x="{number(at[0])}" y="{number(at[1] + size * 0.35)}" font-size="{number(size)}"'
            f'{weight} text-anchor="{anchor}">{escape(words)}</text>'
        )

    def finish(self, width: float, height: float, title: str) -> str:
        """The whole picture; `title` is read out by screen readers."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" width="{number(width)}mm" height="{number(height)}mm"'
            f' viewBox="0 0 {number(width)} {number(height)}" role="img" aria-label="{escape(title)}"'
            f' font-family="Atkinson Hyperlegible, sans-serif">{"".join(self.elements)}</svg>'
        )
