"""What every feature kind gives. A kind is one module in this folder with one registered class; nothing else lists it.

A kind gives its fields with limits (dataclass fields, typed by `model.fields`), what it removes as neutral shapes, the
figures planning may ask, the dimensions a drawing shows, and its own design checks. All in the part's frame, mm.

What is wrong with a feature whatever its part is refused when it is made (`refuse`); what depends on the part is found by
`check`. So `removes`, `figures` and `dimensions` answer for every feature that exists, also for one outside its part. A cut
that opens a face ends exactly at that face: shapes never stand over the part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Annotated, ClassVar, Literal, TypeVar

from pydantic import Field
from pydantic_core import PydanticCustomError

from sequencer.findings import Finding, Level
from sequencer.model.fields import STRICT
from sequencer.model.frame import AXES, AXIS_WORDS, FACES, Axis, Block, FaceName, Hand, Point, axis_of, is_high
from sequencer.model.marks import Marks
from sequencer.model.shapes import Shape, bounds_of

ShapeLeft = Literal["round", "tapered", "curved", "bevelled"]
"""What a cut may leave where a later one is held (`lists/shapes.yaml`)."""


@dataclass(frozen=True)
class Dimension:
    """A size a drawing shows: measured along an axis between two points of the part's frame."""

    along: Axis
    start: Point
    stop: Point
    label: str
    """What is printed: `8`, `diameter 10`, `45 degrees`. Whole millimetres without unit."""
    slope: Point | None = None
    """For an angle: the corner is `start`, one arm runs to `stop`, the other to this point."""

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The axes that must lie in the picture's plane for it to be seen."""
        ends = (self.stop,) if self.slope is None else (self.stop, self.slope)
        spread = (axis for axis in AXES for end in ends if abs(getattr(end, axis) - getattr(self.start, axis)) > NEAR)
        return tuple(dict.fromkeys((self.along, *(spread if self.slope is not None else ()))))


@dataclass(frozen=True, kw_only=True)
class Feature:
    """The fields every kind has, and the questions planning, checks and drawings may ask."""

    __pydantic_config__ = STRICT

    kind: ClassVar[str]
    """The name in the job file."""
    title: ClassVar[str]
    """The trade's name, as printed."""
    says: ClassVar[str]
    """One line for the reference page: what the kind is."""
    gives: ClassVar[tuple[str, ...]]
    """Names from `model.quantities` that `figures` returns for every feature of this kind."""

    nature: ClassVar[Literal["bored", "cut", "shape", "edge"]] = "cut"
    """What it is to the order of work: `bored` (holes: before cuts that run into them), `cut` (square work), `shape`
    (takes a straight face away: curves, tapers, bevels, mitres), `edge` (breaks an edge that must exist: chamfers)."""
    shape_left: ClassVar[ShapeLeft | None] = None
    """What the faces that it `spoils` have become, for whatever is held there later; None if it spoils none."""

    sawn_to_line: ClassVar[bool] = False
    """Whether it leaves a surface that is sawn and filed and that no plane follows: curves, cut-outs."""

    own_walls: ClassVar[bool] = False
    """Whether only its own check says how thin the wood beside it may be: pins, fingers, strips that wedges bend."""

    name: str = ""
    """Its key in the part; set by the reader."""
    when: Literal["loose", "assembled"] = "loose"
    """Whether it is cut before the parts are joined or after."""
    only: Hand | None = None
    """On which hand of a handed part it is."""
    note: str = ""
    """Words of the teacher's for the card on which it is cut."""
    marking: str = ""
    """The same for the card on which its part is marked out."""
    within: Annotated[str, Field(alias="in")] = ""
    """The feature of the same part it is measured from (`in: tenon`); its lines may then stand where faces do."""

    def on(self, block: Block) -> Feature:
        """The same feature as it is said best on a part of this size; most are said as they are drawn."""
        return self

    def removes(self, block: Block) -> tuple[Shape, ...]:
        """The shapes it takes away from the part."""
        raise NotImplementedError

    def marks(self, block: Block) -> Marks:
        """What is set out on the part for it, as distances from faces: from its own fields, never from its shapes."""
        raise NotImplementedError

    def figures(self, block: Block) -> dict[str, float]:
        """Figures by name from `model.quantities`, such as `feature.width`."""
        raise NotImplementedError

    def dimensions(self, block: Block) -> tuple[Dimension, ...]:
        """The sizes a drawing of it needs: where it is and how large."""
        raise NotImplementedError

    def check(self, block: Block, grain: Axis) -> Iterator[Finding]:
        """Design findings of this feature alone. `grain` is the axis the grain runs along."""
        yield from outside_part(self, block)

    def opens(self) -> tuple[FaceName, ...]:
        """The faces a tool may enter from; the first is the one it is drawn from."""
        raise NotImplementedError

    def measured_from(self) -> tuple[FaceName, ...]:
        """The faces its place is measured from; they must be true before it is marked or cut."""
        raise NotImplementedError

    def spoils(self) -> tuple[FaceName, ...]:
        """The faces that are no longer whole, straight or square afterwards, so that nothing is measured from them or
        held by them any more: the edge a curve, taper, bevel or mitre takes away. Empty for cuts that leave enough."""
        return ()

    def lengthwise(self, block: Block) -> bool:
        """Whether it runs the whole length with one section, so that it can be worked in a longer piece."""
        shapes = self.removes(block)
        return bool(shapes) and all(
            around.span("x")[0] <= 0.0 and around.span("x")[1] >= block.length
            for around in (bounds_of([shape]) for shape in shapes)
        )

    def lines(self, block: Block) -> dict[str, tuple[FaceName, float]]:
        """Named lines other features may be measured from: name to (face, distance from that face, mm). A distance from
        a line counts towards that face: 20 from a tenon's shoulder lies on the tenon."""
        return {}

    def ends_part(self) -> tuple[FaceName, ...]:
        """The ends (left, right) that this cut itself makes, so that no square end is cut there first: a mitre."""
        return ()


_KINDS: dict[str, type[Feature]] = {}
_F = TypeVar("_F", bound=type[Feature])


def register(kind: _F) -> _F:
    """Class decorator: makes a feature kind known. ValueError if the name is taken."""
    if kind.kind in _KINDS:
        raise ValueError(f"two feature kinds are called {kind.kind!r}")
    _KINDS[kind.kind] = kind
    return kind


@cache
def feature_kinds() -> dict[str, type[Feature]]:
    """Every feature kind by name, in alphabetical order. Reads this folder's modules once."""
    package = __name__.rpartition(".")[0]
    for module in iter_modules(import_module(package).__path__):
        import_module(f"{package}.{module.name}")
    return dict(sorted(_KINDS.items()))


def finding(
    feature: Feature, level: Level, code: str, what: str, *, why: str = "", remedy: str = "", source: str = ""
) -> Finding:
    """A finding about this feature; its subject is completed with the part's name by whoever collects it."""
    return Finding(level, code, feature.name, what, why, remedy, None, source)


NEAR = 1e-6
"""Lengths closer than this are the same, mm."""


def refuse(text: str) -> PydanticCustomError:
    """The error for fields that contradict each other, to be raised in `__post_init__`; it is a ValueError and reads as
    one sentence for the person, also out of pydantic."""
    return PydanticCustomError("feature", "{says}", {"says": text})


def outside_part(feature: Feature, block: Block, besides: FaceName | None = None) -> Iterator[Finding]:
    """An error if the feature lies beside its part or reaches beyond a face of it. Not looked at is the face `besides`:
    where a cut is too deep, its own check says so."""
    shapes = feature.removes(block)
    for face in FACES if shapes else ():
        if face == besides:
            continue
        axis = axis_of(face)
        low, high = bounds_of(shapes).span(axis)
        if high <= NEAR or low >= block.size(axis) - NEAR:
            yield finding(
                feature,
                "error",
                "outside-part",
                f"The {feature.title} lies outside the part: it runs from {mm(low)} to {mm(high)} along the "
                f"{AXIS_WORDS[axis]}, and the part has 0 to {mm(block.size(axis))}.",
                remedy="Correct its distance or its size.",
            )
            return
        beyond = high - block.size(axis) if is_high(face) else -low
        if beyond > NEAR:
            yield finding(
                feature,
                "error",
                "outside-part",
                f"The {feature.title} reaches {mm(beyond)} mm beyond the {face} face of the part.",
                remedy="Correct its distance or its size.",
            )


def angle_label(angle: float, rise: float, run: float) -> str:
    """An angle with its rise, mm, which can be measured where an angle cannot: `11.3 degrees: 29 in 145`. At 45 degrees
    the rise says nothing more."""
    plain = f"{mm(angle)} degrees"
    return plain if abs(angle - 45.0) < 0.05 else f"{plain}: {mm(rise)} in {mm(run)}"


def mm(value: float) -> str:
    """A length as it is printed: at most one decimal, no trailing zero."""
    text = f"{value:.1f}"
    return text[:-2] if text.endswith(".0") else text
