"""Random legal features of every kind, each with a random board it fits."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as some

from sequencer.features import Feature
from sequencer.model.frame import AXES, FACES, Axis, Block, FaceName, axis_of, face_at, others

from .samples import OF_STICKS, make

Draw = some.DrawFn
BROAD: tuple[FaceName, ...] = ("inside", "outside")
ENDS: tuple[FaceName, ...] = ("left", "right")


def blocks() -> some.SearchStrategy[Block]:
    return some.builds(
        Block, some.integers(120, 600).map(float), some.integers(40, 200).map(float), some.integers(12, 40).map(float)
    )


def share(draw: Draw, low: float, high: float) -> float:
    """A number between two, to six places: nobody draws a cut that stops a hair short of a face."""
    return round(draw(some.floats(low, high, allow_nan=False)), 6)


def beside(draw: Draw, face: FaceName) -> FaceName:
    return draw(some.sampled_from([other for other in FACES if axis_of(other) != axis_of(face)]))


def strip(draw: Draw, size: float) -> tuple[float, float]:
    """A distance and a width that fit in a size together."""
    width = size * share(draw, 0.05, 0.5)
    return (size - width) * share(draw, 0.0, 1.0), width


def place(draw: Draw, block: Block, face: FaceName, sizes: dict[Axis, float]) -> dict[FaceName, float]:
    """Distances, some left out, that keep what is so large inside the face."""
    at: dict[FaceName, float] = {}
    for axis in others(axis_of(face)):
        if draw(some.booleans()):
            at[face_at(axis, draw(some.booleans()))] = (block.size(axis) - sizes[axis]) * share(draw, 0.0, 1.0)
    return at


def channel(draw: Draw, block: Block) -> dict[str, Any]:
    face = draw(some.sampled_from(FACES))
    edge = beside(draw, face)
    distance, width = strip(draw, block.size(axis_of(edge)))
    run = next(axis for axis in AXES if axis not in (axis_of(face), axis_of(edge)))
    stops = {end: block.size(run) * share(draw, 0.0, 0.4) for end in (face_at(run, False), face_at(run, True))}
    return {
        "face": face,
        "from": edge,
        "distance": distance,
        "width": width,
        "depth": block.size(axis_of(face)) * share(draw, 0.1, 0.7),
        "stops": {end: gap for end, gap in stops.items() if draw(some.booleans())},
    }


def rebate(draw: Draw, block: Block) -> dict[str, Any]:
    typed = channel(draw, block)
    return {
        "edge": f"{typed['face']}/{typed['from']}",
        "width": typed["width"],
        "depth": typed["depth"],
        "stops": typed["stops"],
    }


def notch(draw: Draw, block: Block) -> dict[str, Any]:
    typed = channel(draw, block)
    return {
        "edge": typed["face"],
        "from": typed["from"],
        "distance": typed["distance"],
        "length": typed["width"],
        "depth": typed["depth"],
    }


def opening(draw: Draw, block: Block) -> dict[str, Any]:
    face = draw(some.sampled_from(FACES))
    first, second = others(axis_of(face))
    sizes: dict[Axis, float] = {axis: block.size(axis) * share(draw, 0.1, 0.6) for axis in (first, second)}
    words: dict[Axis, str] = {"x": "length", "y": "width", "z": "thickness"}
    along, across = draw(some.sampled_from([(first, second), (second, first)]))
    return {
        "face": face,
        "at": place(draw, block, face, sizes),
        "length": sizes[along],
        "width": sizes[across],
        "along": words[along],
    }


def blind_or_through(draw: Draw, block: Block, typed: dict[str, Any]) -> dict[str, Any]:
    depth = block.size(axis_of(typed["face"])) * share(draw, 0.1, 0.8)
    return typed | ({"depth": depth} if draw(some.booleans()) else {})


def filled(typed: dict[str, Any]) -> dict[str, Any]:
    """Without an empty `at`, which nobody would write."""
    return {name: value for name, value in typed.items() if name != "at" or value}


def slot(draw: Draw, block: Block) -> dict[str, Any]:
    typed = blind_or_through(draw, block, opening(draw, block))
    round_ends = typed["length"] >= typed["width"] and draw(some.booleans())
    return typed | {"ends": "round" if round_ends else "square"}


def cut_out(draw: Draw, block: Block) -> dict[str, Any]:
    typed = opening(draw, block)
    return typed | {"radius": min(typed["length"], typed["width"]) * share(draw, 0.0, 0.5)}


def hole(draw: Draw, block: Block) -> dict[str, Any]:
    face = draw(some.sampled_from(FACES))
    first, second = others(axis_of(face))
    depth = block.size(axis_of(face))
    wide = min(block.size(first), block.size(second)) * share(draw, 0.2, 0.9)

    def spot() -> dict[FaceName, float]:
        at = place(draw, block, face, {first: wide, second: wide})
        return {edge: gap + wide / 2 for edge, gap in at.items()}

    typed: dict[str, Any] = {"face": face, "at": [at for at in (spot(), spot()) if at], "diameter": wide}
    head = draw(some.sampled_from(["none", "sunk", "bored"]))
    if head == "sunk":
        typed |= {"diameter": max(wide * 0.6, wide - depth), "countersink": wide}
    elif head == "bored":
        typed |= {"diameter": wide * 0.5, "counterbore": {"diameter": wide, "depth": depth * share(draw, 0.1, 0.5)}}
    elif draw(some.booleans()):
        typed["depth"] = depth * share(draw, 0.1, 0.8)
    return filled(typed)


def screw_holes(draw: Draw, block: Block) -> dict[str, Any]:
    row = {"from": draw(some.sampled_from(ENDS)), "first": share(draw, 10, 40), "last": share(draw, 10, 40), "count": 3}
    return {
        "face": draw(some.sampled_from(BROAD)),
        "gauge": draw(some.integers(2, 12)),
        "row": row,
        "at": {draw(some.sampled_from(["bottom", "top"])): share(draw, 10, 20)},
        "countersunk": draw(some.booleans()),
    }


def tenon(draw: Draw, block: Block) -> dict[str, Any]:
    low, wide = strip(draw, block.width)
    back, thick = strip(draw, block.thickness)
    typed = {"end": draw(some.sampled_from(ENDS)), "length": share(draw, 5, 60), "thickness": thick, "width": wide}
    where = {"from_bottom": low, "from_outside": back}
    return typed | {name: gap for name, gap in where.items() if draw(some.booleans())}


def haunched_tenon(draw: Draw, block: Block) -> dict[str, Any]:
    typed = tenon(draw, block)
    side = draw(some.sampled_from(["top", "bottom"]))
    low = block.width - typed["width"] if side == "bottom" else 0.0
    haunch = {
        "side": side,
        "length": typed["length"] * share(draw, 0.1, 0.8),
        "form": draw(some.sampled_from(["square", "sloping"])),
    }
    return typed | {"from_bottom": low, "haunch": haunch}


def mortise(draw: Draw, block: Block) -> dict[str, Any]:
    return blind_or_through(draw, block, opening(draw, block))


def tongue(draw: Draw, block: Block) -> dict[str, Any]:
    back, thick = strip(draw, block.thickness)
    typed = {"edge": draw(some.sampled_from([*ENDS, "top", "bottom"])), "length": share(draw, 3, 20), "thickness": thick}
    return typed | draw(
        some.sampled_from([{}, {"from_outside": back}, {"from_outside": 0}, {"from_inside": 0}, {"from_inside": back}])
    )


def bridle(draw: Draw, block: Block) -> dict[str, Any]:
    back, thick = strip(draw, block.thickness)
    return {"end": draw(some.sampled_from(ENDS)), "length": share(draw, 10, 60), "thickness": thick, "from_outside": back}


def bridle_tongue(draw: Draw, block: Block) -> dict[str, Any]:
    edge = draw(some.sampled_from([*ENDS, "top", "bottom"]))
    distance, width = strip(draw, block.size(axis_of(edge)))
    return {"from": edge, "distance": distance, "width": width, "depth": block.thickness * share(draw, 0.1, 0.4)}


def wedge_kerfs(draw: Draw, block: Block) -> dict[str, Any]:
    typed = {
        "end": draw(some.sampled_from(ENDS)),
        "length": share(draw, 10, 50),
        "from_bottom": block.width * share(draw, 0.1, 0.4),
    }
    several = {"count": draw(some.integers(2, 3)), "apart": block.width * share(draw, 0.1, 0.2)}
    return typed | draw(some.sampled_from([{}, several]))


def spline_slot(draw: Draw, block: Block) -> dict[str, Any]:
    long, other, across = draw(some.sampled_from([("bottom", "inside", "z"), ("top", "outside", "z"), ("outside", "top", "y")]))
    wide = block.width if across == "z" else block.thickness
    thick = block.size(across)
    return {
        "end": draw(some.sampled_from(ENDS)),
        "long": long,
        "from": other,
        "distance": thick * share(draw, 0.2, 0.5),
        "width": thick * share(draw, 0.1, 0.3),
        "length": wide * share(draw, 0.3, 0.9),
    }


def dowel_holes(draw: Draw, block: Block) -> dict[str, Any]:
    row = {"from": draw(some.sampled_from(ENDS)), "first": share(draw, 10, 40), "last": share(draw, 10, 40), "count": 3}
    return {
        "face": draw(some.sampled_from(["top", "bottom"])),
        "diameter": block.thickness / 3,
        "dowel": share(draw, 20, 50),
        "row": row,
    }


def biscuit_slots(draw: Draw, block: Block) -> dict[str, Any]:
    row = {"from": draw(some.sampled_from(ENDS)), "first": 35.0, "last": 35.0, "count": 2}
    return {"face": draw(some.sampled_from(["top", "bottom"])), "depth": share(draw, 6, 12), "row": row}


def mitre(draw: Draw, block: Block) -> dict[str, Any]:
    long = draw(some.sampled_from(["inside", "outside"]))
    return {"end": draw(some.sampled_from(ENDS)), "long": long, "angle": share(draw, 10, 60)}


def bevel(draw: Draw, block: Block) -> dict[str, Any]:
    edge = draw(some.sampled_from([*ENDS, "top", "bottom"]))
    leave = block.thickness * share(draw, 0, 0.5)
    return {"edge": edge, "low": draw(some.sampled_from(BROAD)), "angle": share(draw, 5, 40), "leave": leave}


def taper(draw: Draw, block: Block) -> dict[str, Any]:
    edge = draw(some.sampled_from([face for face in FACES if face not in ENDS]))
    return {
        "edge": edge,
        "from": draw(some.sampled_from(ENDS)),
        "start": block.length * share(draw, 0, 0.5),
        "amount": block.size(axis_of(edge)) * share(draw, 0.05, 0.6),
    }


def broken_edges(draw: Draw, block: Block) -> dict[str, Any]:
    face = draw(some.sampled_from(FACES))
    return {"edges": [face] if draw(some.booleans()) else [f"{face}/{beside(draw, face)}"]}


def chamfer(draw: Draw, block: Block) -> dict[str, Any]:
    return broken_edges(draw, block) | {"size": block.thickness * share(draw, 0.05, 0.5)}


def round_over(draw: Draw, block: Block) -> dict[str, Any]:
    return broken_edges(draw, block) | {"radius": block.thickness * share(draw, 0.05, 0.5)}


def rounded_corner(draw: Draw, block: Block) -> dict[str, Any]:
    corners = some.lists(some.sampled_from(["top/left", "left/bottom", "bottom/right", "right/top"]), min_size=1, unique=True)
    return {"corners": draw(corners), "radius": block.width * share(draw, 0.05, 0.5)}


def outline(draw: Draw, block: Block) -> dict[str, Any]:
    if draw(some.booleans()):
        polygon = {"shape": "polygon", "sides": draw(some.integers(3, 12))}
        return polygon if block.length > 2 * block.width else {"shape": "ellipse"}
    stations = sorted(draw(some.lists(some.integers(5, 95), min_size=2, max_size=6, unique=True)))
    inner = [{"left": block.length * x / 100, "top": block.width * share(draw, 0.05, 0.6)} for x in stations]
    ends = [{"left": 0, "top": block.width * share(draw, 0, 0.6)}, {"right": 0, "top": block.width * share(draw, 0, 0.6)}]
    return {"edge": "top", "points": [{"at": at} for at in (ends[0], *inner, ends[1])]}


def tails(draw: Draw, block: Block) -> dict[str, Any]:
    """So few and so flat that something is left of each at its shoulder: a quarter of the width at least."""
    count = draw(some.integers(1, 4))
    pin = block.width / (count + 1) * share(draw, 0.1, 0.3)
    typed: dict[str, Any] = {"end": draw(some.sampled_from(ENDS)), "tails": count, "pin": pin, "slope": share(draw, 6, 8)}
    if draw(some.booleans()):
        typed["half_pin"] = pin * share(draw, 0.4, 1.0)
    return typed


def flattest(block: Block, typed: dict[str, Any]) -> float:
    """How long the tails may be for a third of their width to be left at the shoulder."""
    tail = (block.width - (typed["tails"] + 1) * typed["pin"]) / typed["tails"]
    return float(tail / 3 * typed["slope"])


def dovetails(draw: Draw, block: Block) -> dict[str, Any]:
    typed = tails(draw, block)
    return typed | {"length": min(block.length / 2, flattest(block, typed)) * share(draw, 0.2, 1.0)}


def dovetail_pins(draw: Draw, block: Block) -> dict[str, Any]:
    typed = tails(draw, block)
    deepest = min(block.thickness, flattest(block, typed))
    typed |= {"length": share(draw, 5, 40), "face": draw(some.sampled_from(BROAD))}
    if deepest < block.thickness or draw(some.booleans()):
        typed["depth"] = deepest * share(draw, 0.2, 0.9)
    return typed


def dovetail_housing(draw: Draw, block: Block) -> dict[str, Any]:
    typed = channel(draw, block)
    typed |= {"slope": share(draw, 6, 8), "sides": draw(some.sampled_from(["both", "near", "far"]))}
    return typed | {"depth": min(typed["depth"], typed["width"] / 3 * typed["slope"])}


def dovetail_end(draw: Draw, block: Block) -> dict[str, Any]:
    slope = share(draw, 6, 8)
    return {
        "end": draw(some.sampled_from(ENDS)),
        "length": min(block.length / 2, block.thickness / 3 * slope) * share(draw, 0.1, 1.0),
        "slope": slope,
        "sides": draw(some.sampled_from(["both", "inside", "outside"])),
    }


def finger_joint(draw: Draw, block: Block) -> dict[str, Any]:
    return {
        "end": draw(some.sampled_from(ENDS)),
        "length": block.length / 2 * share(draw, 0.05, 1.0),
        "finger": block.width / 2 * share(draw, 0.1, 1.0),
        "start": draw(some.sampled_from(["finger", "gap"])),
    }


def turned_profile(draw: Draw, block: Block) -> dict[str, Any]:
    places = sorted(draw(some.lists(some.integers(0, 100), min_size=2, max_size=6, unique=True)))
    return {
        "stations": [{"left": block.length * at / 100, "diameter": block.width * share(draw, 0.2, 1.0)} for at in places],
    }


def recess(draw: Draw, block: Block) -> dict[str, Any]:
    typed = opening(draw, block)
    return typed | {"depth": block.size(axis_of(typed["face"])) * share(draw, 0.05, 0.6)}


def moulding(draw: Draw, block: Block) -> dict[str, Any]:
    profile = draw(some.sampled_from(["ovolo", "cove", "ogee"]))
    step = block.thickness * share(draw, 0.02, 0.1) if profile == "ovolo" or draw(some.booleans()) else 0.0
    return broken_edges(draw, block) | {"profile": profile, "size": block.thickness * share(draw, 0.1, 0.35), "step": step}


def cope(draw: Draw, block: Block) -> dict[str, Any]:
    face, side = draw(
        some.sampled_from([(one, two) for one in FACES for two in FACES if {axis_of(one), axis_of(two)} == {"y", "z"}])
    )
    typed = {"end": draw(some.sampled_from(ENDS)), "edge": f"{face}/{side}", "from_end": share(draw, 0, 60)}
    if draw(some.booleans()):
        square = {"profile": "square", "size": share(draw, 5, 40), "width": block.size(axis_of(side)) * share(draw, 0.1, 0.8)}
        return typed | square | {"depth": block.size(axis_of(face)) * share(draw, 0.1, 0.9)}
    size, step = block.thickness * share(draw, 0.1, 0.35), block.thickness * share(draw, 0.02, 0.1)
    typed |= {"profile": draw(some.sampled_from(["ovolo", "cove", "ogee"])), "size": size, "step": step}
    return typed | {"depth": size + step + (block.size(axis_of(face)) - size - step) * share(draw, 0.0, 0.9)}


def fielded_edge(draw: Draw, block: Block) -> dict[str, Any]:
    depth = block.thickness * share(draw, 0.1, 0.6)
    typed = {"face": draw(some.sampled_from(BROAD)), "width": block.width * share(draw, 0.1, 0.4), "depth": depth}
    typed |= draw(some.sampled_from([{}, {"step": depth * 0.3}]))
    return typed | draw(some.sampled_from([{}, {"edges": ["top"]}, {"edges": ["left", "bottom"]}]))


KINDS = {
    "bevel": bevel,
    "biscuit-slots": biscuit_slots,
    "bridle": bridle,
    "bridle-tongue": bridle_tongue,
    "dowel-holes": dowel_holes,
    "tongue": tongue,
    "wedge-kerfs": wedge_kerfs,
    "chamfer": chamfer,
    "cope": cope,
    "cut-out": cut_out,
    "dovetail-end": dovetail_end,
    "dovetail-housing": dovetail_housing,
    "dovetail-pins": dovetail_pins,
    "dovetails": dovetails,
    "fielded-edge": fielded_edge,
    "finger-joint": finger_joint,
    "groove": channel,
    "halving": channel,
    "hole": hole,
    "housing": channel,
    "mitre": mitre,
    "moulding": moulding,
    "notch": notch,
    "outline": outline,
    "rebate": rebate,
    "mortise": mortise,
    "round-over": round_over,
    "rounded-corner": rounded_corner,
    "recess": recess,
    "rounding": lambda draw, block: {},
    "screw-holes": screw_holes,
    "slot": slot,
    "spline-slot": spline_slot,
    "taper": taper,
    "turned-profile": turned_profile,
    "tenon": lambda draw, block: haunched_tenon(draw, block) if draw(some.booleans()) else tenon(draw, block),
}


@some.composite
def features(draw: Draw) -> tuple[Feature, Block]:
    """A legal feature and its board."""
    block = draw(blocks())
    kind = draw(some.sampled_from(sorted(KINDS)))
    if kind in OF_STICKS:
        block = replace(block, width=block.thickness)
    return make(kind, **filled(KINDS[kind](draw, block))).on(block), block
