"""What planning knows of the nails and screws of a group of joints: thickness held, length, gauge, depth of pilot holes. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from sequencer.design.fixing import Fastened, fastened
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.features.base import mm
from sequencer.knowledge.forms.fixings import FastenerRule
from sequencer.knowledge.working import Working
from sequencer.model.job import Hardware, Job, Joint
from sequencer.planning.groups import Group
from sequencer.reading.words import listed

METAL = {"screw": "screws", "nail": "nails"}
"""By kind of work, the word among the fixings of a joint."""


def metal_in(group: Group) -> bool:
    """Whether nails or screws hold any joint of a group."""
    return any({*METAL.values()} & {*joint.fixed} for joint in group.joints)


def _through(
    job: Job, joints: Iterable[Joint], placement: Placement, rules: Mapping[str, FastenerRule]
) -> Iterator[tuple[Joint, Hardware | None, Fastened]]:
    """The joints that nails or screws hold straight through, with the thing the drawing names for them."""
    for joint in joints:
        bearing = placement.bearing(joint.name)
        through = None if bearing is None else fastened(job, bearing, rules)
        if through is not None:
            yield joint, job.hardware.get(joint.hardware), through


def fastener_figures(
    job: Job, group: Group, placement: Placement, rules: Mapping[str, FastenerRule], working: Working
) -> dict[str, float]:
    """Figures of a group's nails and screws.

    Length as drawn, else worked out by `settings.fasteners.length_for`; both it and the thickness held only where all joints of
    the group have the same. Gauge of the screws, of several the thickest. How deep their pilot holes go in the second
    piece, which is drilled by itself, of several the least: `pilot_share` of what a screw has there, in whole mm, and
    `pilot_least` of it at the least.
    """
    gauges = [
        float(thing.gauge)
        for joint in group.joints
        if "screws" in joint.fixed and (thing := job.hardware.get(joint.hardware)) is not None and thing.gauge is not None
    ]
    found = {"feature.gauge": max(gauges)} if gauges else {}
    sizes, depths = set(), []
    for _, thing, through in _through(job, group.joints, placement, rules):
        length = thing.length if thing is not None and thing.length is not None else through.length.take
        sizes.add((through.kind, round(through.under, 1), length))
        if through.kind == "screws" and length > through.under:
            depths.append(length - through.under)
    if len(sizes) == 1:
        ((_, held, length),) = sizes
        found |= {"joint.held": held, "joint.fastener": length} if length > held else {}
    if not depths:
        return found
    return found | {
        "joint.pilot-depth": float(round(working.pilot_share * min(depths))),
        "joint.pilot-least": working.pilot_least * min(depths),
    }


def lengths_to_take(job: Job, joints: Collection[str], kind: str, rules: Mapping[str, FastenerRule]) -> Iterator[str]:
    """What to take for each joint where the drawing states no length and the joints differ."""
    found: dict[float, list[str]] = {}
    for joint, thing, through in _through(job, (job.joints[name] for name in joints), place(job), rules):
        if through.kind == kind and (thing is None or thing.length is None) and through.length.take:
            found.setdefault(through.length.take, []).append(joint.name.replace("-", " "))
    for length, names in sorted(found.items()):
        yield f"Take {kind} {mm(length)} mm long for {listed(names)}."
