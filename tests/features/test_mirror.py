"""The other hand of a shape: x becomes length - x, whichever way the shape lies."""

from __future__ import annotations

import pytest

from sequencer.model.shapes import Cone, Prism, Shape, Turned, box, mirror

SHAPES: list[tuple[Shape, Shape]] = [
    (Prism("x", ((0, 0), (5, 0), (0, 5)), 10, 30), Prism("x", ((0, 0), (5, 0), (0, 5)), 70, 90)),
    (Prism("z", ((0, 0), (5, 0), (0, 5)), 0, 18), Prism("z", ((100, 0), (95, 0), (100, 5)), 0, 18)),
    (Prism("y", ((0, 0), (5, 0), (0, 7)), 0, 18), Prism("y", ((100, 0), (95, 0), (100, 7)), 0, 18)),
    (Cone("x", (45, 9), 0, 25, 4, 2), Cone("x", (45, 9), 75, 100, 2, 4)),
    (Cone("z", (40, 20), 0, 18, 5, 3), Cone("z", (60, 20), 0, 18, 5, 3)),
    (Turned("x", (9, 9), ((0, 4), (30, 9))), Turned("x", (9, 9), ((70, 9), (100, 4)))),
    (Turned("z", (10, 20), ((0, 4), (30, 9))), Turned("z", (90, 20), ((0, 4), (30, 9)))),
]


@pytest.mark.parametrize(("left", "right"), SHAPES)
def test_a_shape_changes_hands_and_back(left: Shape, right: Shape) -> None:
    assert mirror(left, 100) == right
    assert mirror(right, 100) == left


def test_a_box_measured_from_the_left_is_measured_from_the_right() -> None:
    assert mirror(box((10, 25), (0, 90), (12, 18)), 300) == Prism("z", ((290, 0), (275, 0), (275, 90), (290, 90)), 12, 18)
