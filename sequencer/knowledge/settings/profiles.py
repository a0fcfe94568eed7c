"""Edges worked to a section: mouldings and fielded panels."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings(
    "edge-section",
    gives=("width", "depth", "angle"),
    figures={"width": "feature.width", "depth": "feature.depth", "angle": "feature.angle"},
    optional=("angle",),
)
def edge_section(given: Given) -> tuple[Setting, ...]:
    """Gauge lines of a section along an edge: how far in over the face, how far down on the edge; and its slope from the face,
    where it has one. Plain geometry."""
    return (
        setting("width", "gauge line on the face, from the edge", given.figures["width"]),
        setting("depth", "gauge line on the edge, from the face", given.figures["depth"]),
        setting("angle", "slope from the face", given.figures["angle"], "deg"),
    )
