"""Who may do it: the shipped default, the school's own rules, the adults there are. Operator, supervision, gate."""

from __future__ import annotations

from sequencer.findings import Finding
from sequencer.knowledge.forms.materials import ClassWork
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.workshop import Adult, Who, Workshop

STRICTEST = Who("staff", "beside", "signed-off")


def default_who(kind: StationKind, operation: Operation) -> Who:
    """The shipped, cautious default; what neither file states is the strictest."""
    return Who(
        operation.who.operator or kind.who.operator or STRICTEST.operator,
        operation.who.supervision or kind.who.supervision or STRICTEST.supervision,
        operation.who.gate or kind.who.gate or STRICTEST.gate,
    )


def may_do(kind: StationKind, name: str, operation: Operation, workshop: Workshop) -> Who:
    """Who may do an operation in this workshop: the default, then the school's rule for the station kind, then its rule
    for the operation. A rule that loosens without a name and a reason does not count (`rule_findings` says so)."""
    default = default_who(kind, operation)
    if default.operator == "nobody":
        return default
    who = default
    for about in (kind.station, name):
        for rule in workshop.rules:
            if rule.about == about:
                asked = Who(rule.operator or who.operator, rule.supervision or who.supervision, rule.gate or who.gate)
                who = asked if rule.by and rule.why else asked.stricter(who)
    return who


def makes_dust(kind: StationKind, operation: Operation) -> bool:
    """Whether an operation fills the air with dust of what it works: any cut by power, and sanding by hand."""
    return operation.cut == "sand" or (operation.cut != "none" and kind.power in ("machine", "powered-hand"))


def staff_alone(kind: StationKind, operation: Operation, class_work: ClassWork) -> bool:
    """Whether staff do an operation for the sake of the wood it is done to: where it makes dust, or wherever it cuts."""
    if class_work == "staff-all":
        return operation.cut != "none"
    return class_work != "students" and makes_dust(kind, operation)


def rule_findings(workshop: Workshop, knowledge: Knowledge) -> tuple[Finding, ...]:
    """Rules that loosen a default: printed where named and reasoned, an error where not. Rules about nothing known."""
    found: list[Finding] = []
    operations = {name: (kind, op) for kind in knowledge.stations.values() for name, op in kind.operations.items()}
    for rule in workshop.rules:
        if rule.about in knowledge.stations:
            kind = knowledge.stations[rule.about]
            defaults = [default_who(kind, operation) for operation in kind.operations.values()]
        elif rule.about in operations:
            defaults = [default_who(*operations[rule.about])]
        else:
            found.append(
                Finding(
                    "error",
                    "unknown-rule",
                    rule.about,
                    f"The policy has a rule for {rule.about}, which is no kind of station and no operation.",
                    remedy="Use a name that `sequencer ways` or the operations folder shows.",
                )
            )
            continue
        looser = any(
            Who(rule.operator or who.operator, rule.supervision or who.supervision, rule.gate or who.gate).looser_than(who)
            for who in defaults
            if who.operator != "nobody"
        )
        if looser and not (rule.by and rule.why):
            found.append(
                Finding(
                    "error",
                    "unnamed-loosening",
                    rule.about,
                    f"The policy loosens who may use {rule.about}, without saying who decided it and why.",
                    "Shipped defaults are cautious; loosening one is the school's decision and is printed.",
                    "Add `by` (a role) and `why` to the rule, or take it out.",
                )
            )
        elif looser:
            found.append(
                Finding(
                    "note",
                    "loosened-rule",
                    rule.about,
                    f"The school has loosened the cautious default for {rule.about}: {rule.why} (decided by {rule.by}).",
                )
            )
    return tuple(found)


def authorised(kind: str, workshop: Workshop) -> tuple[Adult, ...]:
    """The adults authorised for a kind of station."""
    return tuple(adult for adult in workshop.adults if kind in adult.authorised or "all" in adult.authorised)


def in_words(who: Who) -> str:
    """Who may do it, as printed."""
    if who.operator == "nobody":
        return "nobody: leave it alone"
    if who.operator == "staff":
        return "staff only"
    beside = {"beside": "an authorised adult beside", "watching": "an adult watching", "room": "an adult in the room"}
    gate = {"signed-off": "signed off for it", "instructed": "shown how", "none": ""}[who.gate]
    return f"students{' ' + gate if gate else ''}, with {beside[who.supervision]}"
