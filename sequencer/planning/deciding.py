"""What a decision costs: the plan with it against the plan without."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.plan import Changing, Reason, Task
from sequencer.model.work import WAITS
from sequencer.planning.order import may_yield


@dataclass(frozen=True)
class Outcome:
    """What a plan comes to: its tasks, its reasons, and what changing set-ups takes."""

    tasks: tuple[Task, ...]
    reasons: tuple[Reason, ...]
    changing: Changing

    @property
    def working(self) -> float:
        """Minutes of work on one thing, by staff and student; glue and finish that dry are left out."""
        return sum(task.minutes_in_all for task in self.tasks if task.kind not in WAITS)


def cost_words(now: Outcome, without: Outcome) -> str:
    """What the difference between two outcomes is, in words: what the first costs more, and which reasons it gives up."""
    parts = [
        *_more(now.changing.minutes - without.changing.minutes, "of changing set-ups"),
        *_more(now.working - without.working, "of work on each thing"),
    ]
    kept = {(reason.before, reason.after, reason.kind) for reason in now.reasons}
    turned = {(reason.after, reason.before) for reason in now.reasons if reason.kind == "decision"}
    given_up = [
        reason.sentence
        for reason in without.reasons
        if may_yield(reason)
        and (reason.before, reason.after) in turned
        and (reason.before, reason.after, reason.kind) not in kept
    ]
    said = " and ".join(parts) or "costs no time"
    return said + "".join(f"; overrules: {sentence.rstrip('.')}" for sentence in dict.fromkeys(given_up))


def _more(minutes: float, what: str) -> list[str]:
    whole = round(abs(minutes))
    return [f"{'costs' if minutes > 0 else 'saves'} {whole} min {what}"] if whole else []
