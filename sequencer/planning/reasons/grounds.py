"""What reasons rest on: sources and harms that are named in more than one place."""

from __future__ import annotations

TRADE = "common practice"
GRIT = "Grit that abrasives leave in the wood takes the edge off the next tool."
WET = "A joint that is moved before the glue has set opens and does not hold."
AS_FITTED = "Faces are cleaned after the dry fit, so that joints stay as they were fitted."
NOT_FITTED = "What cleaning takes off is missing where the joint was fitted."
