"""What changed from one plan to another, step by step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

from sequencer.features.base import mm
from sequencer.model.plan import Plan, Step, Task
from sequencer.reading.words import listed
from sequencer.talk import step_of, wrapped


def differences_text(earlier: Plan, now: Plan) -> str:
    """The differences as plain text."""
    lines = [*_sizes(earlier, now), *differences(earlier, now)]
    lines += [*_other_cards(earlier, now, lines), *_other_lists(earlier, now)]
    if not lines:
        return wrapped("Nothing changed against the earlier plan.")
    return "\n".join([wrapped("Against the earlier plan:"), *(wrapped(f"- {line}", 0, 2) for line in lines)])


def differences(earlier: Plan, now: Plan) -> list[str]:
    """What is new, what is gone, what is done otherwise, what has moved: a sentence each, in the order of the plans."""
    was = {task.id: task for task in earlier.tasks}
    names = {task.id for task in now.tasks}
    lines = [
        f"Gone: {task.does} (it was in step {step_of(earlier, task).number})." for task in earlier.tasks if task.id not in names
    ]
    moved = _moved([task.id for task in earlier.tasks if task.id in names], [task.id for task in now.tasks if task.id in was])
    for task in now.tasks:
        step = step_of(now, task)
        number = step.number
        if task.id not in was:
            lines.append(f"New in step {number}: {task.does}.")
            continue
        old = was[task.id]
        lines += (f"Step {number}, {task.does}: {text}." for text in _otherwise(old, task))
        if task.id in moved:
            lines += _from_to(step_of(earlier, old), step, task)
    return list(dict.fromkeys(lines))


def _sizes(earlier: Plan, now: Plan) -> Iterator[str]:
    """Parts and blanks of another size or number."""
    parts = {part.name: part for part in earlier.parts}
    for part in now.parts:
        if (old := parts.get(part.name)) is not None:
            yield from _apart(
                f"Part {part.name} ({part.letter})", old, part, ("length", "width", "thickness", "count", "material")
            )
    blanks = {blank.part: blank for blank in earlier.blanks}
    for blank in now.blanks:
        if (cut := blanks.get(blank.part)) is not None:
            sizes = ("length", "width", "thickness", "yields", "pieces")
            yield from _apart(f"Blank for {blank.part} ({blank.letter})", cut, blank, sizes)
    strips = {strip.name: strip for strip in earlier.strips}
    for strip in now.strips:
        if strip.name in strips and strips[strip.name] != strip:
            yield f"The strip for {strip.name} is laid out otherwise."


def _apart(what: str, old: object, new: object, fields: Sequence[str]) -> Iterator[str]:
    """What differs between two lines of a list, one sentence for all of it."""
    pairs = [(_LINES.get(name, name), getattr(old, name), getattr(new, name)) for name in fields]
    told = [f"{word} {_shown(before)} is now {_shown(after)}" for word, before, after in pairs if before != after]
    if told:
        yield f"{what}: {listed(told)}."


def _shown(value: object) -> str:
    return f"{mm(value)} mm" if isinstance(value, float) else str(value)


def _other_cards(earlier: Plan, now: Plan, told: Sequence[str]) -> Iterator[str]:
    """Steps whose cards say something else than before, where nothing of it has been told yet."""
    was = {step.id: step for step in earlier.steps}
    for step in now.steps:
        old = was.get(step.id)
        if old is None or any(line.startswith((f"Step {step.number},", f"New in step {step.number}:")) for line in told):
            continue
        names = [_CARD[name] for name in _CARD if getattr(old, name) != getattr(step, name)]
        if names and old.tasks == step.tasks:
            yield f"Step {step.number}, {step.title}: {listed(list(dict.fromkeys(names)))} changed."


def _other_lists(earlier: Plan, now: Plan) -> Iterator[str]:
    """Lists of the sheets that are not the same as before."""
    names = [word for name, word in _LISTS.items() if getattr(earlier, name) != getattr(now, name)]
    if names:
        yield f"Not as before on the sheets: {listed(names)}."


_LINES = {"yields": "pieces out of one", "pieces": "number for the class", "count": "number"}
"""What a field of a list is called, where it is not called by its name."""
_CARD = {
    "title": "its title",
    "parts": "the number of pieces",
    "who": "who does it",
    "guards": "the guards",
    "guard_line": "the guards",
    "holding": "how the piece is held",
    "hazards": "the hazards",
    "hazard_line": "the hazards",
    "wear": "what is worn",
    "settings": "the settings",
    "instructions": "what to do",
    "method": "what to do",
    "checks": "the checks",
    "stop": "where to stop",
    "if_wrong": "what to do if it goes wrong",
    "feed": "the feed",
    "minutes": "the minutes",
    "set_up_minutes": "the minutes",
    "tools": "the tools",
    "notes": "the notes",
    "together": "how the pieces come together",
}
"""What a card prints, field by field."""
_LISTS = {
    "hardware": "bought-in things",
    "tools": "tools",
    "jigs": "jigs",
    "notes": "notes",
    "note": "the note on the job",
    "before_use": "what comes before use",
    "learning_aim": "the learning aim",
    "extension": "the tasks for those who wait or finish early",
}
"""What the sheets print besides steps, parts and blanks."""


def _from_to(before: Step, after: Step, task: Task) -> Iterator[str]:
    """Where a task has moved to; nothing where only what stands around its step has moved, which is told of that."""
    if before.number != after.number:
        yield f"Moved: {task.does}, from step {before.number} to step {after.number}."
    elif before.tasks != after.tasks and set(before.tasks) == set(after.tasks):
        yield f"Moved within step {after.number}: {task.does}."


def _otherwise(old: Task, new: Task) -> Iterator[str]:
    """How a task is done otherwise than before."""
    if (old.operation, old.station) != (new.operation, new.station):
        yield f"made by {new.operation} at {new.station}, no longer by {old.operation} at {old.station}"
        return
    if old.who != new.who:
        yield (
            f"done by {new.who.operator}, no longer by {old.who.operator}"
            if old.who.operator != new.who.operator
            else ("watched or signed off otherwise")
        )
    yield from _on_the_piece(old, new)
    before = {setting.name: setting for setting in old.settings}
    for setting in new.settings:
        text = before[setting.name].text if setting.name in before else "not set"
        if text != setting.text:
            yield f"{setting.label} {text} is now {setting.text}"
    kept = {setting.name for setting in new.settings}
    yield from (f"{setting.label} is no longer set" for setting in old.settings if setting.name not in kept)
    if mm(old.minutes) != mm(new.minutes):
        yield f"{mm(old.minutes)} min is now {mm(new.minutes)} min"


def _on_the_piece(old: Task, new: Task) -> Iterator[str]:
    """Where the same work is done on a piece of another size, is set out elsewhere, or on a piece that lies another way."""
    if old.piece != new.piece and old.piece is not None and new.piece is not None:
        before, after = (" x ".join(mm(size) for size in piece) for piece in (old.piece, new.piece))
        yield f"the piece of {before} mm is now one of {after} mm"
    was = {layout.hand: layout for layout in old.layouts}
    changed = [(was[layout.hand], layout) for layout in new.layouts if layout.hand in was]
    if any(one.marks != other.marks or one.marked != other.marked for one, other in changed):
        yield "it is set out otherwise"
    if any(one.lie != other.lie for one, other in changed):
        yield "the piece lies otherwise"


def _moved(before: list[str], after: list[str]) -> set[str]:
    """The names outside the longest runs that both orders share."""
    kept = set()
    for block in SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks():
        kept |= set(after[block.b : block.b + block.size])
    return set(after) - kept
