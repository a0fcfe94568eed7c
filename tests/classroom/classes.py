"""Classes planned once for many tests."""

from __future__ import annotations

from dataclasses import replace

from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.model.class_plan import ClassPlan
from tests import made


@made.once
def the_class(job: str = "picture-frame", workshop: str = "well-equipped", students: int = 12) -> Class:
    """An example job in an example workshop."""
    return Class(made.plan(job, workshop), made.job(job), replace(made.workshop(workshop), students=students), made.knowledge())


@made.once
def class_planned(job: str = "picture-frame", workshop: str = "well-equipped", students: int = 12) -> ClassPlan:
    """Its plan of lessons, looked for with little effort."""
    return make_class_plan(the_class(job, workshop, students), effort=0.07, solve=False)
