"""Settings of a laser cutter: where its beam runs beside the line."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings("beam-path", gives=("inset",), figures={"kerf": "station.kerf"})
def beam_path(given: Given) -> tuple[Setting, ...]:
    """The path of the beam's middle beside the line, on the waste side: half of what the beam takes away, so that the edge
    that stays lies on the line. Plain geometry."""
    kerf = given.figures["kerf"]
    return (setting("inset", "path of the beam beside the line, in the waste", None if kerf is None else kerf / 2),)
