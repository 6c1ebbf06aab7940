"""A skipped test is a failure: what a machine lacks must be said, not passed over."""

import pytest


def pytest_sessionfinish(session: pytest.Session) -> None:
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    # The workers of pytest-xdist have no reporter; the session that collects their results has.
    if reporter is None or not reporter.stats.get("skipped"):
        return
    reporter.write_line("")
    reporter.write_line(f"{len(reporter.stats['skipped'])} skipped: a skip is a failure", red=True)
    session.exitstatus = pytest.ExitCode.TESTS_FAILED
