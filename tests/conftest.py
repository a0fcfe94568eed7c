"""For all tests: as in a run of the command line, looking for what could be thrown away is put off."""

import gc

gc.set_threshold(100_000, 50, 100)
