"""What a settings function is, what it is given, and the one register of them by name."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from functools import cache

from sequencer.features.base import mm
from sequencer.knowledge.forms.cutters import CutterSpeed, DrillBit
from sequencer.knowledge.forms.fixings import ScrewGauge
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.wording import PLACEHOLDER
from sequencer.model.plan import Setting
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.reading.expressions import Expression, ExpressionError, parse

STAFF_DECIDE = "staff decide"
"""The text of a setting whose figure is not known."""


@dataclass(frozen=True)
class Request:
    """What a settings function is given.

    figures
        Known figures by full name (`feature.width`, `station.kerf`), mm.
    use
        The operation's own figures and words.
    speeds
        Spindle speeds the station can be set to, rev/min, rising.
    hardness
        `softwood`, `hardwood`, `sheet` or `unknown`.
    words
        Names for the printed text: `from` (the face measured from), `face`.
    screws, drill_bits, cutter_speeds
        Lists of the knowledge.
    grades
        Numbers of the grades of abrasive paper there are.
    sizes, within
        Sizes of tools that the station lists, by the names of `lists/tool-sizes.yaml`, and how far one may be off, mm.
    """

    figures: Figures
    use: Mapping[str, float | str]
    speeds: tuple[float, ...] = ()
    hardness: str = "unknown"
    words: Mapping[str, str] | None = None
    screws: Mapping[int, ScrewGauge] = field(default_factory=dict)
    drill_bits: Mapping[str, DrillBit] = field(default_factory=dict)
    cutter_speeds: tuple[CutterSpeed, ...] = ()
    grades: Collection[float] = ()
    sizes: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    within: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Given:
    """A request with its function's figures worked out and its words looked up."""

    request: Request
    figures: Mapping[str, float | None]
    words: Mapping[str, str]


Work = Callable[[Given], tuple[Setting, ...]]


Figure = float | str | None


@dataclass(frozen=True)
class SettingsFunction:
    """A registered function.

    gives
        Names of the settings it returns, all of them but for `optional` ones.
    figures, words
        What it takes from `use`, each with what it is where `use` is silent; None: the operation must say.
    optional
        Settings that are left out where their figure is not known, because not every piece of work has such a size.
    """

    name: str
    gives: tuple[str, ...]
    figures: Mapping[str, Figure]
    words: Mapping[str, str | None]
    optional: tuple[str, ...]
    inner: Work

    def work(self, request: Request) -> tuple[Setting, ...]:
        """The settings for a request. A figure that is not known gives a setting without value."""
        figures = {key: _figure(request.use.get(key, usual), request.figures) for key, usual in self.figures.items()}
        words = {key: str(request.use.get(key, usual or "")) for key, usual in self.words.items()}
        return tuple(
            setting
            for setting in self.inner(Given(request, figures, words))
            if setting.name not in self.optional or setting.value is not None
        )


SETTINGS: dict[str, SettingsFunction] = {}


def settings(
    name: str,
    *,
    gives: tuple[str, ...] = (),
    figures: Mapping[str, Figure] | None = None,
    words: Mapping[str, str | None] | None = None,
    optional: tuple[str, ...] = (),
) -> Callable[[Work], Work]:
    """Decorator: makes a settings function known to the knowledge by name."""

    def note(work: Work) -> Work:
        SETTINGS[name] = SettingsFunction(name, gives, figures or {}, words or {}, optional, work)
        return work

    return note


def spoken(value: float, unit: str) -> str:
    """A figure as a sentence says it: `8 mm`, `45 degrees`, `1200 rev/min`, `4`."""
    number = mm(value)
    return f"{number} {'degrees' if unit == 'deg' else unit}" if unit else number


def filled(text: str, values: Mapping[str, str]) -> str:
    """A text of the knowledge with its {figures} put in; a figure that is not known leaves the decision to staff."""
    return PLACEHOLDER.sub(lambda found: values.get(found[1], f"what {STAFF_DECIDE}"), text)


def bit_of(operation: Operation) -> str:
    """The kind of bit (`lists/drill-bits.yaml`) the settings of an operation name; empty where they name none."""
    function = SETTINGS[operation.settings]
    return str(operation.use.get("bit", function.words["bit"]) or "") if "bit" in function.words else ""


def _figure(stated: Figure, figures: Figures) -> float | None:
    """The figure; None where one it names is not known, or where it comes to no number, as a division by zero does."""
    if not isinstance(stated, str):
        return stated
    expression = _expression(stated)
    if not all(name in figures for name in expression.names):
        return None
    try:
        return expression.value(figures)
    except ExpressionError:
        return None


@cache
def _expression(text: str) -> Expression:
    return parse(text, QUANTITIES)


def setting(name: str, label: str, value: float | None, unit: str = "mm", text: str = "{}") -> Setting:
    """A setting; `{}` in the text stands for the figure. Without a figure staff decide."""
    if value is None:
        return Setting(name, label, STAFF_DECIDE, None, unit)
    return Setting(name, label, text.format(spoken(value, unit)), value, unit)
