"""`station verify`: the hash chain, what the facts add up to, kept files, and digests noted earlier."""

from argparse import Namespace
from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from station.bootstrap import JOURNAL_NAME
from station.cli.saying import NO, YES, complain, say
from station.journal.contents import continued_elsewhere, facts_of, read_rows
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.verify import check
from station.services.outcome import Refusal
from station.services.proof import added_up, digests_in, lost_files

MOST_BYTES = 1_000_000
NOT_PROVED = "This does not prove who wrote it. It has no key: whoever owns the file can compute the whole chain anew."
NEXT_TIME = "Note the head elsewhere and give it here with --digest next time."


def run(told: Namespace) -> int:
    """Check the record; the head of each chain is printed to be noted outside this PC."""
    path = told.data / JOURNAL_NAME
    rows = read_rows(path)
    digests = tuple(chain.from_iterable(map(_digests, told.digest)))
    found = check(rows, digests)
    for journal in found.chains:
        say(f"journal {journal.journal:016x}: {journal.rows} facts, head {journal.head}")
    facts = facts_of(rows)
    named, lost = lost_files(facts, FolderEvidence(told.data / FOLDER))
    faults = [finding.sentence for finding in found.findings]
    faults += [*continued_elsewhere(facts, rows), *added_up(facts), *lost]
    complain(faults)
    if faults:
        complain([f"The journal {path} does not hold together. Keep it as it is and call the process engineer."])
        return NO
    say(f"ok: the chain holds, {len(facts)} facts add up to the same again, {named} kept files are whole.")
    if digests:
        say(f"The record holds {_many(len(digests))} given: what was recorded up to there is as it was then.")
    say(f"{NOT_PROVED} {NEXT_TIME}")
    return YES


def _many(digests: int) -> str:
    return "the digest" if digests == 1 else f"all {digests} digests"


def _digests(given: str) -> Sequence[str]:
    """The digests in a file of this name, or the text itself. Raises Refusal for a file that has none."""
    content = _content(Path(given))
    if content is None:
        return (given,)
    found = digests_in(content)
    if not found:
        raise Refusal("no-digest", f"{given} has no digest of 64 hex digits in it. Give the file of `station digest`.")
    return found


def _content(path: Path) -> str | None:
    try:
        if not path.is_file():
            return None
        with path.open("rb") as file:
            return file.read(MOST_BYTES).decode("utf-8", "replace")
    except OSError as fault:
        if len(path.name) >= 64:  # too long for a file's name, so it is a digest
            return None
        raise Refusal("file-unread", f"{path} can't be read ({fault.strerror}). Choose it again.") from fault
