"""No check depends on time: a loaded machine may take as long as it likes over one example."""

from hypothesis import settings

settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")
