"""How many of a counted thing are taken at every minute: a whole number for each binary digit of the count, whose bits are
minutes. Adding to hundreds of minutes at once, and asking at which of them an amount is left, takes a few operations.

The digits hold the count raised by so much that they are all ones where everything is taken: what does not fit is then what
carries over the last digit.
"""

from __future__ import annotations

from collections.abc import Sequence

Tally = list[int]


def nothing_taken(count: int, whole: int) -> Tally:
    """The tally of so many of a thing, none of them taken. `whole`: a bit for every minute."""
    digits = count.bit_length()
    raised = (1 << digits) - 1 - count
    return [whole if raised >> digit & 1 else 0 for digit in range(digits)]


def lacking(tally: Sequence[int], amount: int) -> int:
    """A bit for every minute at which so many are not left; -1, every bit there is, where there are never so many."""
    carry = 0
    for digit in tally:
        carry = digit | carry if amount & 1 else digit & carry
        amount >>= 1
    return -1 if amount else carry


def take(tally: Tally, amount: int, minutes: int) -> None:
    """Take so many at some minutes, given as bits; all there are where they are not enough."""
    carry = 0
    for at, digit in enumerate(tally):
        if amount & 1:
            tally[at] = digit ^ carry ^ minutes
            carry = digit & (carry | minutes) | carry & minutes
        else:
            tally[at] = digit ^ carry
            carry &= digit
        amount >>= 1
        if not carry and not amount:
            return
    if amount:
        carry = minutes
    for at in range(len(tally)):
        tally[at] |= carry
