"""What a changed figure of a station allows that it did not, seen at the limits that use it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from sequencer.knowledge.comparers import ASK_MORE, COMPARISONS, as_frank
from sequencer.knowledge.forms.operations import Limit
from sequencer.knowledge.forms.stations import Figure, StationKind
from sequencer.reading.expressions import ExpressionError, parse

BY_LIMITS = frozenset({
    "shortest", "narrowest", "thinnest", "longest", "widest", "thickest", "throat", "deepest", "largest-diameter", "swing",
    "slenderness", "vice-opening", "least-remnant", "board-rest", "smallest-radius", "coldest", "open-time",
})  # fmt: skip
"""Figures that only limits use, so that the limits show which way is stricter. All others also set machines, or are held
against each other, and a change of them either way may allow more."""
_CENTRES = "a stick is turned with less wood at its centres, or further out of balance"
LARGER = {"cramp-time": "less time", "cure-time": "less time", "centre-bite": _CENTRES, "centre-depth": _CENTRES}
"""Figures of which the larger is the stricter, with what a smaller one allows."""
SMALLER = {"off-balance": _CENTRES}
"""Figures of which the smaller is the stricter, with what a larger one allows."""

_TRIED = (0.5, 10.0, 100.0, 1000.0, 10000.0)
"""What other figures of a limit may be, mm or minutes: from the smallest to the largest of any workshop."""


def figure_looser(kind: StationKind, name: str, was: Figure | None, now: Figure | None) -> Iterator[str]:
    """What a figure may allow that the shipped one did not. `kind` is the shipped station."""
    if was is None:
        yield "it is new, and nothing shipped is there to hold it against"
    elif now is None:
        yield "nobody is asked to state it any more"
    else:
        yield from as_frank("source", was.source, now.source)
        yield from _figure_looser(kind, name, was, now)


def noise_looser(kind: StationKind, shipped: Figure | None, now: Figure | None) -> Iterator[str]:
    """What a level of noise allows where the shipped file knows of none: a powered station counts as loud without one, so that a
    level may take ear protection and the hazard off."""
    if shipped is None and now is not None and now.default is not None and kind.power in ("machine", "powered-hand"):
        yield f"without a level it counts as loud; {now.default:g} dB(A) may take ear protection off"


def _figure_looser(kind: StationKind, name: str, was: Figure, now: Figure) -> Iterator[str]:
    if was.chosen and now.chosen != was.chosen:
        yield f"without `chosen: {was.chosen}` a looser one in the workshop file needs no name and reason"
    elif was.default == now.default:
        return
    elif was.default is None:
        yield "staff are no longer asked to state it"
    elif name in LARGER:
        if now.default is None or now.default < was.default:
            yield LARGER[name]
    elif name in SMALLER:
        if now.default is None or now.default > was.default:
            yield SMALLER[name]
    else:
        yield from _at_limits(kind, name, was.default, now.default)


def _at_limits(kind: StationKind, name: str, old: float, new: float | None) -> Iterator[str]:
    figure = f"station.{name}"
    limits = [limit for operation in kind.operations.values() for limit in (*operation.limits, *operation.applies)]
    naming = [limit for limit in dict.fromkeys(limits) if figure in (limit.of, *_right(limit)[1].names)]
    if any(figure in str(value) for operation in kind.operations.values() for value in operation.use.values()):
        yield "machines are set by it"
    elif name not in BY_LIMITS or not naming:
        yield "which way is stricter is not known"
    elif new is None:  # staff decide where a limit asks for it; an operation that asks nothing of it goes on without
        silent = [each.name for each in kind.operations.values() if not any(limit in naming for limit in each.limits)]
        yield from (f"nothing asks for it in “{each}”" for each in silent)
    else:
        yield from (f"“{limit.says}” is said less soon" for limit in naming if _allows_more(limit, figure, old, new))


def _right(limit: Limit) -> tuple[str, Any]:
    comparison = next(key for key in COMPARISONS if getattr(limit, key))
    return comparison, parse(getattr(limit, comparison))


def _allows_more(limit: Limit, figure: str, old: float, new: float) -> bool:
    """Whether the room a limit leaves grows with the new figure, whatever the others are as far as they are tried."""
    comparison, right = _right(limit)
    others = sorted({limit.of, *right.names} - {figure})

    def room(figures: dict[str, float]) -> float:
        over = figures[limit.of] - right.value(figures)
        return float(over if comparison in ASK_MORE else -over)

    try:
        return any(
            room(dict(zip(others, values, strict=True)) | {figure: new})
            > room(dict(zip(others, values, strict=True)) | {figure: old})
            for values in product(_TRIED, repeat=len(others))
        )
    except ExpressionError:
        return True
