"""A part's own names for its faces stand wherever a feature asks for a face, an edge or a spot."""

from __future__ import annotations

from pathlib import Path

from sequencer.features.chamfer import Chamfer
from sequencer.features.hole import Hole
from sequencer.reading.job import read_job

JOB = """\
job: Lid
stock:
  board: {material: pine, form: board, width: 90, thickness: 18, lengths: [2400]}
parts:
  lid:
    stock: board
    length: 300
    names: {front: bottom, upper: inside}
    features:
      one-edge: {kind: chamfer, edges: upper/front, size: 3}
      all-round: {kind: chamfer, edges: upper, size: 2}
      knob: {kind: hole, face: upper, diameter: 8, at: {front: 30}}
      pins: {kind: hole, face: front, diameter: 6, depth: 20, at: [{left: 40}, {right: 40}]}
"""


def test_own_names_of_faces(tmp_path: Path) -> None:
    file = tmp_path / "job.yaml"
    file.write_text(JOB, encoding="utf-8")
    job, _ = read_job(file)
    features = job.parts["lid"].features
    one_edge, all_round, knob, pins = (features[name] for name in ("one-edge", "all-round", "knob", "pins"))
    assert isinstance(one_edge, Chamfer)
    assert one_edge.edges == (("inside", "bottom"),)
    assert isinstance(all_round, Chamfer)
    assert {edge[1] for edge in all_round.edges} == {"left", "right", "bottom", "top"}
    assert isinstance(knob, Hole)
    assert knob.at == ({"bottom": 30},)
    assert isinstance(pins, Hole)
    assert (pins.face, pins.at) == ("bottom", ({"left": 40}, {"right": 40}))
