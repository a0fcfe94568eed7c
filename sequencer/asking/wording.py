"""The knowledge in sentences: limits with their figures, who may do it, names in a row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sequencer.features.base import mm
from sequencer.knowledge.forms.guards import GuardItem
from sequencer.knowledge.forms.operations import Choose, Limit
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.wording import PLACEHOLDER
from sequencer.model.quantities import QUANTITIES
from sequencer.paper.wording import source_words
from sequencer.planning.limits import comparison_of
from sequencer.reading.expressions import ExpressionError

_UNITS = {"count": "", "deg": " degrees", "degC": " degrees C"}


def limit_text(limit: Limit, kind: StationKind, here: Mapping[str, float] | None = None) -> str:
    """A limit with its figures: those stated `here`, else the shipped defaults of the kind of station."""
    bound, right = comparison_of(limit)
    quantity = QUANTITIES[limit.of]
    source = f" Source: {source_words(limit.source)}." if limit.source else ""
    if quantity.unit == "count" and quantity.meaning.startswith("1 if"):
        return f"not for a piece that is {limit.says}.{source}"
    known = {f"station.{name}": each.default for name, each in kind.figures.items() if each.default is not None}
    known |= here or {}
    unit = _UNITS.get(quantity.unit, f" {quantity.unit}")
    try:
        asked = f"{mm(right.value(known))}{unit}"
    except ExpressionError:
        asked = _sum(right.text, right.names, known)
    named = [QUANTITIES[name].meaning for name in right.names if name in known]
    means = f" ({'; '.join(named)})" if named else ""
    return f"{quantity.meaning}: {bound} {asked}{means}, else the piece is {limit.says}.{source}"


def _sum(text: str, names: Iterable[str], known: Mapping[str, float]) -> str:
    """A sum with figures for what is known and meanings for the rest."""
    for name in sorted(names, key=len, reverse=True):
        text = text.replace(name, mm(known[name]) if name in known else f"[{QUANTITIES[name].meaning}]")
    return text


def chosen(choose: Choose, items: Mapping[str, GuardItem]) -> str:
    """Guards or holding that are needed, in words; empty if none is."""
    either = " or ".join(items[name].name for name in choose.any_of)
    every = (f"{item.name}{_asked_by(item)}" for item in (items[name] for name in choose.all_of))
    return "; ".join([*every, *([either] if either else [])])


def _asked_by(item: GuardItem) -> str:
    return f" (where {' or '.join(item.asked_by)} counts, or where fitted)" if item.asked_by else ""


def unfilled(sentence: str) -> str:
    """A sentence of the knowledge before any piece is drawn: `[depth]` stands where a card prints the figure."""
    return PLACEHOLDER.sub(lambda found: f"[{found[1].rpartition('.')[2].replace('-', ' ')}]", sentence)
