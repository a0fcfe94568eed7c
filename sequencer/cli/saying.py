"""What every command says the same way: progress, files written, rules that come first, how it ended."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.talk import wrapped

if TYPE_CHECKING:
    from sequencer.proving.making import Making

DONE, REFUSED, UNUSABLE = 0, 1, 2

LOCAL_RULES = (
    "Local law, your school's policy and the machine maker's instructions come first. Qualified staff must check every "
    "plan and sheet before use."
)


def say_progress(text: str) -> None:
    """Progress goes to the error stream, so that output can be piped."""
    sys.stderr.write(f"... {text}\n")
    sys.stderr.flush()


def done_or_draft(making: Making) -> int:
    """The exit code of sheets that are written: a draft is not done, and is told of."""
    if making.proof.held:
        return DONE
    print(wrapped("The plan is not proved: every page says that it is a draft. `sequencer prove` prints what did not hold."))
    return REFUSED


def print_written(files: Sequence[Path], missing: str) -> None:
    """The files written, what could not be made, and the rules that come first."""
    print("Wrote:")
    for file in files:
        print(f"  {file}")
    if missing:
        print(wrapped(missing))
    print(wrapped(LOCAL_RULES))
