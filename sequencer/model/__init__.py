"""The nouns: job, part, feature shapes, joint, stock, workshop, task, step, plan. Frozen dataclasses, no behaviour of
the trade, no files."""
