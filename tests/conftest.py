"""Settings that every test shares."""

from hypothesis import settings

settings.register_profile("oddswap", derandomize=True, deadline=None, database=None)
settings.load_profile("oddswap")
