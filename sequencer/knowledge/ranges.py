"""Checks that the figures of a list go together: the least is not above the most, and rows of sizes rise."""

from __future__ import annotations

from typing import Any

from sequencer.reading.report import Report

PAIRS = {
    "fits": (("least", "play"), ("play", "most")),
    "screws": (("shank", "head"), ("shank", "clearance")),
    "fasteners": (("least_share", "usual_share"),),
}
"""By list: keys of an entry of which the first is at most the second."""
WHOLE = ("slot", "stretch", "least-part", "turn-at-machine")
"""Figures in minutes that are whole numbers no longer than an hour: lessons are divided by them."""
SHARES = ("bench", "working-figures")
"""Lists whose entries may be shares."""


def check_ranges(report: Report, name: str, value: Any) -> None:
    """The entries of the list of this name; nothing where it could not be read."""
    if value is None:
        return
    for key, entry in value.items() if name in PAIRS else ():
        for less, more in PAIRS[name]:
            if getattr(entry, less) > getattr(entry, more):
                report.error(
                    "range",
                    (key, more),
                    f"'{more}' is {getattr(entry, more):g}, less than '{less}', which is {getattr(entry, less):g}.",
                    "Nothing could lie between the two.",
                    "Look both up and correct them.",
                )
    for key, figure in value.items() if name in SHARES else ():
        if figure.unit == "share" and figure.value > 1:
            report.error(
                "range",
                (key, "value"),
                f"{figure.value:g} is more than the whole, and a share is a part of it.",
                "A share goes from 0 to 1; a tenth is 0.1.",
                "Write it as a part of 1.",
            )
    for key, figure in value.items() if name == "working-figures" else ():
        if key in WHOLE and not (figure.value == int(figure.value) and 1 <= figure.value <= 60):
            report.error(
                "range",
                (key, "value"),
                f"{figure.value:g} is no whole number of minutes from 1 to 60.",
                "Lessons are divided by it.",
                "Write whole minutes.",
            )
    for key, bit in value.items() if name == "drill-bits" else ():
        for number, (row, following) in enumerate(zip(bit.speeds, bit.speeds[1:], strict=False), 1):
            if following.up_to <= row.up_to:
                report.error(
                    "range",
                    (key, "speeds", number, "up_to"),
                    f"{following.up_to:g} mm comes after {row.up_to:g} mm.",
                    "The first row whose diameter is large enough counts, so the rows must rise.",
                    "Put the rows in order, each diameter once.",
                )
