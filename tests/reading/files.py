"""A small job and a small workshop as text, and what comes of reading a changed copy."""

from __future__ import annotations

from sequencer.findings import Unusable
from sequencer.model.job import Job
from sequencer.model.workshop import Workshop
from sequencer.reading.job import job_of
from sequencer.reading.tree import parse_tree
from sequencer.reading.workshop import workshop_of

JOB = """\
job: Box
sizes: {long: 320, board: 15}
stock:
  plank: {material: pine, width: 90, thickness: board, lengths: [2400]}
  panel: {material: plywood, form: sheet, thickness: 6, sheet: [1220, 610]}
parts:
  side:
    count: 2
    handed: true
    stock: plank
    length: long
    names: {front: inside}
    features:
      floor-groove: {kind: groove, face: front, from: bottom, distance: 8, width: panel, depth: 6}
      end-housing: {kind: housing, face: inside, from: left, distance: 12, width: board, depth: 5}
  end: {count: 2, stock: plank, length: 160}
  lid: {stock: panel, length: long, width: 190}
joints:
  corner: {part: end.1, its: left, into: side.left/end-housing, flush: bottom, fixed: glue}
  lid-on: {part: lid, its: outside, to: end.1/top, fixed: screws, hardware: screws}
hardware:
  screws: {what: wood screw, count: 4, gauge: 8, length: 30}
"""

WORKSHOP = """\
workshop: Workshop 2
stations:
  drill-1: {kind: pillar-drill, guards: [chuck-guard], figures: {deepest: 80}, speeds: [1000, 500]}
people:
  students: 24
  year: Year 8
  age: 13
  adults: [{role: Teacher, authorised: all}]
time: {lesson: 60, settling_in: 10, clearing_up: 10}
"""


def changed(text: str, *changes: tuple[str, str]) -> str:
    """The text with each first string, which must stand in it once, replaced by the second."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def job(text: str) -> Job:
    """The job a text describes."""
    return job_of(parse_tree(text, "job.yaml"))[0]


def workshop(text: str) -> Workshop:
    """The workshop a text describes."""
    return workshop_of(parse_tree(text, "workshop.yaml"))[0]


def job_errors(text: str) -> list[str]:
    """What is said about a job that cannot be used, as it is printed."""
    try:
        job(text)
    except Unusable as error:
        return [str(found) for found in error.findings]
    return []


def workshop_errors(text: str) -> list[str]:
    """What is said about a workshop that cannot be used, as it is printed."""
    try:
        workshop(text)
    except Unusable as error:
        return [str(found) for found in error.findings]
    return []
