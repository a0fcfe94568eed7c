"""What the entries of the lists keep beside their form: what they name exists, their figures agree with each other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import get_args

from sequencer.features.base import ShapeLeft
from sequencer.knowledge import wording
from sequencer.knowledge.forms.cutters import SizedTools
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.guards import GuardItem, WearItem
from sequencer.knowledge.forms.jigs import HeldShape, Jig
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.setting_up import StaffStep
from sequencer.knowledge.forms.waiting import WaitingWork
from sequencer.knowledge.links import Names, check_name, check_names, check_sentences, names_in
from sequencer.model.job import Fit
from sequencer.model.quantities import QUANTITIES
from sequencer.reading.report import Report


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


def check_waiting_work(report: Report, works: Mapping[str, WaitingWork], names: Names) -> None:
    """What whoever waits does is said in short imperatives."""
    for name, work in works.items():
        check_sentences(report, work.does, names, (name, "does"))


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
    """A jig is a way of holding that there is, and its sizes are sums of figures of the part, the feature and the joint."""
    for name, jig in jigs.items():
        if jig.serves_as:
            check_name(report, "way of holding", jig.serves_as, names.holding, (name, "serves_as"))
        for steps, text in jig.sums():
            for figure in names_in(report, text, (), (name, *steps)):
                if not figure.startswith(("part.", "feature.", "shape.", "joint.")):
                    report.error(
                        "unknown-figure",
                        (name, *steps),
                        f"'{figure}' is no figure of a part or a feature, nor of a joint.",
                        "A jig is made before the piece lies at any station.",
                        "Use figures that start with part., feature. or joint., or with shape. for one that holds a shape.",
                    )


def check_shapes(report: Report, shapes: Mapping[ShapeLeft, HeldShape], names: Names) -> None:
    """How a shape is held is a way of holding; one that is a jig takes its sizes from part and shape, whatever is cut later."""
    for name, shape in shapes.items():
        for key in ("holding", "enough"):
            check_names(report, "way of holding", getattr(shape, key), names.holding, (name, key))
        for jig in names.jigs.values():
            sums = [text for _, text in jig.sums()] if jig.serves_as in shape.holding else []
            used = {figure for text in sums for figure in names_in(report, text, (), (name, "holding"))}
            if other := sorted(figure for figure in used if not figure.startswith(("part.", "shape."))):
                report.error(
                    "unknown-figure",
                    (name, "holding"),
                    f"'{other[0]}', a size of the {jig.name}, belongs to the later cut, not to the shape.",
                    "The jig is made for the shape, whatever is cut afterwards.",
                    "Use figures that start with part. or shape.",
                )
