"""Settings of saws: fence, height, passes, stop block. Plain geometry."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from sequencer.knowledge.forms.cutters import BandBlade
from sequencer.knowledge.settings.base import Given, setting, settings, spoken
from sequencer.model.plan import Setting


@settings(
    "stop-distance",
    gives=("stop",),
    figures={"stop": "part.length"},
    words={"of": "stop block to the near side of the blade"},
)
def stop_distance(given: Given) -> tuple[Setting, ...]:
    """Place of a stop block, or of a mark: the length of the piece, to the near side of the blade. Plain geometry."""
    return (setting("stop", given.words["of"], given.figures["stop"]),)


@settings(
    "stop-and-clearance",
    gives=("stop", "clear"),
    figures={"stop": "part.length", "clear": None},
)
def stop_and_clearance(given: Given) -> tuple[Setting, ...]:
    """A short piece cut off a longer one that is held: its length is set by a block between it and the stop, which is taken
    away before the cut, so that the piece lies free. Plain geometry."""
    return (
        setting("stop", "clearance block to the near side of the blade", given.figures["stop"]),
        setting("clear", "clearance block, taken away before the cut", given.figures["clear"], text="at least {} long"),
    )


@settings("rip-fence", gives=("fence", "height"), figures={"fence": "part.width", "height": None}, words={"above": "the table"})
def rip_fence(given: Given) -> tuple[Setting, ...]:
    """Fence at the finished width, measured to the near side of the blade, so that the kerf falls in the waste; height of
    blade or guide above the table. Plain geometry."""
    return (
        setting("fence", "fence to the near side of the blade", given.figures["fence"]),
        setting("height", f"height above {given.words['above']}", given.figures["height"]),
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
        setting("angle", "blade tilted", given.figures["angle"], "deg", "{} from square"),
        setting("fence", "fence to the near side of the blade, at the table", given.figures["fence"]),
        setting("height", "blade height above the table", given.figures["height"]),
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
        setting("passes", "passes", passes, ""),
        setting("fence", "fence to the near side of the blade", given.figures["fence"]),
        setting("shift", "fence moved away for each pass", shift, text="{}" if shift else "none, one pass"),
        setting("height", "blade height above the table", given.figures["height"]),
    )


@settings(
    "guide-batten",
    gives=("batten", "across", "cut-depth"),
    figures={"to": "part.width", "across": 0.0, "sole": "station.sole", "depth": None},
    optional=("across",),
)
def guide_batten(given: Given) -> tuple[Setting, ...]:
    """A batten on the side of the work that is kept, for the sole of a saw held in the hands to run along: as far from the
    edge or end as the size that is sawn, less what the sole reaches from the batten to the near side of the blade. `across`
    is a second size of the same blank, across the first. The blade comes out below the wood by what `depth` is more than
    its thickness. Plain geometry."""
    to, other, sole = (given.figures[name] for name in ("to", "across", "sole"))
    batten = None if to is None or sole is None or to <= sole else to - sole
    across = None if not other or sole is None or other <= sole else other - sole
    return (
        setting("batten", "guide batten from the edge or end", batten),
        setting("across", "guide batten for the cut across that", across),
        setting("cut-depth", "depth of cut", given.figures["depth"]),
    )


@settings(
    "kerf-in-end",
    gives=("fence", "cutter", "depth"),
    figures={"fence": "feature.distance", "cutter": "station.kerf", "depth": "feature.depth"},
)
def kerf_in_end(given: Given) -> tuple[Setting, ...]:
    """A single cut of a narrow blade into an end: its near side as far from the fence as the kerf is from the edge, as wide as
    the blade cuts, as deep as the stop block lets it go. Plain geometry."""
    return (
        setting("fence", "fence to the near side of the blade", given.figures["fence"]),
        setting("cutter", "the blade cuts a kerf of", given.figures["cutter"]),
        setting("depth", "stop block, for a cut into the end of", given.figures["depth"]),
    )


KNIFE_OVER_PLATE = 0.2
"""How much thicker than the blade's body a riving knife is at least, mm: EN 1870-1:2007+A1:2009, as quoted in a test report."""


def knife_fault(plate: float, knife: float, kerf: float) -> str:
    """What is wrong with a riving knife, or an empty text: plate + 0.2 mm <= knife < kerf. Thinner, the cut closes on the blade
    behind it; as thick as the kerf or thicker, the wood jams on it. Source: EN 1870-1:2007+A1:2009, riving knife, as quoted in
    a test report; HSE circular saw bench page, thicker than the plate and thinner than the kerf."""
    if knife + 1e-9 < plate + KNIFE_OVER_PLATE:
        return f"the riving knife of {spoken(knife, 'mm')} is too thin for a blade of {spoken(plate, 'mm')}"
    if knife >= kerf:
        return f"the riving knife of {spoken(knife, 'mm')} is too thick for a kerf of {spoken(kerf, 'mm')}"
    if kerf <= plate:
        return f"the kerf of {spoken(kerf, 'mm')} is not wider than the blade's body of {spoken(plate, 'mm')}"
    return ""


def smallest_radius(width: float, blades: Sequence[BandBlade]) -> float | None:
    """The tightest curve, mm, that a band-saw blade of a width follows, by `lists/band-saw-blades.yaml`: that of the next wider
    blade listed, so that no curve is called open that the table does not give. None for a blade wider than all of them."""
    return next((row.radius for row in sorted(blades, key=lambda row: row.up_to) if width <= row.up_to), None)
