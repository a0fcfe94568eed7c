"""What is proven as strict or stricter where a school's own file differs from the shipped one. All else is a loosening.

`HARMLESS` lists the keys that change nothing but wording; `COMPARERS` the keys of which a comparer can prove that they ask for
as much or more. A key in neither table, a new one too, is a loosening as soon as it reads otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from sequencer.knowledge import region_changes
from sequencer.knowledge.comparers import (
    Comparer,
    as_frank,
    choices_as_strict,
    first_ones_kept,
    kept,
    limits_as_strict,
    may_become,
    no_less,
    no_more,
    none_added,
    not_known_or_more,
    on_a_scale,
    otherwise,
    renamed,
    texts_kept,
)
from sequencer.knowledge.forms.bench import BenchFigure
from sequencer.knowledge.forms.cutters import AbrasiveGrade, DrillBit, DrillPoint, DrillSpeed, SizedTools
from sequencer.knowledge.forms.fixings import FitClass, ScrewGauge
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.hazards import MOST_HAZARDS_ON_A_CARD, Applies, GhsStatement, Hazard
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import CLASS_WORK, LaserMark, Material
from sequencer.knowledge.forms.operations import Operation, Times, WhoDefault
from sequencer.knowledge.forms.regions import Measure, Region
from sequencer.knowledge.forms.setting_up import ChangeTime, StaffStep
from sequencer.knowledge.forms.signs import SignItem
from sequencer.knowledge.forms.stations import SETTERS, Figure, StationKind
from sequencer.knowledge.forms.terms import Term
from sequencer.knowledge.forms.waiting import WaitingWork
from sequencer.knowledge.working import WorkingFigure
from sequencer.model.protection import GRAVEST_FIRST
from sequencer.model.workshop import GATES, OPERATORS, SUPERVISIONS

HARMLESS: Mapping[type, frozenset[str]] = {
    StationKind: frozenset({"words"}),
    Figure: frozenset({"means"}),
    ChangeTime: frozenset({"minutes", "settings"}),
    Term: frozenset({"AU", "NZ", "UK", "US"}),
    BenchFigure: frozenset({"means"}),
    WorkingFigure: frozenset({"means"}),
    WaitingWork: frozenset({"minutes"}),
}
"""Keys by form that ask for nothing: `words` and the regions of a term add what else a thing is called beside its own name;
`means` says to staff what a figure is that acts by its own name; a change of set-up counts minutes between steps, and no step
itself. A title is none of them, since it is what a card calls a guard or a step by; nor the words of a wood, glue or finish,
which decide what a job's is taken to be; nor a source, which says whether it was looked up."""

UNSAID = WhoDefault(operator="staff", supervision="beside", gate="signed-off")
"""What counts where neither an operation nor its station says who may do it: the strictest."""

ADDED_FREELY = (Hazard, GuardItem, WearItem, SignItem, Term, GhsStatement)
"""Forms of which a new entry asks for more, or allows nothing by itself."""

_NEW = "it is new, and nothing shipped is there to hold it against"


def looser(was: Any, now: Any, at: str = "") -> Iterator[str]:
    """What one thing may ask for less than the shipped one of the same form, in words. `at` goes before the names of keys."""
    form = type(was)
    for item in fields(form):
        old, new = getattr(was, item.name), getattr(now, item.name)
        if old != new and item.name not in HARMLESS.get(form, ()):
            yield from COMPARERS.get(form, {}).get(item.name, _within)(f"{at}{item.name}", old, new)


def key_looser(form: type, key: str, was: Any, now: Any) -> Iterator[str]:
    """What one key may ask for less, where it differs."""
    if key not in HARMLESS.get(form, ()):
        yield from COMPARERS.get(form, {}).get(key, _within)(key, was, now)


def new_looser(entry: Any) -> Iterator[str]:
    """What something may allow that nothing allowed before."""
    match entry:
        case Jig():
            if entry.serves_as:
                yield f"it counts as {entry.serves_as}, and {_NEW}"
        case Measure():
            yield from region_changes.counts_of_measure("counts", (), entry.counts)
        case Material(laser=LaserMark()):
            yield _NEW
            yield from _laser("laser", None, entry.laser)
        case Region():
            yield _NEW
            yield from none_added("no figure for")("without", (), entry.without)
        case _ if not isinstance(entry, ADDED_FREELY):
            yield _NEW


def as_it_counts(kind: StationKind, operation: Operation) -> Operation:
    """The operation with what its station adds to it: hazards, wear and who."""
    return replace(
        operation,
        hazards=tuple(dict.fromkeys((*operation.hazards, *kind.hazards))),
        wear=tuple(dict.fromkeys((*operation.wear, *kind.wear))),
        who=_said(operation.who, _said(kind.who, UNSAID)),
    )


def _said(who: WhoDefault, rest: WhoDefault) -> WhoDefault:
    return WhoDefault(
        operator=who.operator or rest.operator,
        supervision=who.supervision or rest.supervision,
        gate=who.gate or rest.gate,
    )


def _within(name: str, was: Any, now: Any) -> Iterator[str]:
    """A form inside a form is compared key by key; nothing else is known of the value."""
    if is_dataclass(was) and type(was) is type(now):
        yield from looser(was, now, f"{name}.")
    else:
        yield from otherwise(name, was, now)


def _who(name: str, was: WhoDefault, now: WhoDefault) -> Iterator[str]:
    yield from looser(_said(was, UNSAID), _said(now, UNSAID))


def _guards_off(name: str, was: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    """One more comes off; or one is not said to come off any more, and the step that puts it back is gone."""
    yield from (f"normal guard {each} comes off" for each in now if each not in was)
    yield from (f"no step puts {each} back" for each in was if each not in now)


def _stop(name: str, was: str, now: str) -> Iterator[str]:
    yield from otherwise(name, was, now) if now else ("staff no longer look before it goes on",)


def _noise(name: str, was: Figure | None, now: Figure | None) -> Iterator[str]:
    """A level as high or higher; where none was said any counts as higher, and one not known is not undercut. It is measured,
    and never a school's choice."""
    if was is not None and now is not None:
        yield from as_frank(name, was.source, now.source)
    if was is not None and now is not None and now.chosen != was.chosen:
        yield "a level of noise is measured, not chosen"
    if was is None or (now is not None and was.default == now.default):
        return
    if now is None or was.default is None or now.default is None or now.default < was.default:
        yield "a lower level of noise, or one not known"


def _controls(name: str, was: Mapping[str, Iterable[Any]], now: Mapping[str, Iterable[Any]]) -> Iterator[str]:
    for level in dict.fromkeys((*was, *now)):
        yield from texts_kept(f"{level} control")(f"{name}.{level}", tuple(was.get(level, ())), tuple(now.get(level, ())))


def _applies(name: str, was: Applies, now: Applies) -> Iterator[str]:
    if was != Applies():
        yield from otherwise(name, was, now)


def _asked_by(name: str, was: tuple[str, ...], now: tuple[str, ...]) -> Iterator[str]:
    if now and not (was and set(was) <= set(now)):
        yield f"asked for by {', '.join(now)} only"


def _laser(name: str, was: LaserMark | None, now: LaserMark | None) -> Iterator[str]:
    if now is not None and (was is None or now.thickest > was.thickest):
        yield f"goes into the laser cutter up to {now.thickest:g} mm thick"


def _durability(name: str, was: int | None, now: int | None) -> Iterator[str]:
    if was is None or now is None or now < was:
        yield "more durable outdoors, or not said"


def _resists(name: str, was: str, now: str) -> Iterator[str]:
    if now > was:
        yield f"stands more wet: {now}"


def _speeds(name: str, was: tuple[DrillSpeed, ...], now: tuple[DrillSpeed, ...]) -> Iterator[str]:
    """The same diameters, none of them faster."""
    yield from as_frank(name, [each.source for each in was], [each.source for each in now])
    slower = len(was) == len(now) and all(
        old.up_to == new.up_to and new.softwood <= old.softwood and new.hardwood <= old.hardwood
        for old, new in zip(was, now, strict=True)
    )
    if not slower:
        yield "other speeds"


def _bench(name: str, was: float, now: float) -> Iterator[str]:
    yield f"plans are proved with {now:g} instead of {was:g}"


def _working(name: str, was: float, now: float) -> Iterator[str]:
    yield f"plans are made with {now:g} instead of {was:g}"


_HAZARDS = first_ones_kept("hazard", MOST_HAZARDS_ON_A_CARD)

COMPARERS: Mapping[type, Mapping[str, Comparer]] = {
    WhoDefault: {
        "operator": on_a_scale(OPERATORS),
        "supervision": on_a_scale(SUPERVISIONS),
        "gate": on_a_scale(GATES),
    },
    Times: {"source": as_frank, "each": no_less, "set_up": no_less},
    Operation: {
        "name": renamed,
        "sources": as_frank,
        "makes": none_added("also makes"),
        "applies": limits_as_strict,
        "limits": limits_as_strict,
        "needs": kept("true surface"),
        "guards": choices_as_strict("guard"),
        "holding": choices_as_strict("holding"),
        "hazards": _HAZARDS,
        "wear": kept("wear"),
        "who": _who,
        "spoils_edge_tools": may_become(True),
        "one_go": may_become(True),
        "tools": texts_kept("tool"),
        "tool_sizes": kept("size asked of"),
        "checks": texts_kept("check of", in_order=True),
        "guards_off": _guards_off,
        "stop": _stop,
    },
    StationKind: {
        "guards": kept("guard"),
        "holding": kept("holding"),
        "limits": limits_as_strict,
        "who": _who,
        "set_up_by": on_a_scale(SETTERS),
        "noise": _noise,
        "before_starting": texts_kept(),
        "stop_when": texts_kept(),
        "seen_at_sign_off": texts_kept(),
        "name": renamed,
        "sources": as_frank,
        "hazards": _HAZARDS,
        "wear": kept("wear"),
    },
    Hazard: {
        "name": renamed,
        "sources": as_frank,
        "whom": texts_kept("harm to"),
        "severity": on_a_scale(GRAVEST_FIRST[::-1]),
        "blade": may_become(True, "no longer held to be a blade's"),
        "controls": _controls,
        "applies": _applies,
        "forbids": kept("ban on"),
        "signs": kept("sign"),
        "ghs": kept("statement"),
        "stop_when": texts_kept(),
    },
    GuardItem: {"name": renamed, "source": as_frank, "asked_by": _asked_by},
    WearItem: {"name": renamed, "source": as_frank},
    Figure: {"source": as_frank},
    Term: {"source": as_frank},
    ChangeTime: {"source": as_frank},
    GhsStatement: {"source": as_frank},
    ScrewGauge: {"source": as_frank},
    FitClass: {"name": renamed, "source": as_frank},
    AbrasiveGrade: {"source": as_frank},
    DrillPoint: {"source": as_frank},
    LaserMark: {"source": as_frank},
    Material: {
        "source": as_frank,
        "density_source": as_frank,
        "movement_source": as_frank,
        "durability_source": as_frank,
        "works": on_a_scale(("", "soft", "medium", "hard")),
        "dust_class": may_become("hardwood"),
        "tangential": not_known_or_more,
        "radial": not_known_or_more,
        "durability": _durability,
        "blunting": on_a_scale(("", "slight", "moderate", "severe")),
        "effects": kept("effect"),
        "hazards": _HAZARDS,
        "class_work": on_a_scale(CLASS_WORK),
        "laser": _laser,
    },
    Glue: {
        "name": renamed,
        "source": as_frank,
        "resists_source": as_frank,
        "resists": _resists,
        "open_time": no_more,
        "cramp_time": no_less,
        "cure_time": no_less,
        "coldest": no_less,
        "staff": may_become(True, "students may put it on"),
        "hazards": _HAZARDS,
    },
    FinishKind: {
        "name": renamed,
        "source": as_frank,
        "dry_time": no_less,
        "self_heating_rags": may_become(True, "rags are no longer held to heat by themselves"),
        "food": may_become(False, "may touch food"),
        "staff": may_become(True, "students may put it on"),
        "hazards": _HAZARDS,
    },
    DrillBit: {"name": renamed, "speeds": _speeds},
    SizedTools: {"name": renamed, "source": as_frank, "within": no_more},
    HeldShape: {"name": renamed, "source": as_frank, "holding": none_added("enough is"), "enough": none_added("enough is")},
    StaffStep: {
        "first": texts_kept(in_order=True),
        "last": texts_kept(in_order=True),
        "hazards": _HAZARDS,
        "minutes": no_less,
        "source": as_frank,
    },
    WaitingWork: {"source": as_frank},
    BenchFigure: {"value": _bench, "source": as_frank},
    WorkingFigure: {"value": _working, "source": as_frank},
    Jig: {"name": renamed, "source": as_frank, "checks": texts_kept()},
    Measure: {
        "name": renamed,
        "stricter": region_changes.stricter_of_measure,
        "stations": region_changes.stations_of_measure,
        "counts": region_changes.counts_of_measure,
    },
    Region: {
        "counts": region_changes.counts_of_region,
        "without": none_added("no figure for"),
        "since": region_changes.since_of_region,
        "name": renamed,
        "sources": as_frank,
        "laws": texts_kept(),
        "record": texts_kept(),
        "sign_off": texts_kept(),
        "review": texts_kept(),
        "least": region_changes.least_of_region,
    },
}
"""Keys by form of which it can be proven that they ask for as much or more."""
