"""What holds for every test: a skip is a failure, and figures measured are printed at the end."""

import pytest


def pytest_sessionfinish(session: pytest.Session) -> None:
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    # The workers of pytest-xdist have no reporter; the session that collects their results has.
    if reporter is None or not reporter.stats.get("skipped"):
        return
    reporter.write_line("")
    reporter.write_line(f"{len(reporter.stats['skipped'])} skipped: a skip is a failure", red=True)
    session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    for outcome in ("passed", "failed"):
        for report in terminalreporter.getreports(outcome):
            for name, told in report.user_properties:
                if name == "report" and report.when == "call":
                    terminalreporter.write_line(f"measured: {told}")
