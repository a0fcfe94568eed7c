"""The trade marks of the face side and the face edge, beside an edge of a flat view or on its face. mm on paper."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.paper.svg import Paper, Pen

MARK = 3.6
"""Height of the marks beside an edge."""
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.45, 0.55, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85)
"""Where along an edge its mark may stand, the best first."""


def edge_mark(pen: Pen, tip: Paper, side: str) -> None:
    """The face edge mark: a V whose point touches the edge."""
    x, y = tip
    out = {"below": (0.0, 1.0), "above": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}[side]
    tip = (x + out[0] * 0.5, y + out[1] * 0.5)
    ends = [
        (tip[0] + out[0] * MARK * 0.85 + sign * out[1] * 1.5, tip[1] + out[1] * MARK * 0.85 + sign * out[0] * 1.5)
        for sign in (-1, 1)
    ]
    pen.path("face-edge", (ends[0], tip, ends[1]), 0.45)


def side_mark(pen: Pen, foot: Paper, side: str) -> None:
    """The face side mark beside the edge line of the face side."""
    x, y = foot
    spots = {
        "below": (x, y + 0.5),
        "above": (x, y - MARK - 0.5),
        "left": (x - 2.2, y - MARK / 2),
        "right": (x + 2.2, y - MARK / 2),
    }
    loop(pen, *spots[side], MARK)


def loop(pen: Pen, x: float, top: float, height: float) -> None:
    """The face side mark: one stroke, a loop with a tail, like a written f."""
    w, h = height * 0.3, height
    pen.curve(
        "face-side",
        f"M{x - w * 0.5:.2f} {top + h:.2f}C{x + w * 0.5:.2f} {top + h * 0.7:.2f} {x + w * 1.4:.2f} {top + h * 0.15:.2f}"
        f" {x + w * 0.6:.2f} {top + h * 0.02:.2f}C{x - w * 0.2:.2f} {top - h * 0.05:.2f} {x - w * 0.5:.2f}"
        f" {top + h * 0.35:.2f} {x + w * 0.1:.2f} {top + h * 0.55:.2f}"
        f"C{x + w * 0.4:.2f} {top + h * 0.65:.2f} {x + w * 0.9:.2f} {top + h * 0.55:.2f} {x + w * 1.2:.2f} {top + h * 0.45:.2f}",
        0.4,
    )


def free_spot(along: tuple[float, float], ends: Sequence[float]) -> float:
    """A place along an edge as far as may be from extension lines."""
    low, high = along
    spots = [low + (high - low) * share for share in _SHARES]
    clear = [spot for spot in spots if all(abs(spot - end) > 3.2 for end in ends)]
    if clear:
        return clear[0]
    return max(spots, key=lambda spot: (round(min((abs(spot - end) for end in ends), default=0.0), 3), -spots.index(spot)))
