"""`python -m sequencer` is the same as `sequencer`."""

import sys

from sequencer.cli import main

if __name__ == "__main__":
    sys.exit(main())
