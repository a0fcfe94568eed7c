"""What room a page of the job card has left goes to its smallest pictures."""

from __future__ import annotations

from sequencer.paper.job_card import CardEntry, job_card
from tests.made import drawings, proved


def pages(name: str) -> list[list[CardEntry]]:
    found = [
        [each for each in page.entries if isinstance(each, CardEntry)] for page in job_card(proved(name), drawings(name), "a4")
    ]
    assert found
    return found


def covered(entry: CardEntry) -> float:
    return min(each.covered for each in entry.pictures)


def test_two_steps_on_a_page_share_what_is_left_of_it() -> None:
    """Sawing the shoulders and the cheeks of one tenon: neither takes the room of the other."""
    by_step = {step.number: (page, entry) for page in pages("step-stool") for entry in page for step in entry.steps}
    (page, one), (same, other) = by_step[14], by_step[15]
    assert page is same
    assert min(covered(one), covered(other)) > 0.9 * max(covered(one), covered(other))
