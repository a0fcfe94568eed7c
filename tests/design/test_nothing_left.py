"""Cuts that leave no part, or another size of part."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.design.cuts import nothing_left
from sequencer.features import feature_kinds
from sequencer.features.base import Feature
from tests.made import EXAMPLES, job


def _with(feature: Feature) -> list[str]:
    drawn = job("herb-caddy")
    side = replace(drawn.parts["side"], features={feature.name: feature})
    return [finding.what for finding in nothing_left(replace(drawn, parts={**drawn.parts, "side": side}))]


def test_a_cut_out_as_large_as_its_part_is_refused() -> None:
    kind = feature_kinds()["cut-out"]
    whole = kind(name="window", face="inside", at={"left": 0, "bottom": 0}, length=320, width=90)  # type: ignore[call-arg]
    assert _with(whole) == ["The cut-out takes the whole side away: that is no cut in it."]


def test_a_groove_over_the_whole_face_is_refused() -> None:
    kind = feature_kinds()["groove"]
    layer = kind(name="layer", face="inside", from_="bottom", distance=0, width=90, depth=5)  # type: ignore[call-arg]
    assert _with(layer) == ["The groove takes 5 mm off the whole side: that is no cut in it."]


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_examples_leave_their_parts(name: str) -> None:
    assert list(nothing_left(job(name))) == []
