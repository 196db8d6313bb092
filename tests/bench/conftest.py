"""What a benchmark measured besides its time stands below the table."""

import pytest


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """One line for each thing a benchmark has told of itself."""
    session = getattr(config, "_benchmarksession", None)
    for found in getattr(session, "benchmarks", ()):
        for name, value in found.extra_info.items():
            terminalreporter.write_line(f"{found.name}: {name} {value}")
