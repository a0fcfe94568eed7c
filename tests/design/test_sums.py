"""The sums against worked values; sources as marked."""

import pytest

from sequencer.design.sums import panel_most, piece_between, tenon_most
from sequencer.knowledge.settings.moisture import movement, panel_room


@pytest.mark.parametrize(
    ("size", "coefficient", "change", "answer"),
    [
        # Wood Handbook (FPL-GTR-190), chapter 13, example: white fir 232 mm, 8 to 11 % (start and coefficient from memory).
        (232, 0.00245, 3, 1.7),
        # Flooring board of 5 in, 6 to 9 %, coefficient 0.00129: 0.019 in (trade list after the Wood Handbook).
        (127, 0.00129, 3, 0.49),
        # Worked from Wood Handbook Table 13-5: cherry panel 400 mm, +4; red oak 300 mm, -4, flat and quarter sawn.
        (400, 0.00248, 4, 3.97),
        (300, 0.00369, -4, -4.43),
        (300, 0.00158, -4, -1.90),
    ],
)
def test_movement(size: float, coefficient: float, change: float, answer: float) -> None:
    assert movement(size, coefficient, change) == pytest.approx(answer, abs=0.01)


def test_a_panel_needs_room_whichever_way_the_moisture_goes() -> None:
    assert panel_room(300, 0.00369, -4) == panel_room(300, 0.00369, 4) == pytest.approx(4.43, abs=0.01)


def test_piece_between() -> None:
    """Common practice: end = outside - 2 t, and longer by both depths if housed."""
    assert str(piece_between(190, (15, 15))) == "190 - 2 x 15 = 160"
    assert str(piece_between(190, (15, 15), (5, 5))) == "190 - 2 x 15 + 2 x 5 = 170"
    assert str(piece_between(124, (12, 12))) == "124 - 2 x 12 = 100"
    assert str(piece_between(200, (12, 15), (4, 0))) == "200 - 12 - 15 + 4 + 0 = 177"


def test_panel_most() -> None:
    """Common practice: panel = clear opening + groove depth at each grooved end."""
    assert panel_most(200, (5, 5)).value == 210
    assert str(panel_most(238, (6, 0))) == "238 + 6 + 0 = 244"


def test_tenon() -> None:
    assert tenon_most(27, 2) == 25
