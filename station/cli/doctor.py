"""`station doctor`: looks at everything the station needs on this PC and says of each whether it is right."""

from argparse import Namespace
from collections.abc import Iterator

from station.cli.findings import Finding
from station.cli.findings_data import data_findings
from station.cli.findings_pc import pc_findings, scanner_findings
from station.cli.findings_settings import settings_findings
from station.cli.saying import NO, YES, say


def run(told: Namespace) -> int:
    """One line for each check; any FAIL is the answer "no"."""
    failed = 0
    for finding in _all(told):
        say(finding.line)
        failed += finding.ok is False
    say(f"{failed} of these must be mended." if failed else "Nothing to mend.")
    return NO if failed else YES


def _all(told: Namespace) -> Iterator[Finding]:
    yield from pc_findings()
    yield from scanner_findings(told.config)
    yield from settings_findings(told.config)
    yield from data_findings(told.data)
