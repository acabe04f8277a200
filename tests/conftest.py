"""Settings of all tests: hypothesis without a clock, so that a slow machine fails nothing."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("partgen", deadline=None, derandomize=True, max_examples=150)
settings.load_profile("partgen")

collect_ignore = ["fuzz/dxf.py"]  # a script; its fuzzer is installed by hand
