"""Pages of either paper size hold what a browser prints on them: no section is higher than its paper less the margins."""

from __future__ import annotations

import re

import pytest

from sequencer.data import data_folder
from sequencer.paper.pages import PAGE_SIZES, PageSize, room_on

# ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter, size A, is 8 1/2 by 11 inches.
PAPER = {"a4": (210.0, 297.0), "letter": (8.5 * 25.4, 11 * 25.4)}
MARGINS = 16.0
"""Top and bottom together, as browsers print."""


def _heights(block: str) -> dict[str, float]:
    """The least height of a page by the classes of the body that it is set under."""
    found = re.findall(r"^\s*((?:\.[\w-]+)*)\s*\.page \{[^}]*min-height: ([\d.]+)mm", block, re.MULTILINE)
    return {"".join(sorted(name.split("."))): float(height) for name, height in found}


def _least(heights: dict[str, float], size: str, *, landscape: bool) -> float:
    """The rule that counts: of two classes, then of one, the later, then of none."""
    both = f"landscapeon-{size}"
    for name in (both, "landscape") if landscape else (f"on-{size}",):
        if name in heights:
            return heights[name]
    return heights[""]


@pytest.mark.parametrize("size", PAGE_SIZES)
@pytest.mark.parametrize("landscape", [False, True])
def test_a_section_is_no_higher_than_a_page_that_a_browser_prints(size: PageSize, landscape: bool) -> None:
    css = (data_folder("cards") / "card.css").read_text(encoding="utf-8")
    printed, _, screen = css[css.index("@supports (display: flex)") :].partition("@media screen")
    tall = PAPER[size][0] if landscape else PAPER[size][1]
    least = _least(_heights(printed), size, landscape=landscape)
    assert room_on(size, landscape=landscape).height - 10.0 < least <= tall - MARGINS
    assert _least(_heights(screen), size, landscape=landscape) == pytest.approx(tall, abs=0.1)
