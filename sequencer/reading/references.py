"""Names in a job that must stand for something in it: joints, assemblies, hardware, parts, sizes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from sequencer.model.job import MADE, Choice, Decision, Extension, Finish, Hardware, Joint, Part
from sequencer.model.work import PART_WORK
from sequencer.reading.job_file import ChoiceForm, CrossingForm, DecisionForm, ExtensionForm, FinishForm, JointForm
from sequencer.reading.reader import Reader
from sequencer.reading.report import Report
from sequencer.reading.tree import Steps
from sequencer.reading.words import meant

_FIXED_BY = re.compile(r"-(glue|screw|nail|fit-dry|key)(-\d+)?$")
"""Ends the name of what is joined where another bears it already: `box-screw/dry-fit`."""
SAME = 0.01
"""Sizes closer than this are the same, mm."""


class References:
    """What the file names, looked up in what it has; also in what could not be read, about which all is said already."""

    def __init__(self, report: Report, features: Mapping[str, frozenset[str]]) -> None:
        self.report = report
        self.features = features
        self.joints = {**self._keys("joints"), **self._keys("crossings")}
        self.hardware = self._keys("hardware")
        self.sizes = self._keys("sizes")
        written = [*self._keys("joints").values(), *self._keys("crossings").values()]
        self.assemblies = {
            **self._keys("assemblies"),
            **{str(each["assembly"]): "" for each in written if isinstance(each, dict) and each.get("assembly")},
        }

    def _keys(self, section: str) -> dict[str, object]:
        data = self.report.tree.at((section,))
        return dict(data) if isinstance(data, dict) else {}

    def known(self, what: str, name: str, names: Iterable[str], steps: Steps) -> bool:
        """Whether the name is one of these; else the error is noted at `steps`."""
        names = list(names)
        if name in names:
            return True
        self.report.error("unknown-name", steps, f"There is no {what} '{name}'.", remedy=meant(name, names))
        return False

    def each(self, what: str, given: Iterable[str], names: Iterable[str], steps: Steps) -> None:
        """The same for several names, written as a list or as one."""
        names = list(names)
        for position, name in enumerate(given):
            at = (*steps, position)
            self.known(what, name, names, at if at in self.report.tree.marks else steps)

    def parts(self, parts: Mapping[str, Part]) -> None:
        """Moments and other parts that parts name."""
        for name, part in parts.items():
            steps: Steps = ("parts", name)
            for allowance, written in zip(part.allowances, self._keys_of((*steps, "allowance")), strict=False):
                at = (*steps, "allowance", written, "until")
                self.known("joint or assembly", allowance.until, (*self.joints, *self.assemblies), at)
            others = [other for other in self.features if other != name]
            self.each("other part", part.together, others, (*steps, "together", "with"))
            if part.together_until:
                moments = (*self.features[name], *self.joints, *self.assemblies)
                self.known("feature, joint or assembly", part.together_until, moments, (*steps, "together", "until"))

    def fixed_to(self, hardware: Mapping[str, Hardware], parts: Mapping[str, Part]) -> None:
        """Parts and pieces that hardware is fixed to."""
        pieces = (piece.name for part in parts.values() for piece in part.pieces)
        names = list(dict.fromkeys((*self.features, *pieces)))
        for name, thing in hardware.items():
            steps: Steps = ("hardware", name, "fixed_to")
            self.each("part or piece", thing.fixed_to, names, steps)
            if self.report.tree.at(steps) == []:
                what = f"The {name} has an empty list under `fixed_to`: it is fixed to nothing."
                remedy = "Name the parts it is fixed to, or leave `fixed_to` out: then it goes on what is joined."
                self.report.error("fixed-to-nothing", steps, what, remedy=remedy)

    def _keys_of(self, steps: Steps) -> list[str]:
        data = self.report.tree.at(steps)
        return list(data) if isinstance(data, dict) else []

    def joints_of(
        self,
        joints: Mapping[str, Joint],
        forms: Mapping[str, JointForm | CrossingForm],
        assemblies: Mapping[str, tuple[str, ...]],
    ) -> dict[str, Joint]:
        """The joints, each with the assembly it belongs to, wherever that was written."""
        belongs: dict[str, str] = {}

        def belong(name: str, assembly: str, steps: Steps) -> None:
            if belongs.setdefault(name, assembly) != assembly:
                what = f"The joint '{name}' also belongs to '{belongs[name]}'."
                self.report.error("two-assemblies", steps, what, remedy="Let it belong to one.")

        for assembly, names in assemblies.items():
            self.each("joint", names, self.joints, ("assemblies", assembly))
            for name in names:
                belong(name, assembly, ("assemblies", assembly))
        for name, form in forms.items():
            steps: Steps = ("crossings" if isinstance(form, CrossingForm) else "joints", name)
            self.each("other joint", form.after, (other for other in self.joints if other != name), (*steps, "after"))
            if isinstance(form, JointForm) and form.hardware:
                self.known("hardware", form.hardware, self.hardware, (*steps, "hardware"))
            if form.assembly:
                belong(name, form.assembly, (*steps, "assembly"))
        return {name: replace(joint, assembly=belongs.get(name, "")) for name, joint in joints.items()}

    def finishes(self, forms: tuple[FinishForm, ...]) -> tuple[Finish, ...]:
        """The finishes, with the parts they go on."""
        for number, form in enumerate(forms):
            several: Steps = ("finish", number)
            steps = several if several in self.report.tree.marks else ("finish",)
            self.each("part", form.parts, self.features, (*steps, "parts"))
        return tuple(Finish(form.what, form.coats, form.parts, form.before_glue) for form in forms)

    def choices(self, forms: Mapping[str, ChoiceForm], reader: Reader) -> tuple[Choice, ...]:
        """The choices; each is about a size, whose drawn value must be one that can be chosen."""
        for name, form in forms.items():
            steps: Steps = ("choices", name)
            if bool(form.options) == bool(form.from_ or form.to) or bool(form.from_) != bool(form.to):
                self.report.error("choice", steps, "It is not clear what can be chosen.", remedy="Write from and to, or options.")
                continue
            if form.from_ and form.to and form.from_ >= form.to:
                self.report.error("choice", (*steps, "from"), "'from' is not less than 'to'.", remedy="Exchange them.")
                continue
            if not self.known("size", name, self.sizes, steps) or name not in reader.sizes.values:
                continue
            drawn = reader.length(name)
            possible = form.options or (drawn,)
            if not any(abs(drawn - each) < SAME for each in possible) or not (form.from_ or drawn) <= drawn <= (form.to or drawn):
                self.report.error(
                    "choice",
                    steps,
                    f"'{name}' is drawn {drawn:g} mm, which cannot be chosen.",
                    remedy="Draw it as one of the sizes that can be chosen.",
                )
        return tuple(Choice(name, form.from_, form.to, form.options, form.note) for name, form in forms.items())

    def _joined(self) -> Iterable[str]:
        """What is joined in one go as tasks name it, besides joints and assemblies."""
        yield "whole"
        yield from (f"{part}-in-place" for part in self.features)
        # Alike assemblies are made as one, named without their numbers.
        yield from (name.rstrip("0123456789").rstrip("-") for name in self.assemblies)

    def extensions(self, forms: tuple[ExtensionForm, ...], pieces: Iterable[str]) -> tuple[Extension, ...]:
        """The tasks for whoever waits; each comes after something of this job."""
        known = [*self.features, *pieces, *self.joints, *self.assemblies, *self._joined(), MADE]
        found = []
        for number, form in enumerate(forms):
            several: Steps = ("extension", number)
            steps = several if several in self.report.tree.marks else ("extension",)
            owner, _, feature = form.after.partition("/")
            if owner and self.known("part, joint or assembly", owner, known, (*steps, "after")) and feature:
                self.known("feature", feature, self.features.get(owner, ()), (*steps, "after"))
            place = self.report.tree.place(steps)
            found.append(Extension(form.task, form.stations, form.after, form.lay_out, form.minutes, place))
        return tuple(found)

    def decisions(self, forms: tuple[DecisionForm, ...], pieces: Iterable[str]) -> tuple[Decision, ...]:
        """The decisions; each is about something of this job."""
        known = [*self.features, *pieces, *self.joints, *self.assemblies, *self._joined(), *self._keys_of(("hardware",))]
        decided = []
        for number, form in enumerate(forms):
            steps: Steps = ("decisions", number)
            owner, _, rest = form.about.partition("/")
            owner = _FIXED_BY.sub("", owner) if owner not in known else owner
            if self.known("part, joint, assembly or hardware", owner, known, (*steps, "about")) and owner in self.features:
                feature = rest.partition("/")[0]
                ours = feature in self.features[owner] or feature in PART_WORK or feature.endswith("-allowance")
                near = "" if ours else meant(feature, self.features[owner])
                if near.startswith("Did you mean"):
                    self.report.error("unknown-name", (*steps, "about"), f"'{owner}' has no feature '{feature}'.", remedy=near)
            if not (form.way or form.station or form.before or form.minutes):
                self.report.error("decision", steps, "Nothing is decided.", remedy="Add way, station, before or minutes.")
            place = self.report.tree.place(steps)
            decided.append(Decision(form.about, form.by, form.why, form.way, form.station, form.before, form.minutes, place))
        return tuple(decided)
