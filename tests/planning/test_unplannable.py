"""What is asked of finish and hardware and cannot be planned is said."""

from __future__ import annotations

from dataclasses import replace

from sequencer.planning.unplannable import job_findings
from tests.made import job


def test_where_joints_use_the_hardware_it_is_said_that_fixed_to_is_not_looked_at() -> None:
    drawn = job("picture-frame")
    pins = replace(drawn.hardware["corner-pins"], fixed_to=("backing",))
    also = replace(drawn, hardware={**drawn.hardware, "corner-pins": pins})
    (found,) = [each for each in job_findings(also, 10.0) if each.code == "fixed-to-unused"]
    assert (found.level, found.subject, found.place) == ("warning", "corner-pins", drawn.joints["corner-1"].place)
    assert "fixed-to-unused" not in [each.code for each in job_findings(drawn, 10.0)]
