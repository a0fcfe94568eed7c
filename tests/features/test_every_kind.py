"""What holds for every feature of every kind, tried on the samples and on random legal ones."""

from __future__ import annotations

import re
from math import atan2, degrees, dist, isclose, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sequencer.features import Dimension, Feature
from sequencer.features.channel import Trenched
from sequencer.features.opening import Opening
from sequencer.features.revolved import Revolved
from sequencer.features.spline_slot import SplineSlot
from sequencer.features.tenon import Tenon
from sequencer.features.tongue import Tongue
from sequencer.model.frame import AXES, FACES, Block, axis_of
from sequencer.model.shapes import bounds, bounds_of, mirror

from .legal import features
from .samples import all_samples, block_of, findings, volume

Made = tuple[Feature, Block]
samples = pytest.mark.parametrize("made", [(each, block_of(each.kind)) for each in all_samples()], ids=lambda made: made[0].kind)
NEAR = 1e-6


def stays_in_its_part(feature: Feature, block: Block) -> None:
    for shape in feature.removes(block):
        assert volume(shape) > 0
        for axis in AXES:
            low, high = bounds(shape).span(axis)
            assert low > -NEAR
            assert high < block.size(axis) + NEAR


def opens_its_first_face(feature: Feature, block: Block) -> None:
    face = feature.opens()[0]
    low, high = bounds_of(feature.removes(block)).span(axis_of(face))
    assert isclose(block.level(face), low, abs_tol=NEAR) or isclose(block.level(face), high, abs_tol=NEAR)


def length_of(size: Dimension) -> float:
    if size.label.startswith("radius"):
        return dist(size.start, size.stop)
    return abs(size.stop[AXES.index(size.along)] - size.start[AXES.index(size.along)])


def dimensions_say_their_length(feature: Feature, block: Block) -> None:
    assert feature.dimensions(block)
    for size in feature.dimensions(block):
        if size.slope is not None:
            rise, run = dist(size.stop, size.slope), length_of(size)
            says = re.match(r"([\d.]+) degrees", size.label)
            assert says is not None
            assert isclose(degrees(atan2(rise, run)), float(says.group(1)), abs_tol=0.051), size
            said = re.search(r": ([\d.]+) in ([\d.]+)$", size.label)
            assert said is not None or size.label.endswith("45 degrees"), size
            assert said is None or isclose(rise, float(said.group(1)), abs_tol=0.051), size
            assert said is None or isclose(run, float(said.group(2)), abs_tol=0.051), size
        else:
            number = re.search(r"\d+(\.\d)?", size.label)
            assert number is not None
            assert isclose(length_of(size), float(number.group()), abs_tol=0.051), size


def mirrors(feature: Feature, block: Block) -> None:
    for shape in feature.removes(block):
        other = mirror(shape, block.length)
        assert isclose(volume(other), volume(shape), rel_tol=1e-9)
        here, there = bounds(shape), bounds(other)
        assert there.low.x == pytest.approx(block.length - here.high.x, abs=NEAR)
        assert there.high.x == pytest.approx(block.length - here.low.x, abs=NEAR)
        assert (there.low[1:], there.high[1:]) == (here.low[1:], here.high[1:])
        again = bounds(mirror(other, block.length))
        assert again.low == pytest.approx(here.low, abs=NEAR)
        assert again.high == pytest.approx(here.high, abs=NEAR)


@samples
def test_a_sample_is_without_errors(made: Made) -> None:
    assert [each for each in findings(*made) if each.level == "error"] == []


@samples
def test_a_sample_stays_in_its_part(made: Made) -> None:
    stays_in_its_part(*made)


@samples
def test_a_sample_opens_its_first_face(made: Made) -> None:
    opens_its_first_face(*made)


@samples
def test_a_sample_is_dimensioned(made: Made) -> None:
    dimensions_say_their_length(*made)


@samples
def test_a_sample_mirrors(made: Made) -> None:
    mirrors(*made)


@samples
def test_a_sample_names_faces(made: Made) -> None:
    feature, _ = made
    for faces in (feature.opens(), feature.measured_from(), feature.spoils(), feature.ends_part()):
        assert set(faces) <= set(FACES)
        assert len(set(faces)) == len(faces)
    assert feature.opens()
    assert feature.measured_from()


@settings(max_examples=300, deadline=None)
@given(features())
def test_any_legal_feature_stays_in_its_part_and_says_so(made: Made) -> None:
    feature, block = made
    stays_in_its_part(feature, block)
    opens_its_first_face(feature, block)
    dimensions_say_their_length(feature, block)
    mirrors(feature, block)
    assert set(feature.figures(block)) == set(feature.gives)
    assert not [each for each in findings(feature, block) if each.code in ("outside-part", "nothing-left")]


@settings(max_examples=200, deadline=None)
@given(features())
def test_the_figures_are_the_bounds_of_the_shapes(made: Made) -> None:
    feature, block = made
    figures, around = feature.figures(block), bounds_of(feature.removes(block))
    if isinstance(feature, Trenched):
        trench, around = feature.trench(), bounds_of(feature.removes(block)[:1])
        assert around.size(axis_of(trench.beside)) == pytest.approx(trench.width)
        assert around.size(axis_of(trench.face)) == pytest.approx(figures["feature.depth"])
        assert around.size(trench.run) == pytest.approx(figures["feature.width" if feature.kind == "notch" else "feature.length"])
    elif isinstance(feature, Opening):
        # Tools go by the narrow way, whichever of the two the drawing calls the width.
        sides = sorted(around.size(axis) for axis in (feature.run(block), feature.across(block)))
        assert sides == pytest.approx([figures["feature.width"], figures["feature.length"]])
        assert around.size(axis_of(feature.opens()[0])) == pytest.approx(figures["feature.depth"])
    elif isinstance(feature, Revolved):
        assert around.size("x") == pytest.approx(figures["feature.length"])
        left = block.length * block.width * block.thickness - sum(map(volume, feature.removes(block)))
        square = (block.length - figures["feature.length"]) * block.width * block.thickness
        least, most = (pi / 4 * figures[name] ** 2 * figures["feature.length"] for name in ("feature.neck", "feature.diameter"))
        assert least - NEAR <= left - square <= most + NEAR
    elif "feature.diameter" in figures:
        assert around.size(axis_of(feature.opens()[0])) == pytest.approx(figures["feature.depth"])
        assert figures["feature.count"] * (1 + bool(figures["feature.head-diameter"])) == len(feature.removes(block))
    elif isinstance(feature, Tenon):
        assert around.size("x") == pytest.approx(figures["feature.length"])
        left = block.length * block.width * block.thickness - sum(map(volume, feature.removes(block)))
        body = (block.length - feature.length) * block.width * block.thickness
        tongue = figures["feature.length"] * figures["feature.width"] * figures["feature.thickness"]
        assert left == pytest.approx(body + tongue + _haunch(feature, block))
    elif isinstance(feature, Tongue):
        assert around.size(axis_of(feature.edge)) == pytest.approx(figures["feature.length"])
        assert max(bounds(shape).size("z") for shape in feature.removes(block)) == pytest.approx(figures["feature.depth"])
    elif isinstance(feature, SplineSlot):
        assert around.size("x") == pytest.approx(figures["feature.length"])
        assert around.size(feature.across()) == pytest.approx(figures["feature.width"])
    else:
        alone = [bounds(shape) for shape in feature.removes(block)]
        sizes = [each.size(axis) for each in (around, *alone) for axis in AXES]
        assert any(size == pytest.approx(figures["feature.depth"]) for size in sizes)


def _haunch(feature: Tenon, block: Block) -> float:
    """The volume of a haunch: as long as it stands out, as wide as the tenon leaves, half of that if it slopes."""
    if feature.haunch is None:
        return 0.0
    wide = feature.shoulders(block)[feature.haunch.side]
    return feature.haunch.length * wide * feature.thickness * (1.0 if feature.haunch.form == "square" else 0.5)


@settings(max_examples=200, deadline=None)
@given(features(), some.builds(Block, *[some.integers(1, 60).map(float)] * 3))
def test_a_feature_answers_on_a_board_it_does_not_fit(made: Made, other: Block) -> None:
    feature, _ = made
    assert set(feature.figures(other)) == set(feature.gives)
    assert feature.dimensions(other)
    assert all(shape for shape in feature.removes(other))
    assert isinstance(findings(feature, other), list)
    assert feature.lengthwise(other) in (True, False)


@settings(max_examples=100, deadline=None)
@given(features(), some.sampled_from(AXES))
def test_checks_answer_for_any_grain(made: Made, grain: str) -> None:
    feature, block = made
    for each in feature.check(block, grain):  # type: ignore[arg-type]
        assert each.what.endswith(".")
        assert each.subject == feature.name
        assert each.level == "error" or each.source or each.level == "note"
