"""The way to what several rooms' tests share, and what makes a run say the same twice, on a busy machine too."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import textual.app
import textual.pilot
from hypothesis import HealthCheck, settings

sys.path.insert(0, str(Path(__file__).parent / "shared"))

from idling import until_nothing_is_ready

if TYPE_CHECKING:
    from collections.abc import Generator

settings.register_profile("same", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("search", print_blob=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("same")  # --hypothesis-profile=search looks for new examples

for module in (textual.app, textual.pilot):
    vars(module)["wait_for_idle"] = until_nothing_is_ready

if (
    signal.getsignal(signal.SIGINT) is signal.SIG_IGN
):  # as in a shell's background job; the servers we start hear ctrl+c
    signal.signal(signal.SIGINT, signal.default_int_handler)

SKIP_NOTHING = bool(os.environ.get("COPYDESK_SKIP_NOTHING"))
"""Whether a test that is skipped fails: where everything that the tests need was installed, none has a reason to be."""


def _fail_if_skipped(report: pytest.TestReport | pytest.CollectReport) -> None:
    if SKIP_NOTHING and report.skipped and not hasattr(report, "wasxfail"):
        why = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"{report.nodeid} was skipped, which COPYDESK_SKIP_NOTHING forbids: {why}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Let a skipped test fail where nothing may be skipped."""
    report = yield
    _fail_if_skipped(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Let a file that is skipped as a whole fail likewise."""
    report = yield
    _fail_if_skipped(report)
    return report


@pytest.fixture(autouse=True)
def _state_of_its_own(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep what copydesk knows besides its books out of the account that runs the tests."""
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path_factory.mktemp("state")))
