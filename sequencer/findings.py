"""Every message of the tool: where, what is wrong, why it matters, what to do.

A finding is a value, not an exception: it travels with the result, is printed, counted and tested. Only a file that
cannot be used at all stops the run, by `Unusable`, which carries the findings that say why.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Level = Literal["error", "warning", "note"]
"""error: no plan can be made; warning: a plan is made and the gap is printed; note: worth knowing."""

LEVELS: tuple[Level, ...] = ("error", "warning", "note")


@dataclass(frozen=True)
class Place:
    """Where in a file something stands. Lines and columns count from 1; 0 means the whole file."""

    file: str
    line: int = 0
    column: int = 0
    key: str = ""

    def __str__(self) -> str:
        spot = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        return f"{spot}: {self.key}" if self.key else spot


@dataclass(frozen=True)
class Finding:
    """One message for the person.

    code
        Stable kebab-case name of the rule, such as `thin-under-cut`; tests and decisions refer to it.
    subject
        What it is about in the job's own names: `side/floor-groove`, `corner`, or a file's key.
    what
        What is wrong or worth knowing, with the figures. A whole sentence.
    why
        Why it matters, or empty.
    remedy
        What to do about it, or empty. A whole sentence in the imperative.
    place
        Where it stands in the file, if it stands there.
    source
        Where the rule comes from: a citation, "common practice" or "from memory".
    """

    level: Level
    code: str
    subject: str
    what: str
    why: str = ""
    remedy: str = ""
    place: Place | None = None
    source: str = ""

    def __str__(self) -> str:
        head = f"{self.place}: " if self.place else (f"{self.subject}: " if self.subject else "")
        return head + " ".join(text for text in (self.what, self.why, self.remedy) if text)


class Unusable(Exception):
    """Input that cannot be used: the command ends with exit code 2 and prints the findings."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings: tuple[Finding, ...] = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))


class Refused(Exception):
    """A job that was understood and cannot be planned: the command ends with exit code 1 and prints the findings."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings: tuple[Finding, ...] = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any finding is an error."""
    return any(finding.level == "error" for finding in findings)
