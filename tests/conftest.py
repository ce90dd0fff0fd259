"""Settings that every test shares: how many examples a law is tried on, and that it is the same ones in CI."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# A slow machine is no fault of the code: no deadline, no complaint about slow drawing.
settings.register_profile(
    "ci",
    max_examples=200,
    deadline=None,
    derandomize=bool(os.environ.get("CI")),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("long", parent=settings.get_profile("ci"), max_examples=2000, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))
