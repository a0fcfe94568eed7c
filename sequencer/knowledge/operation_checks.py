"""What an operation keeps beside its form: everything it names exists, and its settings, holding and texts agree."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import get_args

from sequencer.features import feature_kinds
from sequencer.knowledge import wording
from sequencer.knowledge.forms.jigs import Jig
from sequencer.knowledge.forms.operations import Choose, Lies, Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.links import Names, check_limit, check_name, check_names, check_sentences, names_in
from sequencer.knowledge.settings import SETTINGS, bit_of
from sequencer.model.job import HardwareKind
from sequencer.model.quantities import QUANTITIES
from sequencer.model.work import PART_WORK, WORK_KINDS
from sequencer.reading.report import Report
from sequencer.reading.tree import Steps
from sequencer.reading.words import in_short

FIGURES_OF_ALL = ("feature.along-grain", "feature.end-grain", "feature.joined", "feature.alone")
"""Figures of features that planning works out for every kind."""

MOST_AFTER = 8
"""Sentences of `card_after` that a job card has room for."""

MOST_AGAIN = 3
"""Sentences of `again` that a job card has room for: they are said once for each further piece."""
INTO = ("joint.into-whole", "joint.into-loose")
"""What nails or screws go into: one or the other."""
NO_SUCH_HOLDING = ("bench.no-vice", "bench.no-cramps")
"""Figures of what is said instead, at a bench that lacks one of the two."""

_WORDS = (
    "part",
    "name",
    "face",
    "behind",
    "from",
    "from-face",
    "edge",
    "side",
    "enters",
    "takes",
    "beside",
    "glued",
    "over",
    "rail",
)
"""Placeholders that are no figures."""

_OPPOSITE = {"face": "behind", "behind": "face", "from": "across", "across": "from"}
"""Words of `lies` for two faces of one axis."""


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


class OperationChecks:
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
        for number, way in enumerate(operation.shown_as):
            if "/" not in way:
                check_name(self.report, "way shown here", way, self.station.ways_shown, (*self.at, "shown_as", number))
        for key in ("applies", "limits"):
            for number, limit in enumerate(getattr(operation, key)):
                at = (*self.at, key, number)
                self.feature_figures(check_limit(self.report, limit, self.figures, at, sourced=key == "limits"), at)
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
        for key in ("first_for", "last_for"):
            for kind, sentences in getattr(operation.instructions, key).items():
                at = (*self.at, "instructions", key, kind)
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
        used = sorted({figure for _, text in jig.sums() for figure in names_in(self.report, text, (), at)})
        self.feature_figures(used, at)
        for kind in self.operation.makes:
            alone = ("feature.", "shape.", "joint.") if kind in PART_WORK else ("joint.",)
            unknown = ("feature.", "part.", "shape.") if kind in WORK_KINDS and kind not in PART_WORK else alone
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
        by_kind = (*said.first_for.values(), *said.last_for.values())
        first = (sentence for sentences in by_kind for sentence in sentences)
        lists = (said.card, said.card_after, said.again, said.set, said.hold, said.guard, said.cut, said.check)
        every = {*first, *self.operation.wrong_sentences, *(sentence for each in lists for sentence in each)}
        for key, most in (("card_after", MOST_AFTER), ("again", MOST_AGAIN)):
            many = max(
                len([sentence for sentence in getattr(said, key) if sentence not in self.elsewhere(other)]) for other in INTO
            )
            if many > most:
                self.report.error(
                    "too-many",
                    (*self.at, "instructions", key),
                    f"'{key}' takes at most {most} sentences for one bench; this has {many}.",
                    "They would not fit on the job card.",
                    "Leave to the station card what is not special to this work.",
                )
        for figure, sentences in said.where.items():
            at = (*self.at, "instructions", "where", figure)
            check_name(self.report, "figure", figure, QUANTITIES, at)
            check_names(self.report, "sentence of this operation", sentences, every, at)

    def elsewhere(self, other: str) -> set[str]:
        """The sentences that are said at another bench only, or of screws that go into what `other` names."""
        where = self.operation.instructions.where
        return {sentence for figure in (*NO_SUCH_HOLDING, other) for sentence in where.get(figure, ())}

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
                used = tuple(names_in(self.report, value, self.figures, at))
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
            self.feature_figures(names_in(self.report, str(value), self.figures, at), at)

    def placeholders(self, text: str, gives: Collection[str], at: Steps) -> None:
        """Every placeholder of a text is a word, a figure or a setting this operation has."""
        for name in wording.PLACEHOLDER.findall(text):
            if name.startswith("setting."):
                self.setting(name.removeprefix("setting."), gives, at)
            elif name not in _WORDS:
                check_name(self.report, "placeholder", name, (*QUANTITIES, *_WORDS), at)
                self.feature_figures([name], at)
