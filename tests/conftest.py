"""What holds for every test: nothing is skipped in CI, and no example is failed for being slow."""

import os
from collections.abc import Generator

import pytest
from hypothesis import settings

# The first example of a test may have to import or compile, on a machine with other work.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skipped test into a failed one where the environment variable CI is set."""
    report = yield
    if report.skipped and os.environ.get("CI") and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid}: nothing is skipped in CI. {reason}"
    return report
