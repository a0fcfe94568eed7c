"""A cut drawn for when the parts are joined, without which they cannot be joined, is refused at its line of the job file."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Finding, Refused
from sequencer.model.job import Job
from sequencer.planning.planner import make_plan, ways_of
from sequencer.proving.making import carry_out
from tests.made import job, knowledge, plan, workshop


def _late(name: str, subject: str) -> Job:
    """A job in which one feature is to be cut when the parts are joined."""
    drawn, (part_name, feature) = job(name), subject.split("/")
    part = drawn.parts[part_name]
    late = replace(part, features={**part.features, feature: replace(part.features[feature], when="assembled")})
    return replace(drawn, parts={**drawn.parts, part_name: late})


def _refused(drawn: Job) -> list[Finding]:
    with pytest.raises(Refused) as refused:
        make_plan(drawn, workshop(), knowledge())
    return [finding for finding in refused.value.findings if finding.code == "seat-cut-late"]


@pytest.mark.parametrize(
    ("name", "subject", "why"),
    [
        ("herb-caddy", "side/floor-groove", "the joint floor-3 needs it for that."),
        ("nest-box", "side/front-screws", "the screws of back-left need their holes."),
        ("tests/assemblies/dowelled-rail.yaml", "leg/rail-holes", "the dowels of near go into it."),
        ("tests/assemblies/wedged-stool.yaml", "leg/seat-kerfs", "the wedges of seat-1 are driven into it."),
        ("nest-box", "front/roof-bevel", "until then the front has no size to be joined with."),
        ("tests/assemblies/turned-peg.yaml", "arm/peg-hole", "the peg stands in it as soon as they are joined."),
        ("tests/cases/s07-glass-door-frame.yaml", "top-rail/left-cope", "the stile stands in it as soon as they are joined."),
        ("tests/cases/s04-bird-house.yaml", "side/roof-bevel", "the roof wide stands in it as soon as they are joined."),
    ],
)
def test_what_joints_screws_dowels_wedges_and_other_parts_need_is_not_cut_late(name: str, subject: str, why: str) -> None:
    drawn = _late(name, subject)
    (found,) = _refused(drawn)
    feature = subject.partition("/")[2]
    assert found.subject == subject
    assert found.what == f"The {feature} is to be cut when the parts are assembled, and {why}"
    assert found.remedy == "Take `when: assembled` out."
    assert found.place == drawn.parts[subject.partition("/")[0]].place_of(feature)
    assert found.place is not None
    assert found.place.line


def test_the_ways_of_such_a_job_are_refused_alike() -> None:
    with pytest.raises(Refused, match="the joint floor-3 needs it"):
        ways_of(None, _late("herb-caddy", "side/floor-groove"), workshop(), knowledge())


@pytest.mark.parametrize(
    ("name", "subject", "before"),
    [
        ("picture-frame", "short-piece/rebate", "backing-in/dry-fit/try"),
        ("tests/assemblies/splined-frame.yaml", "short-piece/left-slot", "spline-in-place/dry-fit/try"),
    ],
)
def test_what_only_a_later_joint_needs_is_cut_between_the_two(name: str, subject: str, before: str) -> None:
    """The clear sheet goes in, and the splines, when the frame is one piece: rebate or slot can wait until then, no longer."""
    drawn = _late(name, subject)
    made = make_plan(drawn, workshop(), knowledge())
    assert carry_out(made, drawn).proof.held
    order = [task.id for task in made.tasks]
    assert order.index(f"{subject}/cut") < order.index(before)


def test_a_key_that_is_cut_off_a_strip_has_its_length_before_it_is_driven() -> None:
    made = plan("tests/cases/s08-keyed-tabouret.yaml")
    pairs = {(reason.before, reason.after) for reason in made.reasons if reason.kind == "fit"}
    assert ("key/length/cut", "key-in-place/key/key") in pairs
