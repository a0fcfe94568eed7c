"""Small jobs that loose pieces hold: dowels, biscuits, wedges in kerfs and beside the tenon. All invented."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sequencer.features.rows import Row
from sequencer.model.job import Hardware, Job, Stock
from tests.design.jobs import feature, job, joint, part

WOOD = Stock("board", "radiata pine", "board", 90, 18, (2400,), hardness="softwood", sawn_as="flat")
SAWN_OFF = Stock("thick", "radiata pine", "board", 60, 30, (2400,), hardness="softwood", sawn_as="flat")


def dowelled(in_end: float = 23, in_side: float = 13, dowel: float = 32, bought: bool = False, **side: Any) -> Job:
    """An end between two handed sides, two dowels at each corner: deep in the end, less deep in the face of the side."""
    row = Row(from_="bottom", first=25, last=25, count=2)
    of_side: dict[str, Any] = {"diameter": 8.0, "dowel": dowel, "depth": in_side, "at": ({"left": 9.0},), "row": row} | side
    holes = [
        feature(f"{end}-holes", "dowel-holes", face=end, diameter=8, dowel=dowel, depth=in_end, at=({"inside": 9},), row=row)
        for end in ("left", "right")
    ]
    things = {"dowels": Hardware("dowels", "dowel", 4, length=dowel, diameter=8)} if bought else {}
    how: dict[str, Any] = {"fixed": ("glue", "dowels"), "hardware": "dowels" if bought else ""}
    return job(
        [
            part("side", "board", 300, 90, 18, feature("holes", "dowel-holes", face="inside", **of_side), count=2, handed=True),
            part("end", "board", 200, 90, 18, *holes),
        ],
        [
            joint("near", "end/left", "side.left/inside", flush={"bottom": "bottom", "inside": "left"}, **how),
            joint("far", "end/right", "side.right/inside", flush={"bottom": "bottom", "inside": "right"}, **how),
        ],
        stock=[WOOD],
        glue="pva",
        hardware=things,
    )


def biscuited(depth: float = 8) -> Job:
    """Two boards edge to edge, three biscuits between them."""
    slots = [
        feature("slots", "biscuit-slots", face=edge, depth=depth, at=tuple({"left": at, "inside": 9.0} for at in (50, 150, 250)))
        for edge in ("top", "bottom")
    ]
    return job(
        [part("low", "board", 300, 90, 18, slots[0]), part("high", "board", 300, 90, 18, slots[1])],
        [joint("edge", "high/bottom", "low/top", flush={"left": "left", "inside": "inside"}, fixed=("glue", "biscuits"))],
        stock=[WOOD],
        glue="pva",
    )


def wedged(kerfs: bool = True, kerf_from: float = 14, flare: float | None = 3) -> Job:
    """A rail whose tenon goes right through a post: split by two wedges, or with one at each of its edges."""
    tenon = feature("tenon", "tenon", end="right", length=60, thickness=10, width=40)
    slits = [feature("kerfs", "wedge-kerfs", end="right", length=40, from_bottom=kerf_from, count=2, apart=31)] if kerfs else []
    mortise = feature("mortise", "mortise", face="top", at={"left": 150, "inside": 10}, length=40, width=10, flare=flare)
    return job(
        [part("post", "thick", 320, 60, 30, mortise), part("rail", "thick", 350, 60, 30, tenon, *slits)],
        [joint("corner", "rail/tenon", "post/mortise", align={"inside": "inside"}, fixed=("glue", "wedge"))],
        stock=[SAWN_OFF],
        glue="pva",
    )


def with_features(drawn: Job, name: str, **changed: Any) -> Job:
    """The job with other features of one part; None takes one away."""
    own = drawn.parts[name]
    features = {**own.features, **changed}
    kept = {key: each for key, each in features.items() if each is not None}
    return replace(drawn, parts={**drawn.parts, name: replace(own, features=kept)})
