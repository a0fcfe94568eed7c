"""Every kind there is: described, in its own module, measured in registered quantities, and tried."""

from __future__ import annotations

import pytest
from pydantic import TypeAdapter

from sequencer.features import Feature, feature_kinds
from sequencer.features.base import register
from sequencer.model.quantities import QUANTITIES

from .samples import SAMPLES, all_samples, block_of

KINDS = feature_kinds()


def test_the_kinds_of_the_trade_are_there() -> None:
    assert list(KINDS) == [
        "bevel",
        "biscuit-slots",
        "bridle",
        "bridle-tongue",
        "chamfer",
        "cope",
        "cut-out",
        "dovetail-end",
        "dovetail-housing",
        "dovetail-pins",
        "dovetails",
        "dowel-holes",
        "fielded-edge",
        "finger-joint",
        "groove",
        "halving",
        "hole",
        "housing",
        "mitre",
        "mortise",
        "moulding",
        "notch",
        "outline",
        "rebate",
        "recess",
        "round-over",
        "rounded-corner",
        "rounding",
        "screw-holes",
        "slot",
        "spline-slot",
        "taper",
        "tenon",
        "tongue",
        "turned-profile",
        "wedge-kerfs",
    ]


def test_every_kind_has_samples() -> None:
    assert sorted(SAMPLES) == list(KINDS)


@pytest.mark.parametrize("kind", KINDS.values(), ids=list(KINDS))
def test_a_kind_is_described_in_a_module_of_its_name(kind: type[Feature]) -> None:
    assert kind.__module__ == f"sequencer.features.{kind.kind.replace('-', '_')}"
    assert kind.title
    assert len(kind.says.split()) > 4
    assert kind.__doc__
    assert not kind.__doc__.startswith(kind.__name__ + "(")
    assert set(kind.gives) <= set(QUANTITIES)
    assert len(set(kind.gives)) == len(kind.gives)


@pytest.mark.parametrize("kind", KINDS.values(), ids=list(KINDS))
def test_a_kind_has_a_schema_that_refuses_unknown_fields(kind: type[Feature]) -> None:
    schema = TypeAdapter(kind).json_schema()
    assert schema["additionalProperties"] is False


def test_two_kinds_cannot_share_a_name() -> None:
    with pytest.raises(ValueError, match="two feature kinds are called 'groove'"):
        register(KINDS["groove"])


@pytest.mark.parametrize("feature", all_samples(), ids=lambda each: each.kind)
def test_the_figures_are_the_ones_promised(feature: Feature) -> None:
    assert list(feature.figures(block_of(feature.kind))) == list(feature.gives)
