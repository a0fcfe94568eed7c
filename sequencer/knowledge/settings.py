"""Settings worked out from figures: one documented function each, named by operations. No trade figures stand here;
they come from the operation's `use`, the station and the work.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sequencer.model.plan import Setting
from sequencer.model.quantities import Figures


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
    """

    figures: Figures
    use: Mapping[str, float | str]
    speeds: tuple[float, ...] = ()
    hardness: str = "unknown"
    words: Mapping[str, str] | None = None


@dataclass(frozen=True)
class SettingsFunction:
    """A registered function: what it gives (setting names), what figures it needs."""

    name: str
    gives: tuple[str, ...]
    needs: tuple[str, ...]
    work: Callable[[Request], tuple[Setting, ...]]


SETTINGS: dict[str, SettingsFunction] = {}


def settings(
    name: str, *, gives: tuple[str, ...] = (), needs: tuple[str, ...] = ()
) -> Callable[[Callable[[Request], tuple[Setting, ...]]], Callable[[Request], tuple[Setting, ...]]]:
    """Decorator: makes a settings function known to the knowledge by name."""

    def note(work: Callable[[Request], tuple[Setting, ...]]) -> Callable[[Request], tuple[Setting, ...]]:
        SETTINGS[name] = SettingsFunction(name, gives, needs, work)
        return work

    return note


@settings("none")
def none(request: Request) -> tuple[Setting, ...]:
    """Nothing to set."""
    return ()
