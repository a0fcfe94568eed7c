"""Small sound jobs, built in code, for the tests of the design checks. All invented."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace
from typing import Any

from sequencer.features import feature_kinds
from sequencer.features.base import Feature
from sequencer.knowledge.forms.fixings import FitClass
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.model.frame import FACES
from sequencer.model.job import Job, Joint, Part, Seat, Stock

BOARD = Stock("board", "radiata pine", "board", 190, 15, (2400,), hardness="softwood", sawn_as="flat")
PANEL = Stock("panel", "pine plywood", "sheet", 610, 6, (1220,), hardness="sheet")


def feature(name: str, kind: str, **fields: Any) -> Feature:
    """A feature of a kind by its fields in Python's names."""
    return feature_kinds()[kind](name=name, **fields)


def part(name: str, stock: str, length: float, width: float, thickness: float, *features: Feature, **more: Any) -> Part:
    """A part; one piece of it unless `count` says otherwise."""
    return Part(name, "A", more.pop("count", 1), stock, length, width, thickness, {each.name: each for each in features}, **more)


def seat(text: str) -> Seat:
    """`piece/face` or `piece/feature`."""
    piece, _, what = text.partition("/")
    return Seat(piece, what, "") if what in FACES else Seat(piece, None, what)  # type: ignore[arg-type]


def joint(name: str, its: str, to: str, *, fixed: Iterable[str] = ("glue",), **more: Any) -> Joint:
    """`its` of the entering piece bears on `to`; flush, align and at as dicts or pairs."""
    for key in ("flush", "align", "at"):
        value = more.get(key)
        if isinstance(value, str):
            more[key] = ((value, value),)
        elif isinstance(value, Mapping):
            more[key] = tuple(value.items())
    entering = seat(its)
    return Joint(name, entering.piece, entering, seat(to), tuple(fixed), **more)  # type: ignore[arg-type]


def job(parts: Iterable[Part], joints: Iterable[Joint], *, stock: Iterable[Stock] = (BOARD, PANEL), **more: Any) -> Job:
    """A job; parts get their letters in order."""
    lettered = [replace(each, letter="ABCDEFGHIJ"[number]) for number, each in enumerate(parts)]
    return Job(
        "Test",
        {},
        {each.name: each for each in stock},
        {each.name: each for each in lettered},
        {each.name: each for each in joints},
        **more,
    )


def box(
    long: float = 300,
    wide: float = 190,
    height: float = 90,
    board: float = 15,
    depth: float = 5,
    groove: float = 5,
    panel: float = 6,
    *,
    end_extra: float = 0.0,
    panel_long: float = 0.0,
    panel_wide: float = 0.0,
) -> Job:
    """Two handed sides with housings at both ends, two ends housed in them, a sheet bottom in grooves all round.

    `..._extra` makes a part longer than it should be; the bottom fills its grooves.
    """
    inset = 10.0
    housing = {"kind": "housing", "face": "inside", "distance": inset, "width": board, "depth": depth}
    groove_cut = {"kind": "groove", "face": "inside", "from_": "bottom", "distance": 8, "width": panel, "depth": groove}
    side = part(
        "side",
        "board",
        long,
        height,
        board,
        feature("floor-groove", **groove_cut),
        feature("left-housing", from_="left", **housing),
        feature("right-housing", from_="right", **housing),
        count=2,
        handed=True,
    )
    end_length = wide - 2 * board + 2 * depth + end_extra
    end = part("end", "board", end_length, height, board, feature("floor-groove", **groove_cut), count=2)
    bottom = part(
        "bottom",
        "panel",
        long - 2 * inset - 2 * board + 2 * groove + panel_long,
        wide - 2 * board + 2 * groove + panel_wide,
        panel,
    )
    joints = [
        joint("corner-1", "end.1/right", "side.left/left-housing", flush="bottom"),
        joint("corner-2", "end.2/left", "side.left/right-housing", flush="bottom"),
        joint("corner-3", "end.1/left", "side.right/left-housing", flush="bottom"),
        joint("corner-4", "end.2/right", "side.right/right-housing", flush="bottom"),
        joint("floor-1", "bottom/bottom", "side.left/floor-groove", fixed=("dry",)),
        joint("floor-2", "bottom/left", "end.1/floor-groove", fixed=("dry",)),
        joint("floor-3", "bottom/top", "side.right/floor-groove", fixed=("dry",)),
        joint("floor-4", "bottom/right", "end.2/floor-groove", fixed=("dry",)),
    ]
    return job([side, end, bottom], joints)


def knowledge() -> Knowledge:
    """Only what the design checks ask: two timbers and the fits. Figures for these tests, not for the bench."""
    empty: dict[str, Any] = {each.name: {} for each in fields(Knowledge)}
    pine = Material(
        name="radiata pine",
        hardness="softwood",
        tangential=0.00234,
        radial=0.00116,
        dust="-",
        source="from memory: stand-in worked out from shrinkage",
    )
    oak = Material(
        name="red oak", hardness="hardwood", tangential=0.00369, radial=0.00158, dust="-", source="Wood Handbook, Table 13-5"
    )
    rooms = {
        "housed": (0.0, 0.0, 0.2),
        "sheet-panel": (0.2, 0.0, 0.5),
        "solid-panel": (0.3, 0.1, 0.6),
        "sliding": (0.3, 0.2, 0.6),
        "loose-pivot": (0.5, 0.2, 1.0),
    }
    fits = {
        name: FitClass(name=name, play=play, least=least, most=most, says="-", source="common practice")
        for name, (play, least, most) in rooms.items()
    }
    shipped = {name: getattr(load_knowledge(), name) for name in ("fasteners", "working_figures", "bench_figures")}
    return Knowledge(**{**empty, **shipped, "materials": {"radiata-pine": pine, "red-oak": oak}, "fits": fits})


STICK = Stock("stick", "red oak", "square", 40, 20, (2400,), hardness="hardwood", sawn_as="flat")


def tenon_frame(tenon: float = 25, mortise: float = 27, thick: float = 7, rail_extra: float = 0.0, **more: Any) -> Job:
    """Two stiles with blind mortises, two rails with tenons, a loose solid panel in grooves all round.

    The panel is 4 mm smaller than its room each way; 7 mm grooves 7 mm deep.
    """
    groove = {"kind": "groove", "face": "top", "from_": "outside", "distance": 6.5, "width": 7, "depth": 7}
    ends = {"kind": "mortise", "face": "top", "length": 23, "width": 7, "depth": mortise}
    stile = part(
        "stile",
        "stick",
        400,
        40,
        20,
        feature("panel-groove", **groove),
        feature("low-mortise", at={"left": 10, "outside": 6.5}, **ends),
        feature("high-mortise", at={"right": 10, "outside": 6.5}, **ends),
        count=2,
    )
    tenons = {"kind": "tenon", "length": tenon, "thickness": thick, "width": 23, "from_bottom": 10}
    rail = part(
        "rail",
        "stick",
        200 + 2 * tenon + rail_extra,
        40,
        20,
        feature("panel-groove", **{**groove, "face": "top"}),
        feature("left-tenon", end="left", **tenons),
        feature("right-tenon", end="right", **tenons),
        count=2,
    )
    panel = part("panel", "plank", 320 + 14 - 4, 200 + 14 - 4, 7, **more)
    joints = [
        joint("low-left", "rail.1/left-tenon", "stile.1/low-mortise", align={"bottom": "left"}),
        joint("low-right", "rail.1/right-tenon", "stile.2/high-mortise", align={"bottom": "right"}),
        joint("high-left", "rail.2/right-tenon", "stile.1/high-mortise", align={"bottom": "right"}),
        joint("high-right", "rail.2/left-tenon", "stile.2/low-mortise", align={"bottom": "left"}),
        joint("panel-left", "panel/bottom", "stile.1/panel-groove", fixed=("dry",)),
        joint("panel-right", "panel/top", "stile.2/panel-groove", fixed=("dry",)),
        joint("panel-low", "panel/left", "rail.1/panel-groove", fixed=("dry",)),
        joint("panel-high", "panel/right", "rail.2/panel-groove", fixed=("dry",)),
    ]
    plank = Stock("plank", "radiata pine", "board", 240, 7, (2400,), hardness="softwood", sawn_as="flat")
    return job([stile, rail, panel], joints, stock=(STICK, plank))


def mitred_frame(long: float = 300, short: float = 200, angle: float = 45.0, extra: float = 0.0) -> Job:
    """A picture frame: four mitred sides with a rebate for glass and back."""

    def side(name: str, length: float) -> Part:
        return part(
            name,
            "stick",
            length,
            40,
            20,
            feature("glass-rebate", "rebate", edge=("outside", "top"), width=8, depth=10),
            feature("left-mitre", "mitre", end="left", long="bottom", angle=angle),
            feature("right-mitre", "mitre", end="right", long="bottom"),
            count=2,
        )

    corners = [
        joint(f"corner-{number}", f"{one}/left-mitre", f"{two}/right-mitre")
        for number, (one, two) in enumerate((("low.1", "up.1"), ("up.2", "low.1"), ("low.2", "up.2"), ("up.1", "low.2")), 1)
    ]
    return job([side("low", long + extra), side("up", short)], corners, stock=(STICK,))


def cross(under_depth: float = 10, over_depth: float = 10, off: float = 0.0) -> Job:
    """Two arms halved over each other, lying flat."""

    def arm(name: str, face: str, depth: float, distance: float) -> Part:
        return part(
            name,
            "stick",
            180,
            40,
            20,
            feature("middle", "halving", face=face, from_="left", distance=distance, width=40, depth=depth),
        )

    middle = joint("middle", "over/middle", "under/middle", crossing=True)
    return job([arm("under", "inside", under_depth, 70), arm("over", "outside", over_depth, 70 + off)], [middle], stock=(STICK,))
