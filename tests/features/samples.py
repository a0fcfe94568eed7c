"""Features of every kind as a person types them, all legal on one board; and how to make, measure and check one."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import pi
from typing import Any

from pydantic import TypeAdapter

from sequencer.features import Feature, feature_kinds
from sequencer.findings import Finding
from sequencer.model.frame import Axis, Block
from sequencer.model.shapes import Cone, Prism, Rind, Shape

BOARD = Block(300.0, 90.0, 18.0)
STICK = Block(300.0, 40.0, 40.0)
OF_STICKS = ("rounding", "turned-profile")
"""Kinds that need a square stick."""

SAMPLES: dict[str, list[dict[str, Any]]] = {
    "biscuit-slots": [
        {"face": "top", "depth": 10, "row": {"from": "left", "first": 60, "last": 60, "count": 2}},
        {"face": "left", "depth": 10, "at": {"bottom": 45}},
        {"face": "inside", "depth": 8, "at": [{"left": 20, "bottom": 45}], "along": "width"},
        {"face": "inside", "depth": 8, "at": [{"left": 120, "bottom": 45}], "along": "width"},
    ],
    "bridle": [
        {"end": "left", "length": 45, "thickness": 6, "from_outside": 6},
        {"end": "right", "length": 30, "thickness": 8, "from_outside": 5},
    ],
    "bridle-tongue": [
        {"from": "left", "distance": 105, "width": 90, "depth": 6},
        {"from": "right", "distance": 60, "width": 40, "depth": 5},
    ],
    "bevel": [{"edge": "top", "low": "inside", "angle": 30}, {"edge": "left", "low": "outside", "angle": 15, "leave": 6}],
    "chamfer": [
        {"edges": ["inside/top", "inside/bottom"], "size": 3},
        {"edges": "inside", "size": 2},
        {"edges": "left/top", "size": 5},
    ],
    "cope": [
        {"end": "left", "edge": "inside/top", "profile": "ovolo", "size": 6, "step": 2, "depth": 9, "from_end": 30},
        {"end": "right", "edge": "inside/bottom", "profile": "cove", "size": 8, "depth": 12},
        {"end": "left", "edge": "outside/top", "profile": "ogee", "size": 8, "depth": 8, "width": 40},
        {"end": "right", "edge": "inside/top", "profile": "square", "size": 30, "width": 8, "depth": 9},
    ],
    "cut-out": [
        {"length": 100, "width": 40},
        {"at": {"left": 30, "bottom": 0}, "length": 240, "width": 12, "radius": 8},
        {"at": {"left": 60, "top": 20}, "length": 60, "width": 40, "radius": 20},
    ],
    "dovetail-end": [
        {"end": "left", "length": 6, "slope": 6},
        {"end": "right", "length": 6, "slope": 8, "sides": "outside"},
    ],
    "dovetail-housing": [
        {"face": "inside", "from": "left", "distance": 40, "width": 15, "depth": 6, "slope": 6},
        {"face": "outside", "from": "right", "distance": 100, "width": 18, "depth": 6, "slope": 8, "sides": "far"},
        {"face": "inside", "from": "left", "distance": 60, "width": 18, "depth": 6, "slope": 6, "stops": {"top": 15}},
    ],
    "dovetail-pins": [
        {"end": "right", "tails": 3, "pin": 6, "slope": 6, "length": 12},
        {"end": "left", "tails": 3, "pin": 6, "half_pin": 5, "slope": 8, "length": 12, "depth": 13},
        {"end": "left", "tails": 2, "pin": 8, "slope": 6, "length": 15, "depth": 13, "face": "outside"},
    ],
    "dovetails": [
        {"end": "left", "tails": 3, "pin": 6, "slope": 6, "length": 15},
        {"end": "right", "tails": 3, "pin": 6, "half_pin": 5, "slope": 8, "length": 13},
    ],
    "fielded-edge": [
        {"face": "inside", "width": 25, "depth": 8, "step": 2},
        {"face": "outside", "width": 30, "depth": 6, "edges": ["top", "bottom"]},
    ],
    "finger-joint": [
        {"end": "left", "length": 15, "finger": 10},
        {"end": "right", "length": 18, "finger": 10, "start": "gap"},
        {"end": "right", "length": 18, "finger": 12, "start": "gap"},
    ],
    "dowel-holes": [
        {"face": "top", "diameter": 8, "dowel": 40, "row": {"from": "left", "first": 40, "last": 40, "count": 3}},
        {"face": "left", "diameter": 6, "dowel": 36, "at": [{"bottom": 25}, {"top": 25}]},
        {
            "face": "inside",
            "diameter": 8,
            "dowel": 32,
            "depth": 12,
            "at": [{"right": 30, "bottom": 25}, {"right": 30, "top": 25}],
        },
    ],
    "groove": [
        {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6},
        {"face": "top", "from": "inside", "distance": 6, "width": 6, "depth": 8, "stops": {"left": 20, "right": 30}},
    ],
    "halving": [
        {"face": "inside", "from": "left", "distance": 105, "width": 90, "depth": 9},
        {"face": "outside", "from": "right", "distance": 0, "width": 90, "depth": 9},
        {"face": "top", "from": "left", "distance": 141, "width": 18, "depth": 45},
    ],
    "hole": [
        {"face": "inside", "diameter": 10, "at": {"left": 40, "bottom": 20}},
        {"face": "outside", "diameter": 6, "at": [{"left": 30}, {"right": 30}], "depth": 12},
        {"face": "inside", "diameter": 5, "countersink": 10, "at": {"left": 50}},
        {"face": "outside", "diameter": 5, "counterbore": {"diameter": 12, "depth": 6}},
        {"face": "left", "diameter": 8, "depth": 25},
    ],
    "housing": [
        {"face": "inside", "from": "left", "distance": 12, "width": 15, "depth": 5},
        {"face": "outside", "from": "right", "distance": 100, "width": 18, "depth": 6, "stops": {"top": 10}},
    ],
    "mitre": [{"end": "left", "long": "bottom"}, {"end": "right", "long": "outside", "angle": 22.5}],
    "mortise": [
        {"face": "top", "at": {"left": 40}, "length": 30, "width": 6, "depth": 25},
        {"face": "inside", "at": {"right": 50}, "length": 40, "width": 12, "along": "width"},
        {"face": "top", "at": {"left": 20}, "length": 40, "width": 6, "depth": 25, "haunch": {"side": "left", "depth": 8}},
        {
            "face": "top",
            "at": {"right": 30},
            "length": 40,
            "width": 6,
            "flare": 3,
            "haunch": {"side": "right", "depth": 8, "length": 20, "form": "sloping"},
        },
        {"face": "left", "length": 30, "width": 8, "depth": 25, "ends": "round"},
    ],
    "moulding": [
        {"edges": ["inside/top"], "profile": "ovolo", "size": 6, "step": 2},
        {"edges": ["inside/top", "inside/bottom"], "profile": "cove", "size": 8},
        {"edges": ["inside/bottom"], "profile": "ogee", "size": 10},
    ],
    "notch": [
        {"edge": "top", "from": "left", "distance": 60, "length": 40, "depth": 20},
        {"edge": "bottom", "from": "right", "length": 25, "depth": 15},
    ],
    "outline": [
        {
            "edge": "top",
            "points": [
                {"at": {"left": 0, "bottom": 40}},
                {"at": {"left": 60, "bottom": 40}},
                {"at": {"left": 100, "top": 0}},
                {"at": {"right": 100, "top": 0}},
                {"arc_to": {"right": 0, "bottom": 40}, "radius": 150, "turn": "right"},
            ],
        },
        {"edge": ["left", "top"], "points": [{"at": {"left": 0, "bottom": 20}}, {"at": {"left": 50, "top": 0}}]},
        {"shape": "polygon", "sides": 8},
        {"shape": "ellipse"},
    ],
    "rebate": [
        {"edge": "inside/top", "width": 12, "depth": 9},
        {"edge": "outside/left", "width": 18, "depth": 6, "stops": {"bottom": 10}},
    ],
    "recess": [
        {"face": "inside", "length": 50, "width": 20, "depth": 2, "at": {"left": 40, "top": 0}},
        {"face": "outside", "length": 80, "width": 25, "depth": 5},
    ],
    "round-over": [{"edges": ["inside/top", "top/outside"], "radius": 5}, {"edges": "inside", "radius": 3}],
    "rounded-corner": [{"corners": ["top/left", "top/right"], "radius": 20}],
    "rounding": [{}],
    "screw-holes": [
        {"face": "outside", "gauge": 8, "at": [{"left": 40, "bottom": 20}, {"right": 40, "bottom": 20}]},
        {"face": "inside", "gauge": 6, "row": {"from": "left", "first": 30, "last": 30, "count": 3}, "at": {"top": 15}},
        {"face": "inside", "gauge": 10, "countersunk": False, "diameter": 6},
    ],
    "slot": [
        {"face": "inside", "length": 80, "width": 12, "ends": "round"},
        {"face": "inside", "at": {"left": 100}, "length": 40, "width": 10, "open": "top"},
        {"face": "outside", "at": {"left": 30, "bottom": 20}, "length": 60, "width": 8, "depth": 6, "along": "length"},
    ],
    "spline-slot": [
        {"end": "left", "long": "bottom", "from": "inside", "distance": 7, "width": 4, "length": 40},
        {"end": "right", "long": "outside", "from": "top", "distance": 30, "width": 3, "length": 20},
    ],
    "taper": [
        {"edge": "top", "from": "left", "start": 80, "amount": 20},
        {"edge": "inside", "from": "right", "amount": 6},
    ],
    "tenon": [
        {"end": "left", "length": 30, "thickness": 6, "width": 50, "from_bottom": 10},
        {"end": "right", "length": 25, "thickness": 8, "width": 40, "from_outside": 0},
        {
            "end": "left",
            "length": 30,
            "thickness": 6,
            "width": 60,
            "from_bottom": 0,
            "haunch": {"side": "top", "length": 8},
        },
        {
            "end": "right",
            "length": 30,
            "thickness": 6,
            "width": 60,
            "from_bottom": 30,
            "haunch": {"side": "bottom", "length": 8, "form": "sloping"},
        },
    ],
    "tongue": [
        {"edge": "top", "length": 6, "thickness": 6},
        {"edge": "left", "length": 8, "thickness": 9, "from_outside": 0},
        {"edge": "bottom", "length": 6, "thickness": 6, "from_outside": 4},
        {"edge": "right", "length": 8, "thickness": 9, "from_inside": 0},
    ],
    "turned-profile": [
        {"stations": [{"left": 0, "diameter": 36}, {"left": 300, "diameter": 24}]},
        {
            "stations": [
                {"left": 60, "diameter": 38},
                {"left": 80, "diameter": 38},
                {"left": 80, "diameter": 28},
                {"left": 200, "diameter": 34},
                {"left": 300, "diameter": 22},
            ],
        },
    ],
    "wedge-kerfs": [
        {"end": "left", "length": 25, "from_bottom": 20, "count": 2, "apart": 49},
        {"end": "right", "length": 20, "from_bottom": 40, "width": 1.2},
    ],
}


@cache
def _adapter(kind: str) -> TypeAdapter[Feature]:
    """Made once for each kind: that takes far longer than to make a feature by it."""
    return TypeAdapter(feature_kinds()[kind])


def make(kind: str, **fields: Any) -> Feature:
    """A feature from what a person types; `from_` stands for `from`."""
    typed = {name.removesuffix("_"): value for name, value in fields.items()}
    return _adapter(kind).validate_python(typed)


def block_of(kind: str) -> Block:
    """The board or stick that the samples of a kind are drawn on."""
    return STICK if kind in OF_STICKS else BOARD


def all_samples() -> list[Feature]:
    """Every sample, made."""
    return [make(kind, **fields) for kind, samples in SAMPLES.items() for fields in samples]


def area(outline: tuple[tuple[float, float], ...]) -> float:
    """Area inside a closed outline, by the shoelace formula."""
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*outline, outline[0]]))) / 2


def volume(shape: Shape) -> float:
    """Volume of a prism, a cone or a rind, mm3."""
    if isinstance(shape, Prism):
        return area(shape.outline) * (shape.stop - shape.start)
    if isinstance(shape, Rind):
        section = (shape.high[0] - shape.low[0]) * (shape.high[1] - shape.low[1])
        return section * (shape.stop - shape.start) - volume(shape.core)
    assert isinstance(shape, Cone)
    big, small = shape.radius_start, shape.radius_stop
    return pi * (shape.stop - shape.start) / 3 * (big**2 + big * small + small**2)


def removed(feature: Feature, block: Block = BOARD) -> float:
    """Volume of all shapes of a feature, overlaps counted twice, mm3."""
    return sum(map(volume, feature.removes(block)))


def findings(feature: Feature, block: Block = BOARD, grain: Axis = "x") -> list[Finding]:
    """What its own checks find."""
    return list(feature.check(block, grain))


def the_finding(feature: Feature, block: Block = BOARD, grain: Axis = "x") -> Finding:
    """The one finding there must be."""
    found = findings(feature, block, grain)
    assert len(found) == 1, [str(each) for each in found]
    return found[0]
