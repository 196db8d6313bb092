"""`station verify`: computes the journal's hash chain again, and looks for digests noted earlier."""

from argparse import Namespace

from station.bootstrap import JOURNAL_NAME
from station.cli.saying import NO, YES, complain, say
from station.journal.verify import verify


def run(told: Namespace) -> int:
    """Check the journal; the head of each chain is printed to be noted outside this PC."""
    path = told.data / JOURNAL_NAME
    found = verify(path, told.digest)
    for chain in found.chains:
        say(f"journal {chain.journal:016x}: {chain.rows} facts, head {chain.head}")
    complain(finding.sentence for finding in found.findings)
    if not found.ok:
        complain([f"The journal {path} does not hold together. Keep it as it is and call the process engineer."])
        return NO
    say("ok: the chain holds. It has no key: note the head elsewhere and give it here with --digest next time.")
    return YES
