"""Settings of planes: fence, blade, depth stop, finished size."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings(
    "plough",
    gives=("blade", "fence", "depth"),
    figures={"blade": "feature.width", "fence": "feature.distance", "depth": "feature.depth"},
)
def plough(given: Given) -> tuple[Setting, ...]:
    """Blade, fence and depth stop of a plough: the sizes of the cut itself."""
    return (
        setting("blade", "blade width", given.figures["blade"]),
        setting("fence", "fence to the near side of the blade", given.figures["fence"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


@settings("rebate-plane", gives=("fence", "depth"), figures={"fence": "feature.width", "depth": "feature.depth"})
def rebate_plane(given: Given) -> tuple[Setting, ...]:
    """Fence and depth stop of a rebate plane, whose blade is wider than the rebate: the fence lets as much of it cut as the
    rebate is wide."""
    return (
        setting("fence", "fence to the far side of the cut", given.figures["fence"]),
        setting("depth", "depth stop", given.figures["depth"]),
    )


@settings(
    "tongue-plane",
    gives=("fence", "depth", "depth-behind"),
    figures={"fence": "feature.length", "depth": "feature.shoulder", "depth-behind": "feature.shoulder-behind"},
    optional=("depth-behind",),
)
def tongue_plane(given: Given) -> tuple[Setting, ...]:
    """Fence of a rebate plane for a tongue, and its depth stop for the shoulder in each face, mm: in the words `face` and
    `behind` of the work. A bare-faced tongue has one shoulder only."""
    figures, words = given.figures, given.request.words or {}
    return (
        setting("fence", "fence to the far side of the cut", figures["fence"]),
        setting("depth", f"depth stop for the {words.get('face', 'first')} face", figures["depth"]),
        setting("depth-behind", f"depth stop for the {words.get('behind', 'other')} face", figures["depth-behind"] or None),
    )


@settings("plane-to", gives=("size",), figures={"size": "part.thickness"})
def plane_to(given: Given) -> tuple[Setting, ...]:
    """The finished size to plane, thickness or sand to."""
    return (setting("size", "finished size", given.figures["size"]),)
