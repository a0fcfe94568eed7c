"""Words the sheets share: who does a step, dates, quantities, sources. English, plain, short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from sequencer.model.plan import Step
from sequencer.model.workshop import Who

CAUTION = (
    "Local law, school policy, the machine maker's instructions and the decision of qualified staff come first. "
    "Staff must check this sheet before it is used."
)

REVIEW_TRIGGERS = (
    "The review date is reached.",
    "A machine, guard or tool is changed, moved or repaired.",
    "The way of working, the material or the design is changed.",
    "The class, its age or its needs change.",
    "There is an accident or a near miss.",
    "The law, school policy or the maker's instructions change.",
    "Staff or their authorisation change.",
    "The plan mark at the foot of the page changes.",
)
"""When a risk assessment is looked at again (common practice; users of the sheets ask for it)."""

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_OPERATOR = {"student": "Student", "staff": "Authorised staff", "nobody": "Nobody here"}
_SUPERVISION = {"room": "adult in the room", "watching": "adult watching", "beside": "adult beside"}
_GATE = {"none": "", "instructed": "instructed first", "signed-off": "signed off first"}


def day_words(day: date) -> str:
    """`1 February 2027`: no order of figures to mistake."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def who_words(who: Who) -> str:
    """Who works, who watches, what comes first: `Student, adult watching, signed off first`."""
    if who.operator == "nobody":
        return _OPERATOR["nobody"]
    if who.operator == "staff":
        return _OPERATOR["staff"]
    return ", ".join(words for words in (_OPERATOR["student"], _SUPERVISION[who.supervision], _GATE[who.gate]) if words)


def numbers_words(numbers: Iterable[int]) -> str:
    """Step numbers with runs drawn together: `2 to 4, 7`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" if len(run) > 2 else f"{run[0]}, {run[1]}" for run in runs
    )


def minutes_words(minutes: float) -> str:
    """`20 min`, from two hours on `12 hours`."""
    if minutes < 120:
        return f"{minutes:.0f} min"
    return f"{minutes / 60:.1f}".removesuffix(".0") + " hours"


def within_sentence(title: str) -> str:
    """A title as it stands inside a sentence: its first letter small, unless the word is an abbreviation."""
    return title[:1].lower() + title[1:] if title[1:2].islower() or title[1:2] == " " else title


def staff_marker(steps: Sequence[Step]) -> str:
    """What a student card says where staff do something in between."""
    doing = [within_sentence(step.title) for step in steps if step.kind == "work"]
    doing = doing or [within_sentence(steps[0].title)]
    numbers = numbers_words(step.number for step in steps)
    word = "step" if len(steps) == 1 else "steps"
    said = doing[0] if len(doing) == 1 else f"{', '.join(doing[:-1])} and {doing[-1]}"
    return f"Staff do {word} {numbers}: {said}. Wait for your teacher."


def wait_marker(step: Step) -> str:
    """What a student card says for a time of waiting."""
    return f"Step {step.number}: {within_sentence(step.title)}. Wait {minutes_words(step.minutes)}."


def source_words(source: str) -> str:
    """A source as printed: what is from memory asks to be checked locally."""
    return f"{source} (check locally)" if "from memory" in source.lower() and "check locally" not in source else source


def heading(text: str) -> str:
    """A text as it begins a line: its first letter large."""
    return text[:1].upper() + text[1:]
