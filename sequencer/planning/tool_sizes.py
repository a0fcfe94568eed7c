"""Tools that come in sizes: which sizes a way takes, and what stands against it where the station has none that fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.features.base import mm
from sequencer.knowledge.forms.cutters import SizedTools
from sequencer.knowledge.forms.operations import Operation, ToolSize
from sequencer.knowledge.settings import bit_of, filled
from sequencer.model.plan import Setting
from sequencer.model.workshop import Station
from sequencer.planning.limits import Obstacle
from sequencer.planning.shop import Premises


def sizes_at(station: Station, operation: Operation, size: ToolSize) -> tuple[float, ...]:
    """The sizes of a tool that a station lists, mm: of the kind of bit it takes, else of bits of every kind. Empty if none is
    stated."""
    return station.sizes.get(bit_of(operation) or size.of) or station.sizes.get(size.of, ())


def sizes_against(
    operation: Operation, settings: Sequence[Setting], station: Station, shop: Premises, drawn: bool
) -> Iterator[Obstacle]:
    """A size that is asked for and not among those the station lists. Where it lists none, nothing stands against it.
    `drawn`: the size is the drawing's, so that it may be drawn otherwise."""
    for size, value in _asked(operation, settings):
        there = sizes_at(station, operation, size)
        if not there or _fitting(value, size, there, shop.knowledge.tool_sizes[size.of]):
            continue
        near = [max((each for each in there if each < value), default=None), min(filter(value.__lt__, there), default=None)]
        others = [mm(each) for each in near if each is not None]
        at_hand = f"{' and '.join(others)} mm {'are' if len(others) > 1 else 'is'} the nearest"
        wanted = f"{mm(value)} mm{_OR[size.fits]}"
        yield Obstacle(
            "size",
            f"There is no {size.tool} of {wanted} at {station.name}: {at_hand}.",
            f"Get one and name it under `sizes` of {station.name}"
            + (f", or draw it for {' or '.join(others)} mm." if drawn and size.fits == "same" else "."),
            min(abs(each - value) for each in there),
        )


_OR = {"same": "", "or-larger": " or larger", "or-smaller": " or smaller"}


def laid_out(operation: Operation, settings: Sequence[Setting], station: Station, shop: Premises) -> tuple[str, ...]:
    """The tools of an operation, those that come in sizes with the size: the nearest that fits of those the station lists,
    else what is asked for, which staff look for; a {setting} in a tool's name is put in."""
    sized: dict[str, list[str]] = {}
    for size, value in _asked(operation, settings):
        there = sizes_at(station, operation, size)
        fitting = _fitting(value, size, there, shop.knowledge.tool_sizes[size.of])
        taken = min(fitting, key=lambda each: abs(each - value)) if fitting else None
        name = f"{size.tool}, {mm(value)} mm{_OR[size.fits]}" if taken is None else f"{size.tool}, {mm(taken)} mm"
        sized.setdefault(size.tool, []).append(name)
    texts = {f"setting.{setting.name}": setting.text for setting in settings}
    return tuple(dict.fromkeys(filled(name, texts) for tool in operation.tools for name in sized.get(tool, [tool])))


def _asked(operation: Operation, settings: Sequence[Setting]) -> Iterator[tuple[ToolSize, float]]:
    values = {setting.name: setting.value for setting in settings}
    for size in operation.tool_sizes:
        if (value := values.get(size.setting)) is not None:
            yield size, value


def _fitting(value: float, size: ToolSize, there: Sequence[float], tools: SizedTools) -> list[float]:
    low = value - tools.within if size.fits != "or-smaller" else 0.0
    high = value + tools.within if size.fits != "or-larger" else float("inf")
    return [each for each in there if low - 1e-6 <= each <= high + 1e-6]
