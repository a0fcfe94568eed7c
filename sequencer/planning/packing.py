"""The strip that fills a rebate under or behind a piece while its end is mitred. mm."""

from __future__ import annotations

from sequencer.features.mitre import Mitre
from sequencer.features.rebate import Rebate
from sequencer.model.frame import opposite
from sequencer.model.job import Part


def packing_figures(part: Part, mitre: Mitre) -> dict[str, float]:
    """Width and thickness of the strip, of several rebates the widest; 0 where the piece lies firm without one.

    Where both ends are mitred, whatever runs along the piece is cut before it leaves the long one; a single mitre may come
    before the rebate. A rebate in the upper face and the near edge is neither lain on nor leant against: plain geometry.
    """
    lain_on = {opposite(mitre.opens()[0]), mitre.long}
    sloped = {end for feature in part.features.values() if isinstance(feature, Mitre) for end in feature.ends_part()}
    found = [
        (each.width, each.depth)
        for each in part.features.values()
        if isinstance(each, Rebate)
        and each.when == "loose"
        and not each.stops
        and each.lengthwise(part.block)
        and lain_on & {*each.edge}
        and len(sloped) > 1
    ]
    width, depth = max(found, default=(0.0, 0.0))
    return {"part.packing-width": width, "part.packing-depth": depth}
