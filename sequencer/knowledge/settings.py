"""Settings worked out from figures: one documented function each, named by operations. No trade figures stand here;
they come from the operation's `use`, the lists, the station and the work.

A function says which figures and words it takes and what each is unless the operation's `use` says otherwise: a number, a
quantity name or an expression of them. A figure that is not known gives a setting without value, whose text says that
staff decide; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from math import ceil, radians, tan

from sequencer.features.base import mm
from sequencer.knowledge.formats import CutterSpeed, DrillBit, Operation, ScrewGauge
from sequencer.model.plan import Setting
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.reading.expressions import Expression, parse

STAFF_DECIDE = "staff decide"
"""The text of a setting whose figure is not known."""


@dataclass(frozen=True)
class Request:
    """What a settings function is given.

    figures
        Known figures by full name (`feature.width`, `station.kerf`), mm.
    use
        The operation's own figures and words.
    speeds
        Spindle speeds the station can be set to, rev/min, rising.
    hardness
        `softwood`, `hardwood`, `sheet` or `unknown`.
    words
        Names for the printed text: `from` (the face measured from), `face`.
    screws, drill_bits, cutter_speeds
        Lists of the knowledge.
    """

    figures: Figures
    use: Mapping[str, float | str]
    speeds: tuple[float, ...] = ()
    hardness: str = "unknown"
    words: Mapping[str, str] | None = None
    screws: Mapping[int, ScrewGauge] = field(default_factory=dict)
    drill_bits: Mapping[str, DrillBit] = field(default_factory=dict)
    cutter_speeds: tuple[CutterSpeed, ...] = ()


@dataclass(frozen=True)
class Given:
    """A request with its function's figures worked out and its words looked up."""

    request: Request
    figures: Mapping[str, float | None]
    words: Mapping[str, str]


Work = Callable[[Given], tuple[Setting, ...]]
Figure = float | str | None


@dataclass(frozen=True)
class SettingsFunction:
    """A registered function.

    gives
        Names of the settings it returns, all of them but for `optional` ones.
    figures, words
        What it takes from `use`, each with what it is where `use` is silent; None: the operation must say.
    optional
        Settings that are left out where their figure is not known, because not every piece of work has such a size.
    """

    name: str
    gives: tuple[str, ...]
    figures: Mapping[str, Figure]
    words: Mapping[str, str | None]
    optional: tuple[str, ...]
    inner: Work

    def work(self, request: Request) -> tuple[Setting, ...]:
        """The settings for a request. A figure that is not known gives a setting without value."""
        figures = {key: _figure(request.use.get(key, usual), request.figures) for key, usual in self.figures.items()}
        words = {key: str(request.use.get(key, usual or "")) for key, usual in self.words.items()}
        return tuple(
            setting
            for setting in self.inner(Given(request, figures, words))
            if setting.name not in self.optional or setting.value is not None
        )


SETTINGS: dict[str, SettingsFunction] = {}


def settings(
    name: str,
    *,
    gives: tuple[str, ...] = (),
    figures: Mapping[str, Figure] | None = None,
    words: Mapping[str, str | None] | None = None,
    optional: tuple[str, ...] = (),
) -> Callable[[Work], Work]:
    """Decorator: makes a settings function known to the knowledge by name."""

    def note(work: Work) -> Work:
        SETTINGS[name] = SettingsFunction(name, gives, figures or {}, words or {}, optional, work)
        return work

    return note


def spoken(value: float, unit: str) -> str:
    """A figure as a sentence says it: `8 mm`, `45 degrees`, `1200 rev/min`, `4`."""
    number = mm(value)
    return f"{number} {'degrees' if unit == 'deg' else unit}" if unit else number


def bit_of(operation: Operation) -> str:
    """The kind of bit (`lists/drill-bits.yaml`) the settings of an operation name; empty where they name none."""
    function = SETTINGS[operation.settings]
    return str(operation.use.get("bit", function.words["bit"]) or "") if "bit" in function.words else ""


def _figure(stated: Figure, figures: Figures) -> float | None:
    if not isinstance(stated, str):
        return stated
    expression = _expression(stated)
    return expression.value(figures) if all(name in figures for name in expression.names) else None


@cache
def _expression(text: str) -> Expression:
    return parse(text, QUANTITIES)


def _set(name: str, label: str, value: float | None, unit: str = "mm", text: str = "{}") -> Setting:
    """A setting; `{}` in the text stands for the figure. Without a figure staff decide."""
    if value is None:
        return Setting(name, label, STAFF_DECIDE, None, unit)
    return Setting(name, label, text.format(spoken(value, unit)), value, unit)


@settings("none")
def none(given: Given) -> tuple[Setting, ...]:
    """Nothing to set."""
    return ()


@settings(
    "stop-distance",
    gives=("stop",),
    figures={"stop": "part.length"},
    words={"of": "stop block to the near side of the blade"},
)
def stop_distance(given: Given) -> tuple[Setting, ...]:
    """Place of a stop block, or of a mark: the length of the piece, to the near side of the blade. Plain geometry."""
    return (_set("stop", given.words["of"], given.figures["stop"]),)


@settings("rip-fence", gives=("fence", "height"), figures={"fence": "part.width", "height": None}, words={"above": "the table"})
def rip_fence(given: Given) -> tuple[Setting, ...]:
    """Fence at the finished width, measured to the near side of the blade, so that the kerf falls in the waste; height of
    blade or guide above the table. Plain geometry."""
    return (
        _set("fence", "fence to the near side of the blade", given.figures["fence"]),
        _set("height", f"height above {given.words['above']}", given.figures["height"]),
    )


@settings(
    "tilted-rip",
    gives=("angle", "fence", "height"),
    figures={"angle": "feature.angle", "fence": "feature.remaining", "height": None},
)
def tilted_rip(given: Given) -> tuple[Setting, ...]:
    """A bevel along an edge by a blade that leans away from the fence. The piece lies on the face the bevel narrows, so the
    near side of the blade comes through the table at what remains of that face; the height is measured upright. Plain
    geometry."""
    return (
        _set("angle", "blade tilted", given.figures["angle"], "deg", "{} from square"),
        _set("fence", "fence to the near side of the blade, at the table", given.figures["fence"]),
        _set("height", "blade height above the table", given.figures["height"]),
    )


@settings(
    "saw-passes",
    gives=("passes", "fence", "shift", "height"),
    figures={"width": "feature.width", "kerf": "station.kerf", "fence": "feature.distance", "height": "feature.depth"},
)
def saw_passes(given: Given) -> tuple[Setting, ...]:
    """A channel of width w by passes of a blade of kerf k: n = ceil(w / k) passes, the fence moved by
    s = (w - k) / (n - 1) between them; the first pass has its near side at the fence distance. Not possible if w < k.
    Plain geometry: the first and the last kerf lie on the two sides of the channel, and s never exceeds k.
    """
    width, kerf = given.figures["width"], given.figures["kerf"]
    passes = shift = None
    if width is not None and kerf is not None and 0 < kerf <= width:
        # A width that is a whole number of kerfs needs no pass more because of rounding.
        passes = ceil(round(width / kerf, 9))
        shift = (width - kerf) / (passes - 1) if passes > 1 else 0.0
    return (
        _set("passes", "passes", passes, ""),
        _set("fence", "fence to the near side of the blade", given.figures["fence"]),
        _set("shift", "fence moved away for each pass", shift, text="{}" if shift else "none, one pass"),
        _set("height", "blade height above the table", given.figures["height"]),
    )


@settings(
    "drill",
    gives=("bit", "speed", "depth"),
    figures={"diameter": "feature.diameter", "depth": "feature.depth"},
    words={"bit": None, "lowest_step": "refused"},
)
def drill(given: Given) -> tuple[Setting, ...]:
    """Bit, spindle speed and depth stop. The speed is the one advised for kind of bit, diameter and hardness
    (`lists/drill-bits.yaml`), brought down to the nearest step of the machine, never up. Where even the lowest step is
    faster, staff decide unless the operation says `lowest_step: allowed`.
    """
    bit = given.request.drill_bits.get(given.words["bit"])
    return (
        _bit(given),
        _speed(given, bit, given.figures["diameter"]),
        _set("depth", "depth stop", given.figures["depth"]),
    )


@settings(
    "screw-holes",
    gives=("clearance", "pilot", "countersink", "speed"),
    figures={"gauge": "feature.gauge", "hole": "feature.diameter", "bit_step": 0.0},
    words={"bit": "twist", "lowest_step": "refused"},
)
def screw_holes(given: Given) -> tuple[Setting, ...]:
    """Holes for a wood screw by its gauge (`lists/screws.yaml`): clearance hole in the first piece, pilot hole in the
    second by hardness, countersink to the head. With `bit_step` the sizes go to what a bit set holds: the clearance hole
    up, the pilot hole to the nearest step. The speed is that of the larger bit, which is the lower one.
    """
    bit = given.request.drill_bits.get(given.words["bit"])
    clearance, *others = _screw_sizes(given)
    sizes = (replace(clearance, label=f"{clearance.label}, {bit.name}") if bit else clearance, *others)
    return (*sizes, _speed(given, bit, sizes[0].value))


@settings(
    "screw-holes-by-hand",
    gives=("clearance", "pilot", "countersink"),
    figures={"gauge": "feature.gauge", "hole": "feature.diameter", "bit_step": 0.0},
)
def screw_holes_by_hand(given: Given) -> tuple[Setting, ...]:
    """As `screw-holes`, for a hand drill: no speed to set."""
    return _screw_sizes(given)


@settings(
    "pilot-holes",
    gives=("pilot", "depth"),
    figures={"gauge": "feature.gauge", "bit_step": 0.5, "depth": "joint.pilot-depth", "hole": 0.0},
    optional=("pilot", "depth"),
)
def pilot_holes(given: Given) -> tuple[Setting, ...]:
    """The hole for a screw's thread in the second piece, by gauge and hardness, and where the tape sits on its bit."""
    return (
        _screw_sizes(given)[1],
        _set("depth", "tape on the pilot bit", given.figures["depth"], text="{} from the point"),
    )


@settings(
    "bore-by-hand",
    gives=("bit", "depth"),
    figures={"diameter": "feature.diameter", "depth": "feature.depth"},
    words={"bit": None},
)
def bore_by_hand(given: Given) -> tuple[Setting, ...]:
    """Bit and depth for brace or hand drill: the sizes of the hole itself; no speed to set."""
    return (_bit(given), _set("depth", "depth", given.figures["depth"]))


def _bit(given: Given) -> Setting:
    """The bit by its diameter and kind."""
    bit = given.request.drill_bits.get(given.words["bit"])
    return _set("bit", "bit", given.figures["diameter"], text=f"{{}} {bit.name}" if bit else "{}")


def _screw_sizes(given: Given) -> tuple[Setting, Setting, Setting]:
    """Clearance hole, pilot hole and countersink of a wood screw."""
    gauge, step = given.figures["gauge"], given.figures["bit_step"]
    screw = None if gauge is None else given.request.screws.get(round(gauge))
    clearance = pilot = head = None
    if screw is not None:
        clearance, head = screw.clearance, screw.head
        pilot = {"softwood": screw.pilot_softwood, "sheet": screw.pilot_softwood, "hardwood": screw.pilot_hardwood}.get(
            given.request.hardness
        )
        if step:
            clearance = ceil(round(clearance / step, 9)) * step
            pilot = None if pilot is None else round(pilot / step) * step
    clearance = clearance if given.figures["hole"] is None else given.figures["hole"]
    return (
        _set("clearance", "clearance hole", clearance),
        _set("pilot", "pilot hole", pilot),
        _set("countersink", "countersink across", head),
    )


def _speed(given: Given, bit: DrillBit | None, diameter: float | None) -> Setting:
    """The speed advised for the bit, then the nearest step of the machine that is not above it."""
    row = None
    if bit is not None and diameter is not None:
        row = next((row for row in bit.speeds if diameter <= row.up_to), None)
    if row is None:
        return _set("speed", "speed", None, "rev/min")
    advised = {"softwood": row.softwood, "hardwood": row.hardwood, "sheet": row.hardwood}.get(
        given.request.hardness, min(row.softwood, row.hardwood)
    )
    steps = given.request.speeds
    if not steps:
        return _set("speed", "speed", advised, "rev/min", "at most {}")
    slower = [step for step in steps if step <= advised]
    if slower:
        return _set("speed", "speed", max(slower), "rev/min")
    allowed = given.words["lowest_step"] == "allowed"
    return _set("speed", "speed", min(steps) if allowed else None, "rev/min")


@settings(
    "router-passes",
    gives=("cutter", "passes", "fence", "height"),
    figures={"cutter": "feature.width", "fence": "feature.distance", "height": "feature.depth", "deepest_pass": None},
    words={"kind": "straight cutter", "to": "the near side of the cutter"},
)
def router_passes(given: Given) -> tuple[Setting, ...]:
    """Cutter, fence and height on a router table. The depth is reached in n = ceil(depth / deepest pass) equal passes. The
    cutter's text names the highest speed for its diameter (`lists/cutter-speeds.yaml`); its own mark wins.
    """
    cutter, height, deepest = given.figures["cutter"], given.figures["height"], given.figures["deepest_pass"]
    passes = None if height is None or not deepest else max(1, ceil(round(height / deepest, 9)))
    heights = "{} above the table"
    if height is not None and passes is not None and passes > 1:
        heights = ", ".join(spoken(height * number / passes, "mm") for number in range(1, passes)) + ", then {} above the table"
    return (
        _set("cutter", "cutter", cutter, text=f"{{}} {given.words['kind']}, {_cutter_speed(given, cutter)}"),
        _set("passes", "passes", passes, ""),
        _set("fence", f"fence to {given.words['to']}", given.figures["fence"]),
        _set("height", "cutter height", height, text=heights),
    )


def _cutter_speed(given: Given, cutter: float | None) -> str:
    """The highest speed for a cutter of a diameter, in words."""
    fastest = next((row.most for row in given.request.cutter_speeds if cutter is not None and cutter <= row.up_to), None)
    return "staff decide the speed" if fastest is None else f"at most {spoken(fastest, 'rev/min')}, and no more than its mark"


@settings(
    "dovetail-passes",
    gives=("clear", "cutter", "passes", "fence", "shift", "height", "angle"),
    figures={
        "cutter": "station.dovetail-cutter",
        "width": "feature.width",
        "fence": "feature.distance",
        "height": "feature.depth",
        "angle": "feature.angle",
    },
)
def dovetail_passes(given: Given) -> tuple[Setting, ...]:
    """A dovetail housing w wide at its floor by passes of a dovetail cutter of diameter d at full height h: its neck is
    k = d - 2 h tan(angle), so n = 1 + ceil((w - d) / k) passes, the fence moved by (w - d) / (n - 1) between them, leave no
    ridge; a straight cutter no wider than the neck clears the middle first. Plain geometry. Not possible if w < d or k <= 0.
    """
    cutter, width, height, angle = (given.figures[name] for name in ("cutter", "width", "height", "angle"))
    neck = passes = shift = None
    if cutter is not None and width is not None and height is not None and angle is not None:
        narrow = cutter - 2 * height * tan(radians(angle))
        if narrow > 0 and width >= cutter:
            neck = float(int(narrow))
            passes = 1 + ceil(round((width - cutter) / narrow, 9))
            shift = (width - cutter) / (passes - 1) if passes > 1 else 0.0
    return (
        _set("clear", "first", neck, text=f"straight cutter of at most {{}}, {_cutter_speed(given, neck)}"),
        _set("cutter", "then", cutter, text=f"dovetail cutter, {{}} at its widest, {_cutter_speed(given, cutter)}"),
        _set("passes", "passes", None if passes is None else float(passes), ""),
        _set("fence", "fence to the near side of the cutter, at its widest", given.figures["fence"]),
        _set("shift", "fence moved out for each further pass", shift),
        _set("height", "cutter height", height, text="{} above the table, in one pass"),
        _set("angle", "sides of the cutter", angle, "deg"),
    )


@settings(
    "dovetail-end-passes",
    gives=("cutter", "fence", "height", "angle"),
    figures={
        "cutter": "station.dovetail-cutter",
        "fence": "feature.depth",
        "height": "feature.length",
        "angle": "feature.angle",
    },
)
def dovetail_end_passes(given: Given) -> tuple[Setting, ...]:
    """A sloped end by a dovetail cutter, the piece upright along a false fence: as much of the cutter shows, at its widest, as
    the slope runs in; its height is the length of the end. Plain geometry."""
    cutter = given.figures["cutter"]
    return (
        _set("cutter", "cutter", cutter, text=f"dovetail cutter, {{}} at its widest, {_cutter_speed(given, cutter)}"),
        _set("fence", "false fence to the outside of the cutter, at its widest", given.figures["fence"]),
        _set("height", "cutter height", given.figures["height"], text="{} above the table, in one pass"),
        _set("angle", "sides of the cutter", given.figures["angle"], "deg"),
    )


@settings(
    "plough",
    gives=("blade", "fence", "depth"),
    figures={"blade": "feature.width", "fence": "feature.distance", "depth": "feature.depth"},
)
def plough(given: Given) -> tuple[Setting, ...]:
    """Blade, fence and depth stop of a plough: the sizes of the cut itself."""
    return (
        _set("blade", "blade width", given.figures["blade"]),
        _set("fence", "fence to the near side of the blade", given.figures["fence"]),
        _set("depth", "depth stop", given.figures["depth"]),
    )


@settings("rebate-plane", gives=("fence", "depth"), figures={"fence": "feature.width", "depth": "feature.depth"})
def rebate_plane(given: Given) -> tuple[Setting, ...]:
    """Fence and depth stop of a rebate plane, whose blade is wider than the rebate: the fence lets as much of it cut as the
    rebate is wide."""
    return (
        _set("fence", "fence to the far side of the cut", given.figures["fence"]),
        _set("depth", "depth stop", given.figures["depth"]),
    )


@settings(
    "gauge",
    gives=("distance", "width", "depth"),
    figures={"distance": "feature.distance", "width": "feature.width", "depth": "feature.depth"},
    optional=("distance", "width", "depth"),
)
def gauge(given: Given) -> tuple[Setting, ...]:
    """Sizes to mark: of the three, those the work has."""
    return (
        _set("distance", "distance", given.figures["distance"]),
        _set("width", "width", given.figures["width"]),
        _set("depth", "depth", given.figures["depth"]),
    )


@settings("angle", gives=("angle",), figures={"angle": "feature.angle"})
def angle(given: Given) -> tuple[Setting, ...]:
    """An angle to set, degrees from square."""
    return (_set("angle", "angle", given.figures["angle"], "deg", "{} from square"),)


@settings("plane-to", gives=("size",), figures={"size": "part.thickness"})
def plane_to(given: Given) -> tuple[Setting, ...]:
    """The finished size to plane, thickness or sand to."""
    return (_set("size", "finished size", given.figures["size"]),)


@settings(
    "glue-up",
    gives=("cramps", "open", "cramp-time"),
    figures={"cramps": "joint.cramps", "open": "joint.reach", "cramp_time": "station.cramp-time"},
)
def glue_up(given: Given) -> tuple[Setting, ...]:
    """Cramps to lay ready, how far they must open, and how long they stay on."""
    cramps = given.figures["cramps"]
    return (
        _set("cramps", "cramps", None if cramps is None else ceil(cramps), ""),
        _set("open", "cramps open", given.figures["open"], text="more than {}"),
        _set("cramp-time", "cramps stay on", given.figures["cramp_time"], "min", "at least {}"),
    )


@settings(
    "coats",
    gives=("coats", "dry-time"),
    figures={"coats": "finish.coats", "dry_time": "finish.dry-time"},
    words={"finishes": None},
)
def coats(given: Given) -> tuple[Setting, ...]:
    """How many coats, and how long each dries. `finishes` says which kind of finish the operation puts on."""
    return (
        _set("coats", "coats", given.figures["coats"], ""),
        _set("dry-time", "drying between coats", given.figures["dry_time"], "min", "at least {}"),
    )


@settings("hardware", words={"things": None})
def hardware(given: Given) -> tuple[Setting, ...]:
    """Nothing to set. `things` says which sort of bought-in thing the operation fixes."""
    return ()


@settings("mortise", gives=("chisel", "depth"), figures={"chisel": "feature.width", "depth": "feature.depth"})
def mortise(given: Given) -> tuple[Setting, ...]:
    """Chisel as wide as the mortise, depth stop at its depth."""
    return (
        _set("chisel", "chisel width", given.figures["chisel"]),
        _set("depth", "depth stop", given.figures["depth"]),
    )


_SLOPED: dict[str, Figure] = {"angle": "feature.angle", "slope": "feature.slope"}


def _slope(given: Given) -> Setting:
    """The slope as a sliding bevel is set to it: from the angle and, where it is known, 1 in how many."""
    angle, slope = given.figures["angle"], given.figures["slope"]
    return _set("angle", "slope", angle, "deg", "{}" if slope is None else f"1 in {mm(slope)}, {{}}")


@settings("sloped-end", gives=("angle", "depth"), figures={**_SLOPED, "depth": "feature.length"})
def sloped_end(given: Given) -> tuple[Setting, ...]:
    """Tails or a sloped end to saw to their lines: slope, and shoulder line from the end. The angle is the one whose tangent
    is 1 in the slope; plain geometry."""
    return (_slope(given), _set("depth", "shoulder line from the end", given.figures["depth"]))


@settings("pins", gives=("angle", "reach"), figures={**_SLOPED, "reach": "feature.length"})
def pins(given: Given) -> tuple[Setting, ...]:
    """Sockets right through, between pins: slope, and how far they go in from the end."""
    return (_slope(given), _set("reach", "sockets from the end", given.figures["reach"]))


@settings(
    "lapped-pins",
    gives=("angle", "reach", "depth"),
    figures={**_SLOPED, "reach": "feature.length", "depth": "feature.depth"},
)
def lapped_pins(given: Given) -> tuple[Setting, ...]:
    """As `pins`, with the depth of the sockets from the face they open in: what is left is the lap."""
    return (*pins(given), _set("depth", "sockets deep", given.figures["depth"]))


@settings(
    "sloped-channel",
    gives=("angle", "depth"),
    figures={**_SLOPED, "depth": "feature.depth"},
)
def sloped_channel(given: Given) -> tuple[Setting, ...]:
    """A channel with sloped sides between its lines on the face: slope and depth."""
    return (_slope(given), _set("depth", "depth", given.figures["depth"]))


@settings(
    "disc-slots",
    gives=("depth", "disc", "cutter"),
    figures={"depth": "feature.depth", "disc": "station.cutter-diameter", "cutter": "station.cutter-width"},
)
def disc_slots(given: Given) -> tuple[Setting, ...]:
    """How deep the disc of a slot cutter is plunged; its diameter, which makes the length of the slot, and its width."""
    return (
        _set("depth", "depth stop", given.figures["depth"]),
        _set("disc", "disc across", given.figures["disc"]),
        _set("cutter", "disc cuts a slot of", given.figures["cutter"]),
    )
