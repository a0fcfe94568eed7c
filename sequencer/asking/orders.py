"""Answers about the order of a plan: why one piece of work comes before another, why one stands where it does, what another
order would cost. Plain text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from sequencer.asking.naming import called, sentence, sets_up
from sequencer.findings import Refused
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.plan import Plan, Reason, Step, Task
from sequencer.planning.changing import SECONDS, SetUp, set_ups_of
from sequencer.planning.order import Arranged, Orderable, chain_between, chosen_between, put_in_order, reason_graph
from sequencer.reading.words import listed
from sequencer.talk import step_of, tasks_named, wrapped

HALF_A_MINUTE = 0.5
"""Less changing than this is none."""


def why_before(plan: Plan, knowledge: Knowledge, first: str, second: str) -> str:
    """Why one comes before the other: the chain of reasons; or that nothing demands it, and what the other way round costs."""
    one, other = tasks_named(plan, first), tasks_named(plan, second)
    if told := dict.fromkeys((*sets_up(plan, first), *sets_up(plan, second))):
        rest = () if one == other else ("", _why_before(plan, knowledge, first, second))
        return "\n".join([*map(wrapped, told), *rest])
    return _why_before(plan, knowledge, first, second)


def _why_before(plan: Plan, knowledge: Knowledge, first: str, second: str) -> str:
    graph = reason_graph([task.id for task in plan.tasks], plan.reasons)
    one, other = tasks_named(plan, first), tasks_named(plan, second)
    if one == other:
        return wrapped(f"{first} and {second} mean the same work: nothing orders it.")
    for before, after in ((one, other), (other, one)):
        chains = [chain for a in before for b in after if a.id != b.id for chain in [chain_between(graph, a.id, b.id)] if chain]
        if chains:
            shortest = min(chains, key=len)
            by_id = {task.id: called(plan, [task]) for task in plan.tasks}
            head = wrapped(f"{sentence(by_id[shortest[0].before])} must come before {by_id[shortest[-1].after]}:")
            return "\n".join([head, *(line for reason in shortest for line in reason_in_full(reason, by_id))])
    for before, after in ((one, other), (other, one)):
        for first_task in before:
            for second_task in after:
                chosen = chosen_between(graph, first_task.id, second_task.id)
                choice = next((reason for reason in chosen if reason.kind == "choice"), None)
                if choice:
                    return wrapped(
                        f"Nothing demands that {called(plan, [first_task])} comes before {called(plan, [second_task])}; the plan "
                        "chose it. "
                        f"{choice.sentence}"
                    )
    steps = {step_of(plan, task).number for task in (*one, *other)}
    if len(steps) == 1:
        return wrapped(f"{first} and {second} are done in the same step {min(steps)}: nothing orders them.")
    earlier, later = sorted((one, other), key=lambda tasks: step_of(plan, tasks[0]).number)
    return wrapped(
        f"Nothing demands an order between {called(plan, earlier)} and {called(plan, later)}. "
        f"{_saved(plan, knowledge, earlier, later)}"
    )


def why_here(plan: Plan, knowledge: Knowledge, name: str) -> str:
    """Why a piece of work stands where it does: what it waits for, what waits for it, where else it could stand, and what that
    would cost."""
    tasks = tasks_named(plan, name)
    steps = list(dict.fromkeys(step_of(plan, task).number for task in tasks))
    blocks = [wrapped(text) for text in sets_up(plan, name)]
    blocks += [_why_step(plan, knowledge, next(step for step in plan.steps if step.number == number)) for number in steps]
    return "\n\n".join(blocks)


def _why_step(plan: Plan, knowledge: Knowledge, step: Step) -> str:
    demands = [reason for reason in plan.reasons if reason.kind != "choice"]
    graph = reason_graph([task.id for task in plan.tasks], demands)
    own = set(step.tasks)
    at = {task.id: step_of(plan, task) for task in plan.tasks}
    into = [reason for reason in demands if reason.after in own and reason.before not in own]
    out = [reason for reason in demands if reason.before in own and reason.after not in own]
    lines = [wrapped(f"Step {step.number}, {step.title}")]
    lines += _listed(
        "It waits for:", ((at[each.before], each) for each in _nearest(into, graph, own, into=True)), last_first=True
    )
    lines += _listed("For it wait:", ((at[each.after], each) for each in _nearest(out, graph, own, into=False)), last_first=False)
    chosen = [reason for reason in plan.reasons if reason.kind == "choice" and (reason.after in own) != (reason.before in own)]
    if chosen:
        others = ((at[each.before if each.after in own else each.after], each) for each in chosen)
        lines += _listed("The plan itself chose its place towards:", others, last_first=False)
    first = max((at[each.before].number for each in into), default=0) + 1
    last = min((at[each.after].number for each in out), default=len(plan.steps) + 1) - 1
    near = max((first, *(at[each.before].number + 1 for each in chosen if each.after in own)))
    far = min((last, *(at[each.after].number - 1 for each in chosen if each.before in own)))
    extra = _extra_elsewhere(plan, knowledge, step, near, far)
    if not extra and (near, far) == (first, last):
        lines.append(wrapped(f"So it cannot stand anywhere else than {_between(plan, first, last)}."))
        return "\n".join(lines)
    said = f"So it could stand anywhere {_between(plan, first, last)}"
    if (near, far) != (first, last):
        said += f"; as the plan chose, {_between(plan, near, far)}"
    lines.append(wrapped(f"{said}. {_why_just_here(plan, step, extra)}"))
    return "\n".join(lines)


def _between(plan: Plan, first: int, last: int) -> str:
    after = f"step {first - 1}" if first > 1 else "the very beginning"
    return f"between {after} and {f'step {last + 1}' if last < len(plan.steps) else 'the very end'}"


def _why_just_here(plan: Plan, step: Step, extra: Sequence[float]) -> str:
    """What any other place between two steps would cost in changing, `extra` minutes each, and beside which step it stands that
    is done at the same station."""
    if not extra:
        return "No other step lies between."
    beside = _beside(plan, step)
    with_it = f"It stands beside {beside}, at the same station. " if beside else ""
    least, most = min(extra), max(extra)
    if least >= HALF_A_MINUTE:
        saved = f"{least:.0f}" if f"{least:.0f}" == f"{most:.0f}" else f"{least:.0f} to {most:.0f}"
        return f"{with_it}At any other place between, changing set-ups would take {saved} min more."
    usual = (
        "what staff do comes before the lessons where it can"
        if step.who.operator == "staff"
        else "the usual one of a workshop is taken"
    )
    if least <= -HALF_A_MINUTE:
        return (
            f"{with_it}At another place between, changing set-ups would take {-least:.0f} min less: a decision can put it there."
        )
    if most < HALF_A_MINUTE:
        return f"No other place between costs more or less changing of set-ups: {usual}."
    return (
        f"{with_it}Some of the other places between would cost as little changing, some up to {most:.0f} min more: of the "
        f"cheapest, {usual}."
    )


def _beside(plan: Plan, step: Step) -> str:
    """The step just before or after at the same station, if there is one."""
    done = [each for each in plan.steps if each.kind in ("work", "wait")]
    place = done.index(step)
    if step.kind == "wait":
        return ""
    for other in (*done[max(place - 1, 0) : place], *done[place + 1 : place + 2]):
        if other.station == step.station and other.kind == "work":
            return called(plan, [task for task in plan.tasks if task.id in other.tasks])
    return ""


def _extra_elsewhere(plan: Plan, knowledge: Knowledge, step: Step, first: int, last: int) -> list[float]:
    """Minutes of changing more than now, for each other place of a step between two numbers, all else staying as it is."""
    set_ups = set_ups_of(plan.tasks, knowledge)
    done = [each for each in plan.steps if each.kind in ("work", "wait")]
    here = done.index(step)
    mounted = [set_ups[next(task.set_up for task in plan.tasks if task.id == each.tasks[0])] for each in done]

    def minutes(order: Sequence[SetUp]) -> float:
        return sum(one.after(before) for before, one in zip((None, *order), order, strict=False)) / SECONDS

    now, rest = minutes(mounted), [*mounted[:here], *mounted[here + 1 :]]
    between = [place for place, each in enumerate(done) if place != here and first <= each.number <= last]
    return [minutes([*rest[:place], mounted[here], *rest[place:]]) - now for place in between]


def _listed(head: str, found: Iterable[tuple[Step, Reason]], *, last_first: bool) -> list[str]:
    """The reasons by step, each step once with all that is said of it; one line for several of which the same is said."""
    of_step: dict[int, tuple[Step, list[str]]] = {}
    for step, reason in found:
        sentences = of_step.setdefault(step.number, (step, []))[1]
        sentences += [reason.sentence] if reason.sentence not in sentences else []
    said: dict[str, list[Step]] = {}
    for number in sorted(of_step, reverse=last_first):
        step, sentences = of_step[number]
        said.setdefault(" ".join(sorted(sentences)), []).append(step)
    rows = [f"{_steps_named(steps)}: {sentences}" for sentences, steps in said.items()]
    return [wrapped(head if rows else f"{head[:-1]} nothing."), *(wrapped(row, 2, 4) for row in rows)]


def _steps_named(steps: Sequence[Step]) -> str:
    """A step with its title, or several by their numbers."""
    if len(steps) == 1:
        return f"step {steps[0].number}, {steps[0].title}"
    return f"steps {listed([str(number) for number in sorted(step.number for step in steps)])}"


def _nearest(reasons: Sequence[Reason], graph: object, own: set[str], *, into: bool) -> Iterator[Reason]:
    """The reasons whose other task is not itself waited for by another of them: what follows from others is left out."""
    import networkx as nx

    assert isinstance(graph, nx.DiGraph)
    others = {reason.before if into else reason.after for reason in reasons}
    for reason in reasons:
        name = reason.before if into else reason.after
        reach = nx.descendants(graph, name) if into else nx.ancestors(graph, name)
        if not (reach & others - own):
            yield reason


def reason_in_full(reason: Reason, by_id: Mapping[str, str]) -> Iterator[str]:
    """The lines of a reason: which work comes before which, why, what happens otherwise, the source. `by_id`: how each task is
    called."""
    yield wrapped(f"{by_id[reason.before]} before {by_id[reason.after]} [{reason.kind}]: {reason.sentence}", 2, 2)
    if reason.harm:
        yield wrapped(f"otherwise: {reason.harm}", 4, 2)
    yield wrapped(f"source: {reason.source}", 4, 2)


def _saved(plan: Plan, knowledge: Knowledge, early: Sequence[Task], late: Sequence[Task]) -> str:
    """What the order of two that nothing orders saves."""
    several = any(len({step_of(plan, task).number for task in tasks}) > 1 for tasks in (early, late))
    other = f"to have all of {called(plan, late)} before all of {called(plan, early)}" if several else "the other way round"
    turned = _turned_round(plan, knowledge, early, late)
    if turned is None or plan.changing is None:
        return f"Other reasons do not allow {other}." if several else "Other reasons stand against the other way round."
    more = turned.changing.minutes - plan.changing.minutes
    if more < HALF_A_MINUTE:
        staff_first = early[0].who.operator == "staff" and late[0].who.operator == "student"
        usual = "what staff do comes before the lessons where it can" if staff_first else "the usual one of a workshop is taken"
        return f"{sentence(other)} takes no longer: of orders that change as little, {usual}. A decision may swap them."
    again = _set_up_again(plan, turned)
    for_ = f": {' and '.join(again)} would have to be set up once more" if again else ", going to and fro between stations"
    return f"It saves changing: {other} takes {more:.0f} min more{for_}. A decision may swap them."


def _turned_round(plan: Plan, knowledge: Knowledge, early: Sequence[Task], late: Sequence[Task]) -> Arranged | None:
    """The plan's order with the late before the early; None if the reasons do not allow it."""
    set_ups = set_ups_of(plan.tasks, knowledge)
    orderable = [Orderable(task.id, set_ups[task.set_up], False, 0.0, number) for number, task in enumerate(plan.tasks)]
    forced = [Reason(b.id, a.id, "decision", "Asked for.") for a in early for b in late if a.id != b.id]
    try:
        return put_in_order(orderable, [*plan.reasons, *forced])
    except Refused:
        return None


def _set_up_again(plan: Plan, turned: Arranged) -> list[str]:
    """The titles of the steps whose set-up another order mounts more often."""
    by_id = {task.id: task for task in plan.tasks}
    now = _mounted(task.set_up for task in plan.tasks)
    then = _mounted(by_id[name].set_up for name in turned.order)
    more = [set_up for set_up in now if then[set_up] > now[set_up]]
    return [f"'{step_of(plan, next(task for task in plan.tasks if task.set_up == set_up)).title}'" for set_up in more[:3]]


def _mounted(set_ups: Iterable[str]) -> Counter[str]:
    """How often each set-up is mounted."""
    return Counter(set_up for set_up, _ in groupby(set_ups))
