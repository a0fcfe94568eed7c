"""Plain text of a class plan for the terminal: how many lessons, what holds them up, what would help, and a line a lesson."""

from __future__ import annotations

from sequencer.model.class_plan import NO_TIMETABLE, ClassPlan, Session
from sequencer.reading.words import so_many
from sequencer.talk import findings_text, wrapped


def class_plan_text(plan: ClassPlan) -> str:
    """The class plan in short."""
    seats = len(plan.seats)
    who = f"{so_many(seats, 'pair')} of students" if plan.pairs else so_many(seats, "student")
    count = len(plan.lessons)
    least = "fewer" if plan.least >= count else f"fewer than {plan.least}"
    proved = f"No plan in whole slots that sets each machine once for a step takes {least}."
    lines = [
        wrapped(f"{plan.job}: {so_many(count, 'lesson')} of {plan.lesson:g} minutes for {who}. {proved}"),
        "",
        wrapped(_course(plan)),
        "",
    ]
    lines += ["What holds it up:", *(wrapped(f"- {each.says}", 2, 2) for each in plan.bottlenecks), ""]
    if plan.remedies:
        lines.append("What would help:")
        lines += [
            wrapped(f"- {each.change}: {so_many(each.lessons, 'lesson')}, {each.saves} fewer (not under {each.least}).", 2, 2)
            for each in plan.remedies
        ]
        lines.append("")
    if plan.in_vain:
        lines += [wrapped(f"Tried, and no lesson fewer was found: {'; '.join(plan.in_vain)}."), ""]
    stated = not any(each.code == NO_TIMETABLE for each in plan.findings)
    lines += [f"lesson  {'when              ' if stated else ''}what", *(_lesson(each, plan, stated) for each in plan.lessons)]
    staff = sum(span.stop - span.start for job in plan.staff_jobs for span in job.spans)
    if staff:
        lines += ["", wrapped(f"Staff: {so_many(len(plan.staff_jobs), 'job')}, {so_many(staff, 'minute')} of an adult.")]
    if plan.findings:
        lines += ["", findings_text(plan.findings)]
    return "\n".join(lines)


def _course(plan: ClassPlan) -> str:
    """How the class gets done: when half of it is, when nearly all, and how much of the time is waited."""
    half, most = plan.done_by(0.5), plan.done_by(0.9)
    waited = f"{round(100 * plan.waiting)} % of the time at work is waiting, or after a student has finished."
    if min(plan.done) == max(plan.done):
        return f"All get done in lesson {half}. {waited}"
    return f"Half of the class is done by lesson {half}, nine in ten by lesson {most}. {waited}"


def when(session: Session) -> str:
    """Day and time of a lesson, as far as they are known."""
    return f"{session.day.strftime('%a %d %b %Y')} {session.clock}" if session.day else ""


def _lesson(session: Session, plan: ClassPlan, stated: bool) -> str:
    seats: dict[str, set[str]] = {}
    for stint in plan.stints:
        if any(span.session == session.number for span in stint.spans):
            name = stint.place.rpartition(" ")[0] or stint.place
            seats.setdefault(f"{name}, shown" if stint.kind == "demonstration" else name, set()).update(stint.seats)
    busiest = sorted(seats.items(), key=lambda each: -len(each[1]))
    what = ", ".join(f"{name} ({len(there)})" for name, there in busiest)
    return wrapped(f"{session.number:>6}  {f'{when(session):<16}  ' if stated else ''}{what}", 0, 26 if stated else 8)
