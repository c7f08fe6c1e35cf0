"""For all rooms: one hypothesis profile, and no silent skips in CI."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

# No deadline: speed is shown by benchmarks. Derandomised, so that every run judges the same cases.
settings.register_profile("house", deadline=None, derandomize=True)
settings.load_profile("house")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> object:
    """A skipped test is no pass: in CI it fails, with the reason it was skipped for."""
    report = yield
    excused = hasattr(report, "wasxfail") or item.get_closest_marker("extra") is not None
    if os.environ.get("CI") and report.skipped and not excused:
        report.outcome = "failed"
        report.longrepr = f"skipped in CI: {report.longrepr}"
    return report
