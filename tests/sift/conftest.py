"""Figures that a test measures are printed at the end of the run, whatever runs it."""

import pytest


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    for report in terminalreporter.getreports("passed"):
        for name, told in report.user_properties:
            if name == "report" and report.when == "call":
                terminalreporter.write_line(f"measured: {told}")
