"""What room a page of the job card has left goes to its smallest pictures."""

from __future__ import annotations

from sequencer.paper.job_card import CardEntry, _block, _lower, _roomy, _Sized, job_card
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
    name, width = "step-stool", 192.0
    made = drawings(name)
    steps = {step.number: step for step in proved(name).steps}
    blocks = [_block((steps[number],), made, width) for number in (14, 15)]
    page = [_Sized(block, _lower(block, made, width), width) for block in blocks]
    one, other = _roomy(page, 264.0, made)
    assert min(covered(one), covered(other)) > 0.9 * max(covered(one), covered(other))
    # More than they have where no room is left.
    assert min(covered(one), covered(other)) > max(covered(block.lower) for block in page)


def test_lower_pictures_save_a_page_of_the_card_of_the_stool() -> None:
    found = pages("step-stool")
    assert len(found) <= 13
    assert min(covered(entry) for page in found for entry in page if entry.pictures) > 1200
