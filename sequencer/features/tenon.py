"""Tenon: the end of a part cut thinner and narrower, to enter a mortise; bare-faced, haunched or plain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal

from sequencer.features.base import NEAR, Dimension, Feature, finding, mm, outside_part, refuse, register
from sequencer.features.placing import Span, at_an_end, lines_across, point, prism
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, Distance, Face, Length
from sequencer.model.frame import Axis, Block, FaceName, axis_of
from sequencer.model.marks import Haunch as MarkedHaunch
from sequencer.model.marks import Marks, Shoulders
from sequencer.model.shapes import Shape, box

THICKNESS_SOURCE = "W. Fairham, Woodwork Joints: a third of the thickness; Building Construction vol. 3: a quarter to a third"
WIDTH_SOURCE = "Building Construction vol. 3: at most 5 times its thickness; rules of thumb of a boatbuilding course: 6 times"
BAREFACED_SOURCE = "common practice: with one shoulder only the tenon may be up to two thirds of the thickness"
HAUNCH_SOURCE = (
    "rules of thumb of a boatbuilding course: a haunch is about a cube of the tenon's thickness; W. Fairham, Woodwork Joints: as "
    "wide and deep as the groove it fills"
)
HAUNCH_LEAST, HAUNCH_MOST = 1 / 2, 2.0
"""A haunch stands out between these shares of the tenon's thickness: common practice about the rule of one."""


@dataclass(frozen=True, kw_only=True)
class Haunch:
    """The stub left on a tenon at the edge `side`, out to that edge: `length` out from the shoulder; `sloping` falls to the
    shoulder at the edge, and does not show."""

    __pydantic_config__ = STRICT

    side: Face
    length: Length
    form: Literal["square", "sloping"] = "square"


@register
@dataclass(frozen=True, kw_only=True)
class Tenon(Feature):
    """At an `end`, `length` long, `thickness` thick, `width` wide (the whole width without one); centred unless
    `from_bottom` or `from_outside` say how wide the shoulder is there. `from_outside: 0` makes it bare-faced, with one
    shoulder only. `haunch` leaves a stub beside it."""

    gives: ClassVar = (
        "feature.length",
        "feature.width",
        "feature.thickness",
        "feature.cheek",
        "feature.edge",
        "feature.narrower",
        "feature.thinner",
        "feature.depth",
        "feature.remaining",
        "feature.haunch",
        "feature.count",
    )

    kind: ClassVar = "tenon"
    title: ClassVar = "tenon"
    says: ClassVar = "the end of a part cut thinner, and narrower if wanted, to enter a mortise"

    end: Face
    length: Length
    thickness: Length
    width: Length | None = None
    from_bottom: Distance | None = None
    from_outside: Distance | None = None
    haunch: Haunch | None = None

    def __post_init__(self) -> None:
        at_an_end(self.title, self.end)
        if self.haunch is None:
            return
        if axis_of(self.haunch.side) != "y":
            raise refuse(f"a haunch stands at the top or the bottom edge; {self.haunch.side} is neither")
        if self.haunch.length >= self.length:
            raise refuse(
                f"the haunch is {mm(self.haunch.length)} mm long; it must be shorter than the tenon, {mm(self.length)} mm"
            )

    def section(self, block: Block) -> tuple[Span, Span]:
        """Where the tenon lies along the width and along the thickness."""
        wide = block.width if self.width is None else self.width
        low = (block.width - wide) / 2 if self.from_bottom is None else self.from_bottom
        back = (block.thickness - self.thickness) / 2 if self.from_outside is None else self.from_outside
        return (low, low + wide), (back, back + self.thickness)

    def shoulders(self, block: Block) -> dict[FaceName, float]:
        """Depth of the shoulder at each of the four faces, 0 where there is none."""
        (low, high), (back, front) = self.section(block)
        depths: dict[FaceName, float] = {
            "inside": block.thickness - front,
            "outside": back,
            "top": block.width - high,
            "bottom": low,
        }
        return {face: depth if depth > NEAR else 0.0 for face, depth in depths.items()}

    def removes(self, block: Block) -> tuple[Shape, ...]:
        along = block.span(self.end, 0.0, self.length)
        (low, high), (back, front) = self.section(block)
        whole, cheek, depths = (0.0, block.width), (max(back, 0.0), min(front, block.thickness)), self.shoulders(block)
        waste: dict[FaceName, tuple[Span, Span]] = {
            "inside": (whole, (front, block.thickness)),
            "outside": (whole, (0.0, back)),
            "top": ((high, block.width), cheek),
            "bottom": ((0.0, low), cheek),
        }
        return tuple(
            self._beside_haunch(block, *spans) if self.haunch is not None and face == self.haunch.side else box(along, *spans)
            for face, spans in waste.items()
            if depths[face] and cheek[0] < cheek[1]
        )

    def _beside_haunch(self, block: Block, wide: Span, cheek: Span) -> Shape:
        """What comes off at the edge of the haunch: all of it beyond the haunch, square or down to the shoulder."""
        assert self.haunch is not None
        inner, outer = wide if self.haunch.side == "top" else wide[::-1]
        tip, shoulder = block.level(self.end), block.inward(self.end, self.length)
        out = block.inward(self.end, self.length - self.haunch.length)
        at_edge = out if self.haunch.form == "square" else shoulder
        corners: tuple[dict[Axis, float], ...] = (
            {"x": tip, "y": inner},
            {"x": tip, "y": outer},
            {"x": at_edge, "y": outer},
            {"x": out, "y": inner},
        )
        return prism("z", corners, cheek)

    def marks(self, block: Block) -> Marks:
        wide = block.width if self.width is None else self.width
        gaps: dict[FaceName, float | None] = {"bottom": self.from_bottom, "outside": self.from_outside}
        at = {face: gap for face, gap in gaps.items() if gap is not None}
        keeps = lines_across(block, at, "y", wide), lines_across(block, at, "z", self.thickness)
        haunch = self.haunch
        if haunch is None:
            return Shoulders(self.end, self.length, keeps)
        return Shoulders(self.end, self.length, keeps, MarkedHaunch(haunch.side, haunch.length, haunch.form == "sloping"))

    def figures(self, block: Block) -> dict[str, float]:
        (low, high), (back, _) = self.section(block)
        return {
            "feature.length": self.length,
            "feature.width": high - low,
            "feature.thickness": self.thickness,
            "feature.cheek": back,
            "feature.edge": low,
            "feature.narrower": block.width - (high - low),
            "feature.thinner": block.thickness - self.thickness,
            "feature.depth": max(self.shoulders(block).values()),
            "feature.remaining": min(self.thickness, high - low),
            "feature.haunch": self.haunch.length if self.haunch is not None else 0.0,
            "feature.count": 1.0,
        }

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        (low, high), (back, front) = self.section(block)
        tip, shoulder = block.level(self.end), block.inward(self.end, self.length)

        def size(axis: Axis, start: float, stop: float) -> Dimension:
            corner: dict[Axis, float] = {"x": tip, "y": low, "z": front}
            return Dimension(axis, point(corner | {axis: start}), point(corner | {axis: stop}), mm(abs(stop - start)))

        depths = self.shoulders(block)
        sizes = [size("x", tip, shoulder)]
        if depths["bottom"]:
            sizes.append(size("y", 0.0, low))
        if depths["bottom"] or depths["top"]:
            sizes.append(size("y", low, high))
        if depths["top"]:
            sizes.append(size("y", high, block.width))
        if depths["outside"]:
            sizes.append(size("z", 0.0, back))
        if depths["outside"] or depths["inside"]:
            sizes.append(size("z", back, front))
        if depths["inside"]:
            sizes.append(size("z", front, block.thickness))
        if self.haunch is not None:
            out = block.inward(self.end, self.length - self.haunch.length)
            edge = high if self.haunch.side == "top" else low
            root: dict[Axis, float] = {"x": shoulder, "y": edge, "z": front}
            sizes.append(Dimension("x", point(root), point(root | {"x": out}), mm(self.haunch.length)))
        return tuple(sizes)

    def opens(self) -> tuple[FaceName, ...]:
        """The end, and the faces that may have a shoulder: which have, depends on the part."""
        faces: list[FaceName] = ["inside"]
        faces += [] if self.from_outside == 0 else ["outside"]
        if self.width is not None:
            faces += ["top"] if self.from_bottom == 0 else ["top", "bottom"]
        return (*faces, self.end)

    def measured_from(self) -> tuple[FaceName, ...]:
        faces: list[FaceName] = [self.end, "outside"]
        faces += ["inside"] if self.from_outside is None else []
        if self.width is not None:
            faces += ["bottom", "top"] if self.from_bottom is None else ["bottom"]
        return tuple(faces)

    def lines(self, block: Block) -> dict[str, tuple[FaceName, float]]:
        return {"shoulder": (self.end, self.length)}

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        (low, high), (back, front) = self.section(block)
        for word, size, start, stop in (("wide", block.width, low, high), ("thick", block.thickness, back, front)):
            if start < -NEAR or stop > size + NEAR:
                yield finding(
                    self,
                    "error",
                    "tenon-outside-section",
                    f"The tenon lies from {mm(start)} to {mm(stop)} mm and the part is only {mm(size)} mm {word}.",
                    remedy="Make the tenon smaller or move it inwards.",
                )
                return
        if self.length >= block.length - NEAR:
            yield finding(
                self,
                "error",
                "tenon-too-long",
                f"The tenon is {mm(self.length)} mm long and the part {mm(block.length)} mm: no shoulder is left.",
                remedy="Make the tenon shorter.",
            )
            return
        if not self.removes(block):
            yield finding(
                self,
                "error",
                "no-shoulder",
                "The tenon is as large as the part: it has no shoulder.",
                remedy="Make it thinner, or let the whole end in by a mortise or housing.",
            )
            return
        yield from outside_part(self, block)
        share, depths = self.thickness / block.thickness, self.shoulders(block)
        barefaced = (depths["inside"] == 0.0) != (depths["outside"] == 0.0)
        most, words = (2 / 3, "two thirds") if barefaced else (1 / 2, "a half")
        # A tenon as thick as the part has its shoulders on the edges; the rule is for shoulders on the faces.
        if share < 1 / 4 - NEAR or most + NEAR < share < 1 - NEAR:
            usual = block.thickness * (1 / 2 if barefaced else 1 / 3)
            yield finding(
                self,
                "warning",
                "tenon-thickness",
                f"The {'bare-faced ' if barefaced else ''}tenon is {mm(self.thickness)} mm thick in {mm(block.thickness)} mm of "
                f"wood; a quarter to {words} is {mm(block.thickness / 4)} to {mm(block.thickness * most)} mm.",
                why="A thin tenon breaks; a thick one leaves weak shoulders and a weak mortise.",
                remedy=f"Make it about {mm(usual)} mm.",
                source=BAREFACED_SOURCE if barefaced else THICKNESS_SOURCE,
            )
        yield from self._haunch_check(block)
        if high - low > 6 * self.thickness + NEAR:
            yield finding(
                self,
                "warning",
                "tenon-width",
                f"The tenon is {mm(high - low)} mm wide; six times its thickness is {mm(6 * self.thickness)} mm.",
                why="A wide tenon shrinks loose and its long mortise weakens the other part.",
                remedy="Make it narrower, or make two.",
                source=WIDTH_SOURCE,
            )
        if grain != "x":
            yield finding(
                self,
                "warning",
                "short-grain",
                "The tenon lies across the grain of its part.",
                why="Short grain breaks away.",
                remedy="Let the grain run along the tenon.",
                source="common practice",
            )

    def _haunch_check(self, block: Block) -> Iterator[Finding]:
        """A haunch needs an edge to stand at, and stands out about as far as the tenon is thick."""
        haunch = self.haunch
        if haunch is None:
            return
        if not self.shoulders(block)[haunch.side]:
            yield finding(
                self,
                "error",
                "no-haunch",
                f"The tenon reaches the {haunch.side} edge of the part, where its haunch is to stand: nothing is left for it.",
                remedy="Make the tenon narrower, or move it away from that edge.",
            )
        elif not HAUNCH_LEAST - NEAR <= haunch.length / self.thickness <= HAUNCH_MOST + NEAR:
            yield finding(
                self,
                "warning",
                "haunch-length",
                f"The haunch stands {mm(haunch.length)} mm out and the tenon is {mm(self.thickness)} mm thick.",
                why="A short haunch does not keep the edge from twisting; a long one weakens the end of the mortised part.",
                remedy=f"Make it about {mm(self.thickness)} mm long.",
                source=HAUNCH_SOURCE,
            )
