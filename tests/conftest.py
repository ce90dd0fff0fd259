"""Settings that every test shares: how many examples a law is tried on, and that it is the same ones in CI; and a
Ctrl-C that is heard."""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Generator

import pytest
from hypothesis import HealthCheck, settings

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:  # as a shell starts what runs in the background
    signal.signal(signal.SIGINT, signal.default_int_handler)  # what a parent ignores its children ignore, too

if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):  # else every program that is started compiles all of it anew
    sys.dont_write_bytecode = False


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """What is made while tests are found is there to stay: no garbage is looked for meanwhile, and none among it
    later."""
    gc.disable()
    found = yield
    gc.freeze()
    gc.enable()
    return found


# A slow machine is no fault of the code: no deadline, no complaint about slow drawing.
settings.register_profile(
    "ci",
    max_examples=70,
    deadline=None,
    derandomize=bool(os.environ.get("CI")),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("long", parent=settings.get_profile("ci"), max_examples=2000, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))
