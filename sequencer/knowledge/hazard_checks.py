"""What a hazard's file keeps, a shipped one and a school's own alike: what it names exists, something is done about it, a blade
is guarded, what is forbidden is not asked for, and nobody is asked to wear gloves where something turns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.knowledge import wording
from sequencer.knowledge.forms.hazards import BEFORE_RULES, Hazard, HazardControl
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.links import Names, check_name, check_names, check_stop_when
from sequencer.model.quantities import QUANTITIES
from sequencer.reading.report import Report
from sequencer.reading.tree import Steps
from sequencer.reading.words import in_short

GLOVES = "gloves"
"""What is not worn where something turns, in `lists/wear.yaml`: it is caught, and the hand with it."""
_CARRIERS = ("guard", "holding", "tool", "wear")


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


def check_rules(report: Report, hazard: Hazard) -> None:
    """An error for each rule that the controls and bans of a hazard break."""
    if not hazard.controls:
        report.error(
            "no-control",
            ("controls",),
            f"Nothing is said to be done about “{hazard.name}”.",
            "A hazard without a control is only a warning, and the risk assessment would have nothing to rest on.",
            "Name controls by level, the strongest first.",
        )
    for level, controls in hazard.controls.items():
        if not controls:
            report.error(
                "no-control", ("controls", level), f"'{level}' has no control.", "", "Leave a level out that says nothing."
            )
        for number, control in enumerate(controls):
            _check_control(report, hazard, control, ("controls", level, number))
    if hazard.blade and not any(
        control.guard or control.holding for level in BEFORE_RULES for control in hazard.controls.get(level, ())
    ):
        report.error(
            "blade-unguarded",
            ("blade",),
            "It is a blade's, and no guard and no way of holding stands between the blade and a hand.",
            "Rules and protective equipment alone are not enough for a blade.",
            f"Name a `guard` or `holding` under {in_short(BEFORE_RULES, 'or')}.",
        )


def _check_control(report: Report, hazard: Hazard, control: HazardControl, at: Steps) -> None:
    carriers = [key for key in _CARRIERS if getattr(control, key)]
    if len(carriers) > 1:
        report.error(
            "control",
            at,
            f"{in_short([f'`{key}`' for key in carriers])} carry it out.",
            "A plan says of one thing at which steps it is in use.",
            "Write a control for each.",
        )
    if control.wear and control.wear in hazard.forbids:
        report.error(
            "forbidden-and-asked-for",
            (*at, "wear"),
            f"'{control.wear}' is asked for here and forbidden under `forbids`.",
            "What is forbidden wins, so that it would never be worn.",
            "Keep one of the two.",
        )


def check_gloves(report: Report, station: StationKind, hazards: Mapping[str, Hazard]) -> None:
    """Where something turns, no file asks for gloves: not the station, not its operations, and no hazard that they name, unless
    another of the same step forbids them."""
    if station.power not in ("machine", "powered-hand"):
        return
    for at, worn in _worn(station):
        if GLOVES in worn:
            _no_gloves(report, (*at, worn.index(GLOVES)), "It asks for gloves at a powered station.", "Take the gloves out.")
    for name, operation in station.operations.items():
        here = [hazards[each] for each in dict.fromkeys((*station.hazards, *operation.hazards)) if each in hazards]
        asking = [each.name for each in here if any(item.wear == GLOVES for items in each.controls.values() for item in items)]
        if asking and not any(GLOVES in each.forbids for each in here):
            what = f"“{asking[0]}” asks for gloves at a powered station."
            _no_gloves(
                report, ("operations", name, "hazards"), what, "Name a hazard that forbids them too, such as entanglement."
            )


def _worn(station: StationKind) -> Iterator[tuple[Steps, tuple[str, ...]]]:
    yield ("wear",), station.wear
    yield from ((("operations", name, "wear"), operation.wear) for name, operation in station.operations.items())


def _no_gloves(report: Report, at: Steps, what: str, remedy: str) -> None:
    report.error("gloves", at, what, "A glove that is caught takes the hand with it.", remedy)
