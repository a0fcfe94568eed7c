"""The list of jigs: what an operation or a jig may name, and what is refused with its place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sequencer.findings import Unusable
from sequencer.knowledge.loading import load_knowledge
from tests.made import knowledge

JIG = """
rest:
  name: rest
  what: a rest
  pieces:
    board: {size: ["200", "100", "18"], at: [["0", "0", "0"]], stock: plywood}
  fastening: Glue.
  checks: [Look along it.]
  source: common practice
"""
OPERATION = """
station: bench-rest
name: rest bench
power: hand
what: a bench
who: {operator: student, supervision: watching, gate: instructed}
smallest: A piece 100 mm long.
hands: Keep both hands on the saw.
before_starting: [Check the saw.]
stop_when: [The saw jams.]
operations:
  saw-on-rest:
    name: Saw on the rest
    makes: [length]
    hazards: [hand-saw-cut]
    jig: rest
    minutes: {each: 1, source: common practice}
    instructions: {cut: [Saw to the line.]}
    if_wrong: Ask.
    sources: [common practice]
sources: [common practice]
"""


def own(folder: Path, jig: str = JIG, operation: str = OPERATION) -> Path:
    (folder / "operations" / "lists").mkdir(parents=True)
    (folder / "operations" / "lists" / "jigs.yaml").write_text(jig, encoding="utf-8")
    (folder / "operations" / "bench-rest.yaml").write_text(operation, encoding="utf-8")
    return folder


def test_a_school_adds_a_jig_and_names_it(tmp_path: Path) -> None:
    seen = load_knowledge(own(tmp_path))
    assert seen.stations["bench-rest"].operations["saw-on-rest"].jig == "rest"
    assert {"rest", *knowledge().jigs} == set(seen.jigs)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("jig: rest", "jig: rist", r"bench-rest\.yaml:16:.*There is no jig in lists/jigs\.yaml called 'rist'"),
        ("what: a rest", "what: a rest\n  serves_as: v-blok", r"jigs\.yaml:5:.*There is no way of holding called 'v-blok'"),
        ('["200"', "[blank.length", r"jigs\.yaml:6:.*'blank\.length' is no figure of a part or a feature"),
        (
            '["200"',
            "[feature.radius",
            r"bench-rest\.yaml:16:.*'feature\.radius', a size of the rest, is not known where the work",
        ),
        ('["200"', '["200 +"', r"jigs\.yaml:6:"),
        ("stock: plywood", "stuck: plywood", r"jigs\.yaml:6:.*Did you mean 'stock'"),
    ],
)
def test_every_mistake_has_its_place(tmp_path: Path, old: str, new: str, message: str) -> None:
    with pytest.raises(Unusable) as caught:
        load_knowledge(own(tmp_path, JIG.replace(old, new), OPERATION.replace(old, new)))
    assert any(re.search(message, str(finding)) for finding in caught.value.findings), str(caught.value)


def test_a_part_s_size_is_not_known_where_several_parts_are_worked(tmp_path: Path) -> None:
    whole = OPERATION.replace("makes: [length]", "makes: [glue]")
    with pytest.raises(Unusable, match="is not known where the work is 'glue'"):
        load_knowledge(own(tmp_path, JIG.replace('["200"', "[part.length"), whole))


def test_every_shipped_jig_says_how_it_is_checked_and_held_together() -> None:
    for name, jig in knowledge().jigs.items():
        assert jig.fastening.endswith("."), name
        assert all(check.split()[0].lower() in {verb.lower() for verb in knowledge().verbs} for check in jig.checks), name


def test_the_window_of_a_recess_template_suits_cutter_and_bush() -> None:
    """Plain geometry: on each side the window stands outside the recess by half of bush less cutter."""
    use = knowledge().stations["hand-held-router"].operations["hand-rout-recess"].use
    wider = float(use["bush"]) - float(use["cutter"])
    end = knowledge().jigs["recess-template"].pieces["end"]
    side = knowledge().jigs["recess-template"].pieces["side"]
    assert end.size[1] == f"feature.width + {wider:g}"
    assert side.size[0] == f"feature.length + {wider + 2 * float(end.size[0]):g}"
    assert any(
        check.startswith(f"Measure the window; it is {wider:g} mm longer") for check in knowledge().jigs["recess-template"].checks
    )
