"""Checks that everything the knowledge names exists: guards, hazards, kinds of work, settings, figures, placeholders.

Every check notes an error at the place in the file where the name stands. What is checked once here need not be asked
again by planning or print.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import get_args

from sequencer.features import feature_kinds
from sequencer.features.base import ShapeLeft
from sequencer.knowledge import wording
from sequencer.knowledge.forms.cutters import SizedTools
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.hazards import Hazard
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.operations import Choose, Lies, Limit, Operation, WhoDefault
from sequencer.knowledge.forms.setting_up import StaffStep
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.settings import SETTINGS, bit_of
from sequencer.model.job import Fit, HardwareKind
from sequencer.model.quantities import QUANTITIES
from sequencer.model.work import PART_WORK, WORK_KINDS
from sequencer.reading.expressions import ExpressionError, parse
from sequencer.reading.report import Report
from sequencer.reading.tree import Data, Steps
from sequencer.reading.words import in_short, meant

COMPARISONS = ("at_least", "at_most", "more_than", "less_than")

FROM_GLUE = frozenset({"station.open-time", "station.cramp-time", "station.cure-time", "station.coldest"})
"""Station figures that a glue or finish gives and no station kind declares."""

FIGURES_OF_ALL = ("feature.along-grain", "feature.end-grain")
"""Figures of features that planning works out for every kind."""

TITLES = ("source", "sources", "regulator", "laws")
"""Keys that hold titles and names which are not ours."""

_WORDS = ("part", "name", "face", "behind", "from", "edge", "side", "enters", "takes")
"""Placeholders that are no figures."""

_OPPOSITE = {"face": "behind", "behind": "face", "from": "across", "across": "from"}
"""Words of `lies` for two faces of one axis."""


@dataclass(frozen=True)
class Names:
    """What there is to refer to; verbs in lower case."""

    guards: Collection[str]
    holding: Collection[str]
    wear: Collection[str]
    forbidden: Collection[str]
    """Things to wear that have a line for not wearing them."""
    hazards: Collection[str]
    verbs: Collection[str]
    bits: Collection[str]
    sized: Collection[str]
    """Tools that come in sizes."""
    jigs: Mapping[str, Jig]
    ghs: Collection[str]
    signs: Collection[str]
    """Safety signs of lists/signs.yaml."""
    sign_drawings: Collection[str]
    """Drawings in `cards/signs`."""
    guard_drawings: Collection[str]
    """Drawings in `cards/guards`."""
    tools: Collection[str] | None
    """What operations have laid out; None while a station file cannot be read."""
    before: Collection[str] | None
    """What is read at stations before starting; None while a station file cannot be read."""


def check_promises(report: Report, data: Data, steps: Steps = ()) -> None:
    """No text says that something is safe, compliant or approved; titles of sources may."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in TITLES:
                check_promises(report, value, (*steps, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            check_promises(report, value, (*steps, number))
    elif word := wording.promise(data):
        report.error(
            "promise",
            steps,
            f"The text says '{word}'.",
            "No sheet may promise that; law, school and qualified staff decide.",
            "Say what to do or to check instead.",
        )


MARKED = re.compile(r"^(common practice|from memory|plain geometry)\b", re.IGNORECASE)
"""What a source starts with that names no publication."""
_LEAST_WORDS = 3


def leads_nowhere(source: str) -> bool:
    """Whether nobody could look a source up: it is not marked, and a word or two without a number; or an address, which moves."""
    vague = len(source.split()) < _LEAST_WORDS and not re.search(r"\d", source)
    return not MARKED.match(source) and (vague or "://" in source or source.startswith("www."))


def check_sources(report: Report, data: Data, steps: Steps = (), *, source: bool = False) -> None:
    """Every source is marked or can be looked up; an empty one belongs to nothing."""
    if isinstance(data, dict):
        for key, value in data.items():
            check_sources(report, value, (*steps, key), source=key in ("source", "sources") or key.endswith("_source"))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            check_sources(report, value, (*steps, number), source=source)
    elif source and data and leads_nowhere(data):
        report.error(
            "source",
            steps,
            f"The source '{data}' leads nowhere.",
            "A figure counts for as much as what it rests on, and somebody must be able to look it up.",
            "Name title and place, or say who measured it on what and when; or start with 'common practice' or 'from memory'.",
        )


def check_names(report: Report, what: str, used: Iterable[str], known: Collection[str], steps: Steps) -> None:
    """Every name used is known."""
    for number, name in enumerate(used):
        check_name(report, what, name, known, (*steps, number))


def check_name(report: Report, what: str, name: str, known: Collection[str], steps: Steps) -> None:
    """A name used is known."""
    if name not in known:
        report.error("unknown-name", steps, f"There is no {what} called '{name}'.", remedy=meant(name, known))


def check_sentences(report: Report, sentences: Iterable[str], names: Names, steps: Steps) -> None:
    """Every sentence is one short imperative."""
    for number, sentence in enumerate(sentences):
        for fault in wording.imperative_faults(sentence, names.verbs):
            report.error(
                "sentence",
                (*steps, number),
                fault,
                "Cards are read by people who find reading hard.",
                "Write one short sentence that starts with one verb of lists/verbs.yaml.",
            )


def check_hazard(report: Report, hazard: Hazard, names: Names) -> None:
    """A hazard's controls and prohibitions name what there is; its short form is short."""
    for level, controls in hazard.controls.items():
        for number, control in enumerate(controls):
            at = ("controls", level, number)
            for key, what, name, known in (
                ("guard", "guard", control.guard, names.guards),
                ("holding", "way of holding", control.holding, names.holding),
                ("tool", "tool of an operation", control.tool, names.tools),
                ("wear", "thing to wear", control.wear, names.wear),
                ("before", "sentence of a station's `before_starting`", control.before, names.before),
            ):
                if name and known is not None:
                    check_name(report, what, name, known, (*at, key))
    check_names(report, "thing to wear with a `forbidden_line`", hazard.forbids, names.forbidden, ("forbids",))
    check_names(report, "sign in lists/signs.yaml", hazard.signs, names.signs, ("signs",))
    check_names(report, "GHS statement in lists/ghs.yaml", hazard.ghs, names.ghs, ("ghs",))
    if hazard.applies.where:
        check_name(report, "figure", hazard.applies.where, QUANTITIES, ("applies", "where"))
    if hazard.applies.workshop and (hazard.applies.power or hazard.applies.where or hazard.applies.unlisted_material):
        report.error(
            "applies",
            ("applies",),
            "It is said of the whole workshop and of some steps.",
            "A hazard of the whole workshop stands once on the risk assessment, at no step.",
            "Keep `workshop: true` or the rest.",
        )
    for fault in wording.student_faults(hazard.student, names.verbs):
        remedy = "Say in few words what to do: “Splinters hurt. Stroke along the grain.”"
        report.error("sentence", ("student",), fault, "Students read it at every step.", remedy)
    check_stop_when(report, hazard.stop_when)


def check_stop_when(report: Report, lines: Iterable[str]) -> None:
    """What makes everybody stop is said in short lines."""
    for number, line in enumerate(lines):
        if fault := wording.too_long(line):
            report.error("sentence", ("stop_when", number), fault, "It is read in a hurry.", "Say it shorter.")


def check_lines(report: Report, items: Mapping[str, GuardItem | WearItem], names: Names) -> None:
    """Every line that a card prints is one short imperative, and every drawing it prints beside it is there."""
    for name, item in items.items():
        folder, drawn = ("guards", names.guard_drawings) if isinstance(item, GuardItem) else ("signs", names.sign_drawings)
        for key in ("drawing", "forbidden_drawing"):
            if drawing := getattr(item, key, ""):
                check_name(report, f"drawing in cards/{folder}", drawing, drawn, (name, key))
        for fault in wording.imperative_faults(item.line, names.verbs):
            report.error("sentence", (name, "line"), fault, remedy="Write one short sentence that starts with a listed verb.")


def check_their_hazards(report: Report, items: Mapping[str, Glue | FinishKind | Material], names: Names) -> None:
    """Glues, finishes and materials name hazards that there are."""
    for name, item in items.items():
        check_names(report, "hazard", item.hazards, names.hazards, (name, "hazards"))


def check_tool_sizes(report: Report, items: Mapping[str, SizedTools]) -> None:
    """What the smallest of a station's tools states is a figure of a station."""
    for name, item in items.items():
        if item.narrowest:
            check_name(report, "figure of a station", f"station.{item.narrowest}", QUANTITIES, (name, "narrowest"))


def check_materials(report: Report, materials: Mapping[str, Material]) -> None:
    """A sheet has no movement of solid wood, and a wood that does worse than irritate brings a hazard of its own."""
    for name, material in materials.items():
        for key in ("tangential", "radial"):
            if material.hardness == "sheet" and getattr(material, key) is not None:
                report.error(
                    "sheet-moves",
                    (name, key),
                    f"{material.name} is a sheet and has a figure of movement.",
                    "Sheets are taken not to move; the figure would never be used.",
                    "Take it out, or say under `hardness` what wood it is.",
                )
        worse = [effect for effect in material.effects if effect != "irritant"]
        if worse and not material.hazards:
            report.error(
                "effect-without-hazard",
                (name, "effects"),
                f"{material.name} is said to do harm ({', '.join(worse)}) and brings no hazard.",
                "Cards and the risk assessment would not warn of it.",
                "Add `hazards: [species-dust]`, or the hazard that fits.",
            )


def check_glues(report: Report, glues: Mapping[str, Glue]) -> None:
    """A glue stays open for less time than its joints stay in cramps, and these less than it needs to cure."""
    for name, glue in glues.items():
        for key, less, more in (
            ("cramp_time", glue.open_time, glue.cramp_time),
            ("cure_time", glue.cramp_time, glue.cure_time),
        ):
            if more < less:
                report.error(
                    "times",
                    (name, key),
                    f"{glue.name}: {more:g} minutes are less than the {less:g} before.",
                    "Glue that still moves does not hold.",
                    "Look the times up: open, in cramps, cured, each no shorter than the one before.",
                )


def check_finishes(report: Report, finishes: Mapping[str, FinishKind]) -> None:
    """Every drying oil heats its rags, and whatever heats its rags brings the hazard of it."""
    for name, finish in finishes.items():
        if finish.family == "drying-oil" and not finish.self_heating_rags:
            report.error(
                "drying-oil",
                (name, "family"),
                f"{finish.name} is a drying oil whose rags are not said to heat by themselves.",
                "Rags soaked with a drying oil can catch fire with nobody near.",
                "Write `self_heating_rags: true`.",
            )
        if finish.self_heating_rags and "oily-rags" not in finish.hazards:
            report.error(
                "effect-without-hazard",
                (name, "self_heating_rags"),
                f"{finish.name} has rags that heat by themselves and does not bring the hazard oily-rags.",
                "Cards would not warn of it.",
                "Add oily-rags to `hazards`.",
            )


def check_staff_steps(report: Report, steps: Mapping[str, StaffStep], names: Names) -> None:
    """Set-up and guards-back say what to do in short imperatives."""
    for name, step in steps.items():
        check_names(report, "hazard", step.hazards, names.hazards, (name, "hazards"))
        for key in ("first", "last"):
            check_sentences(report, getattr(step, key), names, (name, key))
        for who, sentences in step.last_for.items():
            check_sentences(report, sentences, names, (name, "last_for", who))


def check_staff_steps_there(report: Report, steps: Collection[str]) -> None:
    """Set-up and guards-back are there."""
    for name in ("set-up", "guards-back"):
        if name not in steps:
            report.error("missing", (), f"'{name}' is missing.", "Staff set machines and put guards back by it.", "Add it.")


def check_fits(report: Report, fits: Collection[str]) -> None:
    """The fit classes are those a joint can ask for."""
    for name in fits:
        check_name(report, "fit", name, get_args(Fit), (name,))
    for name in get_args(Fit):
        if name not in fits:
            report.error("missing", (), f"The fit '{name}' is missing.", "A joint may ask for it.", "Add it.")


def check_jigs(report: Report, jigs: Mapping[str, Jig], names: Names) -> None:
    """A jig is a way of holding that there is, and its sizes are sums of figures of the part and the feature."""
    for name, jig in jigs.items():
        if jig.serves_as:
            check_name(report, "way of holding", jig.serves_as, names.holding, (name, "serves_as"))
        for steps, text in jig.sums():
            for figure in _names_in(report, text, (), (name, *steps)):
                if not figure.startswith(("part.", "feature.", "shape.")):
                    report.error(
                        "unknown-figure",
                        (name, *steps),
                        f"'{figure}' is no figure of a part or a feature.",
                        "A jig is made before the piece lies at any station.",
                        "Use figures that start with part. or feature., or with shape. for one that holds a shape.",
                    )


def check_shapes(report: Report, shapes: Mapping[ShapeLeft, HeldShape], names: Names) -> None:
    """How a shape is held is a way of holding; one that is a jig takes its sizes from part and shape, whatever is cut later."""
    for name, shape in shapes.items():
        for key in ("holding", "enough"):
            check_names(report, "way of holding", getattr(shape, key), names.holding, (name, key))
        for jig in names.jigs.values():
            sums = [text for _, text in jig.sums()] if jig.serves_as in shape.holding else []
            used = {figure for text in sums for figure in _names_in(report, text, (), (name, "holding"))}
            if other := sorted(figure for figure in used if not figure.startswith(("part.", "shape."))):
                report.error(
                    "unknown-figure",
                    (name, "holding"),
                    f"'{other[0]}', a size of the {jig.name}, belongs to the later cut, not to the shape.",
                    "The jig is made for the shape, whatever is cut afterwards.",
                    "Use figures that start with part. or shape.",
                )


def check_station(report: Report, station: StationKind, names: Names) -> None:
    """All that a station file names."""
    check_names(report, "guard", station.guards, names.guards, ("guards",))
    check_names(report, "way of holding", station.holding, names.holding, ("holding",))
    check_names(report, "hazard", station.hazards, names.hazards, ("hazards",))
    check_names(report, "thing to wear", station.wear, names.wear, ("wear",))
    check_sentences(report, station.before_starting, names, ("before_starting",))
    check_stop_when(report, station.stop_when)
    figures = {f"station.{name}" for name in station.figures}
    for name in station.figures:
        check_name(report, "figure of a station", f"station.{name}", QUANTITIES, ("figures", name))
    for each in fields(WhoDefault):
        if getattr(station.who, each.name) is None:
            report.error(
                "missing",
                ("who",),
                f"'{each.name}' is missing.",
                "The station's answer stands for every operation here that has none.",
                "Add it.",
            )
    for number, limit in enumerate(station.limits):
        _check_limit(report, limit, figures, ("limits", number))
    check_lies(report, station.lies, ("lies",))
    for key, operation in station.operations.items():
        _Operation(report, key, operation, station, figures, names).check()


def check_lies(report: Report, lies: Lies, steps: Steps) -> None:
    """A piece lies on one axis, bears on another and meets a stop along the third."""
    said = [(key, word) for key in ("down", "against", "stop") if (word := getattr(lies, key))]
    for number, (key, word) in enumerate(said):
        for other, known in said[:number]:
            if word in (known, _OPPOSITE.get(known)):
                report.error(
                    "lies",
                    (*steps, key),
                    f"'{key}: {word}' and '{other}: {known}' are one face or two opposite ones.",
                    "A piece cannot lie on a face and bear on it, or on the one opposite, at once.",
                    "Name faces that are square to each other.",
                )


class _Operation:
    """The checks of one operation."""

    def __init__(
        self,
        report: Report,
        key: str,
        operation: Operation,
        station: StationKind,
        figures: Collection[str],
        names: Names,
    ) -> None:
        self.report = report
        self.operation = operation
        self.station = station
        self.figures = figures
        self.names = names
        self.at: Steps = ("operations", key)
        kinds = feature_kinds()
        self.kinds = [kinds[name] for name in operation.makes if name in kinds]

    def check(self) -> None:
        operation, names = self.operation, self.names
        kinds = (*feature_kinds(), *WORK_KINDS)
        check_names(self.report, "feature kind or kind of work", operation.makes, kinds, (*self.at, "makes"))
        self.choose("guard", operation.guards, names.guards, "guards")
        self.choose("way of holding", operation.holding, names.holding, "holding")
        if operation.holding_upright is not None:
            self.choose("way of holding", operation.holding_upright, names.holding, "holding_upright")
        check_names(self.report, "guard", operation.guards_off, names.guards, (*self.at, "guards_off"))
        check_names(self.report, "hazard", operation.hazards, names.hazards, (*self.at, "hazards"))
        check_names(self.report, "thing to wear", operation.wear, names.wear, (*self.at, "wear"))
        for key in ("applies", "limits"):
            for number, limit in enumerate(getattr(operation, key)):
                at = (*self.at, key, number)
                self.feature_figures(_check_limit(self.report, limit, self.figures, at, sourced=key == "limits"), at)
        gives = self.settings()
        self.lies(gives)
        self.jig(names)
        self.tool_sizes(gives)
        if "run-out" in operation.leaves and "station.run-out" not in self.figures:
            self.report.error(
                "unknown-figure",
                (*self.at, "leaves"),
                "It leaves run-out, and this station has no figure 'run-out'.",
                "Nobody would know how much of the ends is not to size.",
                "Declare run-out under figures.",
            )
        for key in ("card", "card_after", "again", "set", "hold", "guard", "cut", "check"):
            at = (*self.at, "instructions", key)
            sentences = getattr(operation.instructions, key)
            check_sentences(self.report, sentences, names, at)
            for number, sentence in enumerate(sentences):
                self.placeholders(sentence, gives, (*at, number))
        for kind, sentences in operation.instructions.first_for.items():
            at = (*self.at, "instructions", "first_for", kind)
            check_name(self.report, "kind of work this operation makes", kind, operation.makes, at)
            check_sentences(self.report, sentences, names, at)
            for number, sentence in enumerate(sentences):
                self.placeholders(sentence, gives, (*at, number))
        self.where()
        for number, line in enumerate(operation.checks):
            if line.where:
                check_name(self.report, "figure", line.where, QUANTITIES, (*self.at, "checks", number, "where"))
            check_names(
                self.report,
                "kind of work this operation makes",
                line.kinds,
                operation.makes,
                (*self.at, "checks", number, "kinds"),
            )
            for key in ("what", "how", "limit"):
                self.placeholders(getattr(line, key), gives, (*self.at, "checks", number, key))
            for fault in wording.imperative_faults(line.how[:1].upper() + line.how[1:], names.verbs):
                remedy = "Write one short sentence that starts with a listed verb: `measure with a steel rule`."
                self.report.error("sentence", (*self.at, "checks", number, "how"), fault, remedy=remedy)
        for key in ("stop", "if_wrong", "feed"):
            self.placeholders(getattr(operation, key), gives, (*self.at, key))
        for number, tool in enumerate(operation.tools):
            for name in wording.PLACEHOLDER.findall(tool):
                self.setting(name.removeprefix("setting."), gives, (*self.at, "tools", number))

    def tool_sizes(self, gives: Collection[str]) -> None:
        """A tool that comes in sizes is on the list, is laid out, and its size is set."""
        for number, size in enumerate(self.operation.tool_sizes):
            at = (*self.at, "tool_sizes", number)
            check_name(self.report, "tool in lists/tool-sizes.yaml", size.of, self.names.sized, (*at, "of"))
            check_name(self.report, f"setting of '{self.operation.settings}'", size.setting, gives, (*at, "setting"))
            check_name(self.report, "tool of this operation", size.tool, self.operation.tools, (*at, "tool"))

    def jig(self, names: Names) -> None:
        """The jig is on the list, and the work gives the figures that its sizes are made of; so with a jig that is one of
        the ways of holding."""
        choices = (self.operation.holding, self.operation.holding_upright)
        held = {name for choice in choices if choice is not None for name in (*choice.all_of, *choice.any_of)}
        if self.operation.jig:
            check_name(self.report, "jig in lists/jigs.yaml", self.operation.jig, names.jigs, (*self.at, "jig"))
        for name, jig in names.jigs.items():
            if name == self.operation.jig:
                self.jig_sizes(jig, (*self.at, "jig"))
            elif jig.serves_as in held and self.station.power in ("hand", "bench"):
                self.jig_sizes(jig, (*self.at, "holding"))

    def jig_sizes(self, jig: Jig, at: Steps) -> None:
        used = sorted({figure for _, text in jig.sums() for figure in _names_in(self.report, text, (), at)})
        self.feature_figures(used, at)
        for kind in (kind for kind in self.operation.makes if kind in WORK_KINDS):
            unknown = ("feature.", "shape.") if kind in PART_WORK else ("feature.", "part.", "shape.")
            if lacking := [figure for figure in used if figure.startswith(unknown)]:
                self.report.error(
                    "unknown-figure",
                    at,
                    f"'{lacking[0]}', a size of the {jig.name}, is not known where the work is '{kind}'.",
                    "The jig could not be given its size.",
                    "Use another jig, or make this an operation of its own.",
                )

    def where(self) -> None:
        """What is said only where a figure is more than 0 stands in a list, or it would never be said."""
        said = self.operation.instructions
        first = (sentence for sentences in said.first_for.values() for sentence in sentences)
        every = {*first, *said.card, *said.card_after, *said.again, *said.set, *said.hold, *said.guard, *said.cut, *said.check}
        for figure, sentences in said.where.items():
            at = (*self.at, "instructions", "where", figure)
            check_name(self.report, "figure", figure, QUANTITIES, at)
            check_names(self.report, "sentence of this operation", sentences, every, at)

    def choose(self, what: str, choose: Choose, known: Collection[str], key: str) -> None:
        check_names(self.report, what, choose.all_of, known, (*self.at, key, "all_of"))
        check_names(self.report, what, choose.any_of, known, (*self.at, key, "any_of"))

    def feature_figures(self, used: Iterable[str], at: Steps) -> None:
        """Every feature kind made here gives the figures of features that are asked for."""
        for name in used:
            silent = [kind.title for kind in self.kinds if name not in (*kind.gives, *FIGURES_OF_ALL)]
            if name.startswith(("feature.", "shape.")) and silent:
                self.report.error(
                    "unknown-figure",
                    at,
                    f"'{name}' is not known of a {in_short(silent, 'or')}.",
                    "A figure that is not known never allows anything.",
                    "Leave it out, or make this an operation of its own.",
                )

    def settings(self) -> Collection[str]:
        """Checks the settings function and what it is given; the names of the settings it gives."""
        name, use = self.operation.settings, self.operation.use
        check_name(self.report, "settings function", name, SETTINGS, (*self.at, "settings"))
        function = SETTINGS.get(name)
        if function is None:
            return ()
        for key in use:
            takes = (*function.figures, *function.words)
            check_name(self.report, f"figure or word of '{name}'", key, takes, (*self.at, "use", key))
        for key, usual in (*function.figures.items(), *function.words.items()):
            value = use.get(key, usual)
            at = (*self.at, "use", key)
            if value is None:
                self.report.error("missing", (*self.at, "use"), f"'{name}' needs '{key}'.", remedy=f"Write {key} under use.")
            elif key in function.figures and isinstance(value, str):
                used = tuple(_names_in(self.report, value, self.figures, at))
                if key not in function.optional:
                    self.feature_figures(used, at)
        if (things := use.get("things")) is not None:
            check_name(self.report, "kind of hardware", str(things), get_args(HardwareKind), (*self.at, "use", "things"))
        if bit := bit_of(self.operation):
            check_name(self.report, "kind of bit in lists/drill-bits.yaml", bit, self.names.bits, (*self.at, "use", "bit"))
        return function.gives

    def lies(self, gives: Collection[str]) -> None:
        """What is set by a fence or stop block has a face against it, and a machine cuts from where its cutter stands."""
        lies, own = self.operation.lies or self.station.lies, self.operation.lies
        at = (*self.at, "lies")
        if own is not None:
            check_lies(self.report, own, at)
        if own is not None and self.station.power == "machine" and own.tool != self.station.lies.tool:
            self.report.error(
                "lies",
                at,
                f"The cutter comes from {own.tool} here and from {self.station.lies.tool} at the station.",
                "A machine's cutter stands in one place; what is not said is 'above'.",
                f"Write 'tool: {self.station.lies.tool}'.",
            )
        stopped = "stop" in gives and "stop-block" in self.operation.holding.all_of
        for key, needed, what in (("against", "fence" in gives, "fence"), ("stop", stopped, "stop block")):
            if needed and not getattr(lies, key):
                self.report.error(
                    "lies",
                    at,
                    f"It is set by a {what}, and '{key}' is missing.",
                    f"A distance from the {what} says nothing without the face that bears on it.",
                    f"Write {key} under lies.",
                )
        if lies.stop and "stop" not in gives:
            self.report.error(
                "lies",
                at,
                f"The {lies.stop} bears on a stop, and no setting says how far it stands.",
                "A stop without a distance cannot be set.",
                "Use settings that give 'stop', or leave the stop out.",
            )

    def setting(self, name: str, gives: Collection[str], at: Steps) -> None:
        """A setting that a text names is given, an optional one for every kind of feature made here."""
        check_name(self.report, f"setting of '{self.operation.settings}'", name, gives, at)
        function = SETTINGS.get(self.operation.settings)
        if function is not None and name in function.optional:
            # What comes from a list, such as the pilot hole of a gauge, rests on no figure of its own name.
            value = self.operation.use.get(name, function.figures.get(name, 0.0))
            self.feature_figures(_names_in(self.report, str(value), self.figures, at), at)

    def placeholders(self, text: str, gives: Collection[str], at: Steps) -> None:
        """Every placeholder of a text is a word, a figure or a setting this operation has."""
        for name in wording.PLACEHOLDER.findall(text):
            if name.startswith("setting."):
                self.setting(name.removeprefix("setting."), gives, at)
            elif name not in _WORDS:
                check_name(self.report, "placeholder", name, (*QUANTITIES, *_WORDS), at)
                self.feature_figures([name], at)


def _check_limit(report: Report, limit: Limit, figures: Collection[str], at: Steps, *, sourced: bool = True) -> Iterable[str]:
    """One comparison between known figures, said and sourced. Gives the figures it names."""
    stated = [key for key in COMPARISONS if getattr(limit, key)]
    if len(stated) != 1:
        report.error(
            "comparison",
            at,
            f"A limit has exactly one of {in_short(COMPARISONS)}; this has {in_short(stated) or 'none'}.",
            remedy="Write one limit for each comparison.",
        )
    for key in ("says", "source") if sourced else ("says",):
        if not getattr(limit, key):
            report.error("missing", at, f"'{key}' is missing.", "A limit is printed with its reason and source.", "Add it.")
    check_name(report, "figure", limit.of, QUANTITIES, (*at, "of"))
    return [name for key in ("of", *stated) for name in _names_in(report, getattr(limit, key), figures, (*at, key))]


@cache
def _named(text: str) -> tuple[str, ...]:
    """The names in an expression. ExpressionError if it is none."""
    return tuple(parse(text, QUANTITIES).names)


def _names_in(report: Report, text: str, figures: Collection[str], at: Steps) -> Iterator[str]:
    """The names in an expression, each a known figure; a station's figure declared by its kind."""
    try:
        names = _named(text)
    except ExpressionError as error:
        report.error("expression", at, str(error))
        return
    for name in names:
        check_name(report, "figure", name, QUANTITIES, at)
        if name.startswith("station.") and name in QUANTITIES and name not in figures and name not in FROM_GLUE:
            report.error(
                "unknown-figure",
                at,
                f"'{name}' is not among the figures of this station.",
                "Nobody would be asked for it, so it would never be known.",
                "Declare it under figures.",
            )
        yield name
