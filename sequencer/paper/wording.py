"""Words the sheets share: who does a step, dates, quantities, sources. English, plain, short."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date

from sequencer.model.plan import Check, Plan, Step
from sequencer.model.protection import Sign, Wear
from sequencer.model.workshop import Who
from sequencer.reading.words import listed

CAUTION = (
    "Local law, school policy, the maker's instructions and qualified staff come first. Staff must check this sheet before use."
)

DRAFT = "DRAFT. Not proved. Do not use."
"""Across every page of a plan that was not shown to make the thing."""

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

DAY_HEADING = "Noise, vibration and dust of a day"
DAY_NOTE = (
    "Worked out from the workshop file as if all of it fell on one day and every minute were spent at the tool. What others in "
    "the room make, and the noise of hand work, is not in it."
)
"""Beside what a day brings with it."""
DECLARED_NOTE = "A maker's figure of vibration comes from a test stand; blunt blades, worn pads and a hard grip shake more."
"""Beside vibration that a file states (common practice)."""

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

_WORN = {
    "eye-protection": "eye protection",
    "ear-protection": "ear protection",
    "dust-mask": "dust mask",
    "apron": "apron",
    "gloves": "gloves",
    "closed-shoes": "closed shoes",
}
_FEW_LETTERS = 4
"""More parts than this are “your work”."""
_LEFT_OFF = {"gloves": "gloves", "loose-clothing": "loose sleeves", "jewellery": "rings"}
_TIED = {"tied-hair": "Tie hair back."}


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


def ready_marker(steps: Sequence[Step]) -> str:
    """What a student card says of what staff have prepared on parts that no student has had in hand yet."""
    numbers, said = _doing(steps)
    return f"Staff have done {numbers} before the lesson: {said}."


def staff_marker(steps: Sequence[Step]) -> str:
    """What a student card says where staff work on parts that students have begun."""
    numbers, said = _doing(steps)
    letters = list(dict.fromkeys(work.letter for step in steps for work in step.parts))
    what = listed(letters) if 0 < len(letters) <= _FEW_LETTERS else "your work"
    back = "it is" if len(letters) == 1 or what == "your work" else "they are"
    return f"Give {what} to staff for {numbers}: {said}. Wait until {back} back."


def _doing(steps: Sequence[Step]) -> tuple[str, str]:
    """Which steps, and what is done in them."""
    doing = [within_sentence(step.title) for step in steps if step.kind == "work"]
    doing = doing or [within_sentence(steps[0].title)]
    numbers = numbers_words(step.number for step in steps)
    word = "step" if len(steps) == 1 else "steps"
    return f"{word} {numbers}", doing[0] if len(doing) == 1 else f"{', '.join(doing[:-1])} and {doing[-1]}"


def wait_marker(step: Step) -> str:
    """What a student card says for a time of waiting."""
    return f"Wait {minutes_words(step.minutes)}. {step.title} (step {step.number})."


def source_words(source: str) -> str:
    """A source as printed: what is from memory asks to be checked locally."""
    return f"{source} (check locally)" if "from memory" in source.lower() and "check locally" not in source else source


def heading(text: str) -> str:
    """A text as it begins a line: its first letter large."""
    return text[:1].upper() + text[1:]


def signs_words(signs: Iterable[Sign]) -> str:
    """Safety signs with their numbers, then those without one: `M027 check the guard; W001 general warning (“Kickback”).`"""

    def said(sign: Sign) -> str:
        under = f" ({', '.join(f'“{text}”' for text in sign.words)})" if sign.words else ""
        return f"{sign.code} {sign.says}{under}".strip()

    every = list(signs)
    with_number, without = ("; ".join(said(each) for each in every if bool(each.code) is has) for has in (True, False))
    return " ".join(f"{text}." for text in (with_number, without and f"In words only: {without}") if text)


def wear_words(items: Iterable[Wear]) -> str:
    """What to wear and what to leave off in one short line; what has no short word stands as its own sentence."""
    worn: list[str] = []
    off: list[str] = []
    rest: list[str] = []
    for item in items:
        if item.forbidden and item.name in _LEFT_OFF:
            off.append(_LEFT_OFF[item.name])
        elif not item.forbidden and item.name in _WORN:
            worn.append(_WORN[item.name])
        else:
            rest.append(_TIED.get(item.name, item.title.rstrip(".") + "."))
    said = ([f"Wear {', '.join(worn)}."] if worn else []) + rest + ([f"Keep {', '.join(off)} off."] if off else [])
    return " ".join(said)


def check_words(check: Check) -> str:
    """A check in two short sentences: what and how close; how to see it."""
    return f"Check {within_sentence(check.what)}: {check.limit}. {heading(check.how)}."


def for_each_part(letters: Sequence[str], texts: Sequence[str]) -> str | None:
    """Texts that differ from part to part in a size or in the part's letter, as one: `Measure 320 mm (A), 170 mm (B, C).`

    None where they differ in anything else.
    """
    if len(set(texts)) == 1:
        return texts[0]
    rows = [text.split(" ") for text in texts]
    if len({len(row) for row in rows}) > 1:
        return None
    columns = list(zip(*rows, strict=True))
    said: list[str] = []
    skip = False
    for number, words in enumerate(columns):
        if skip:
            skip = False
            continue
        if len(set(words)) == 1:
            said.append(words[0])
            continue
        bare = [word.rstrip(".,:;") for word in words]
        tail = words[0][len(bare[0]) :]
        if any(word[len(start) :] != tail for word, start in zip(words, bare, strict=True)):
            return None
        if bare == list(letters):
            said.append(f"{', '.join(bare[:-1])} or {bare[-1]}{tail}")
            continue
        if not all(re.fullmatch(r"\d+(\.\d+)?", word) for word in bare):
            return None
        unit = ""
        if not tail and number + 1 < len(columns) and {word.rstrip(".,:;") for word in columns[number + 1]} == {"mm"}:
            unit, tail, skip = " mm", columns[number + 1][0][2:], True
        of: dict[str, list[str]] = {}
        for word, letter in zip(bare, letters, strict=True):
            of.setdefault(word, []).append(letter)
        said.append(", ".join(f"{word}{unit} ({', '.join(those)})" for word, those in of.items()) + tail)
    return " ".join(said)


def steps_words(numbers: Sequence[int]) -> str:
    """`step 4` or `steps 2 to 4, 7`."""
    return f"step{'s' if len(set(numbers)) > 1 else ''} {numbers_words(numbers)}"


def machine_figures(plan: Plan, station_kind: str) -> str:
    """What the region asks of the setting of a saw or planer, in a line for whoever sets and checks it; empty if nothing. The
    sources stand on the risk assessment."""
    found: dict[str, list[str]] = {}
    for each in plan.region.figures if plan.region is not None else ():
        if each.group in ("saws", "planers") and station_kind in each.stations:
            about, _, how = each.name.rpartition(", at ")
            whose = "any country" if each.whose == "any" else each.whose
            note = f", {each.note}" if each.note else ""
            value = f"{'at ' if about else ''}{how if about else ''} {each.value} ({whose}{'' if each.own else '*'}{note})"
            found.setdefault(about or each.name, []).append(value.strip())
    return "; ".join(f"{about} {' and '.join(values)}" for about, values in found.items())


def of_a_day(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What a day brings with it, a lead and a text for each person and kind, and what the figures rest on; empty if nothing."""
    kinds = (("Noise", plan.noise), ("Vibration", plan.vibration), ("Dust", plan.dust))
    found = [
        (f"{kind}, {within_sentence(each.who)}:", f"{each.text} {each.measure}".strip())
        for kind, lines in kinds
        for each in lines
    ]
    if not found:
        return ()
    notes = [DAY_NOTE, *([DECLARED_NOTE] if any(each.text for each in plan.vibration) else [])]
    return (*found, ("", " ".join(notes)))
