"""For all tests: as in a run of the command line, looking for what could be thrown away is put off; and no test fails because
the machine was slow."""

import gc

from hypothesis import settings

gc.set_threshold(100_000, 50, 100)
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
