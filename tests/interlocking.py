"""Small jobs of boards that interlock: corners by tails and pins or by fingers, a shelf in dovetail housings. All invented."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sequencer.model.job import Decision, Job, Stock
from tests.design.jobs import feature, job, joint, part

WOOD = Stock("board", "radiata pine", "board", 230, 15, (2400,), hardness="softwood", sawn_as="flat")


def corner(width: float, tail_board: float, pin_board: float, depth: float | None = None, **spacing: Any) -> Job:
    """A side with tails and a front with pins, through or lapped: `depth` is that of the sockets."""
    reach = pin_board if depth is None else depth
    tails = feature("tails", "dovetails", end="left", length=reach, **spacing)
    pins = feature("pins", "dovetail-pins", end="right", length=tail_board, depth=depth, **spacing)
    return job(
        [part("side", "side-wood", 320, width, tail_board, tails), part("front", "front-wood", 310, width, pin_board, pins)],
        [joint("corner", "side/tails", "front/pins", flush={"bottom": "bottom", "outside": "right"})],
        stock=[
            replace(WOOD, name="side-wood", thickness=tail_board),
            replace(WOOD, name="front-wood", thickness=pin_board),
        ],
        glue="pva",
    )


def with_pins(drawn: Job, **fields: Any) -> Job:
    """The job with other figures for its pins."""
    front = drawn.parts["front"]
    pins = replace(front.features["pins"], **fields)
    return replace(drawn, parts={**drawn.parts, "front": replace(front, features={"pins": pins})})


def finger_corner(width: float = 96, finger: float = 12, thick: float = 12) -> Job:
    """Two boards that close by fingers."""
    fingers = feature("fingers", "finger-joint", end="left", length=thick, finger=finger)
    gaps = feature("gaps", "finger-joint", end="right", length=thick, finger=finger, start="gap")
    return job(
        [part("side", "board", 320, width, thick, fingers), part("front", "board", 310, width, thick, gaps)],
        [joint("corner", "side/fingers", "front/gaps", flush={"bottom": "bottom", "outside": "right"})],
        stock=[replace(WOOD, thickness=thick)],
        glue="pva",
    )


def shelf(width: float = 120, stop: float = 0) -> Job:
    """A pair of sides with a shelf dovetailed on both faces and a barefaced one, narrower where its housings are stopped."""
    common: dict[str, Any] = {"face": "inside", "from_": "left", "width": 15, "depth": 5, "slope": 6}
    both = feature("both", "dovetail-housing", distance=100, **common)
    bare = feature("bare", "dovetail-housing", distance=250, sides="near", stops={"top": stop} if stop else {}, **common)

    def ends(**more: Any) -> list[Any]:
        return [feature(f"{end}-end", "dovetail-end", end=end, length=5, slope=6, **more) for end in ("left", "right")]

    upright = {"bottom": "bottom"}
    return job(
        [
            part("side", "board", 400, width, 15, both, bare, count=2, handed=True),
            part("shelf", "board", 310, width, 15, *ends()),
            part("rail", "board", 310, width - stop, 15, *ends(sides="inside")),
        ],
        [
            joint("shelf-1", "shelf/left-end", "side.left/both", flush=upright, align={"outside": "right"}),
            joint("shelf-2", "shelf/right-end", "side.right/both", flush=upright),
            joint("rail-1", "rail/left-end", "side.left/bare", flush=upright, align={"outside": "right"}),
            joint("rail-2", "rail/right-end", "side.right/bare", flush=upright),
        ],
        stock=[WOOD],
        glue="pva",
    )


def by_way(drawn: Job, **ways: str) -> Job:
    """The job with ways decided: `part__feature` with underscores for hyphens, and the way."""
    decided = tuple(
        Decision(about.replace("__", "/").replace("_", "-"), "Head of technology", "for this check", way=way)
        for about, way in ways.items()
    )
    return replace(drawn, decisions=decided)
