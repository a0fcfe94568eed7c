"""The forms of the knowledge files, by subject. Frozen dataclasses, read by pydantic, unknown keys refused.

Every `source` is a sentence: a citation, or one that starts with "common practice" or "from memory". What is from memory
prints with "check locally".
"""
