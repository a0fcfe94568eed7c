"""Types of fields that forms of several files share."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sequencer.model.fields import Plain, Written

Text = Written
Positive = Annotated[Plain, Field(gt=0)]
NotNegative = Annotated[Plain, Field(ge=0)]
