"""Runs one command: its words become a call, what is wrong becomes plain text and an exit code. No traceback reaches a user."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from io import TextIOWrapper

from sequencer.cli.saying import DONE, REFUSED, UNUSABLE
from sequencer.cli.words import make_parser
from sequencer.findings import Refused, Unusable
from sequencer.talk import findings_text, wrapped


def main(words: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code."""
    # A run is short and most of what it makes stays: looking for what could be thrown away is put off.
    gc.set_threshold(100_000, 50, 100)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A console that lacks a letter of a name shows a mark in its place.
            stream.reconfigure(errors="replace")
    try:
        given = make_parser().parse_args(words)
        code: int = given.run(given)
        sys.stdout.flush()
        return code
    except Unusable as error:
        sys.stderr.write(findings_text(error.findings) + "\n")
        return UNUSABLE
    except Refused as error:
        sys.stderr.write(findings_text(error.findings) + "\n" + wrapped("No plan was made.") + "\n")
        return REFUSED
    except BrokenPipeError:
        # The reader of a pipe went away (`| head`): nothing is lost, and Python must not complain at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except (FileExistsError, NotADirectoryError) as error:
        sys.stderr.write(wrapped(f"{error.filename} is a file, and a folder is needed there. Name another folder.") + "\n")
        return UNUSABLE
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        sys.stderr.write(wrapped(f"{where}{error.strerror or error}. Check the path and that you may write there.") + "\n")
        return UNUSABLE
    except KeyboardInterrupt:
        sys.stderr.write("Stopped. No sheet was left half written.\n")
        return UNUSABLE
    except Exception as error:
        sys.stderr.write(
            wrapped(
                f"This is a fault of the tool, not of your files: {type(error).__name__}: {error}. Nothing of yours was "
                "changed. Please report it with the job and workshop file."
            )
            + "\n"
        )
        return UNUSABLE
