"""The command line: reads the words, calls the stages, prints plain text of at most 80 columns.

Exit codes: 0 done, 1 refused with findings, 2 unusable input or command. No traceback reaches a user.
"""

from sequencer.cli.running import main

__all__ = ["main"]
