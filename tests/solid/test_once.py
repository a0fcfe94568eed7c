"""What is worked out once for a drawing depends on the drawing alone."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from sequencer.design.placing import place
from sequencer.model.job import Job
from sequencer.model.once import DRAWN
from sequencer.solid.going_in import blocking_of
from tests.made import EXAMPLES, ROOT, job

DRAWINGS = (*EXAMPLES, *(f"tests/assemblies/{file.name}" for file in sorted((ROOT / "tests" / "assemblies").glob("*.yaml"))))
FIELDS = frozenset(each.name for each in fields(Job))
asked: set[str] = set()


class Watched(Job):
    """A job that tells what of it was asked for."""

    def __getattribute__(self, name: str) -> Any:
        if name in FIELDS:
            asked.add(name)
        return super().__getattribute__(name)


@pytest.mark.parametrize("name", DRAWINGS)
def test_where_pieces_lie_and_what_stops_what_asks_for_nothing_but_the_drawing(name: str) -> None:
    watched = Watched(**{each: getattr(job(name), each) for each in FIELDS})
    # A part of its own, so that nothing is remembered of it.
    drawn = replace(watched, parts=dict(watched.parts))
    asked.clear()
    blocking_of(drawn)
    assert {"parts", "joints"} <= asked <= {*DRAWN}


def test_what_is_decided_changes_nothing_and_another_drawing_is_worked_out_anew() -> None:
    drawn = job("herb-caddy")
    assert place(replace(drawn, aim="fewest-set-ups", decisions=())) is place(drawn)
    parts = {**drawn.parts, "side": replace(drawn.parts["side"], length=drawn.parts["side"].length + 10)}
    assert place(replace(drawn, parts=parts)) is not place(drawn)
    assert blocking_of(replace(drawn, parts=parts)).standing.keys() == blocking_of(drawn).standing.keys()
