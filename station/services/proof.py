"""What the record says of itself, checked: what is added up, the files that facts name, the digests people noted."""

import re
from collections.abc import Iterable, Iterator

from station.care.facts import (
    Attached,
    Body,
    Delivered,
    ExcursionConfirmed,
    ExcursionFound,
    Fact,
    ReadingsImported,
    ReadingsWithdrawn,
)
from station.care.ledger import Ledger
from station.services.ports import Evidence, JournalTrouble

# Fields that name kept files; "" names none. What else has a digest keeps no file: a specification stands in its
# fact whole, and of imported stock and of measured runs only the digest is recorded.
NAMING: tuple[tuple[type, str], ...] = (
    (Attached, "digest"),
    (Delivered, "digests"),
    (ReadingsImported, "digest"),
    (ReadingsImported, "series"),
    (ReadingsWithdrawn, "digest"),
    (ReadingsWithdrawn, "series"),
    (ExcursionFound, "readings"),
    (ExcursionConfirmed, "readings"),
)
_WHOLE_DIGEST = re.compile(r"(?<![0-9A-Za-z])[0-9A-Fa-f]{64}(?![0-9A-Za-z])")


def added_up(facts: Iterable[Fact]) -> Iterator[str]:
    """Fold the facts, which come in fold order; a sentence for each thing that stands otherwise when added up anew."""
    ledger = Ledger()
    for fact in facts:
        ledger.apply(fact)
    for kind, name in ledger.added_up_again():
        yield f"The {kind} {name} stands otherwise when its facts are added up again."


def files_named(body: Body) -> tuple[str, ...]:
    """The digests of the kept files a fact names."""
    found: list[str] = []
    for kind, field in NAMING:
        if isinstance(body, kind):
            told = getattr(body, field)
            found += [told] if isinstance(told, str) else told
    return tuple(digest for digest in found if digest)


def lost_files(facts: Iterable[Fact], evidence: Evidence) -> tuple[int, tuple[str, ...]]:
    """How many kept files the facts name, and a sentence for each that is not there as it was kept."""
    named: dict[str, str] = {}
    for fact in facts:
        for digest in files_named(fact.body):
            named.setdefault(digest, fact.key)
    return len(named), tuple(_lost(named, evidence))


def _lost(named: dict[str, str], evidence: Evidence) -> Iterator[str]:
    for digest, key in named.items():
        try:
            evidence.fetch(digest)
        except JournalTrouble as trouble:
            yield f"Fact {key} names a file: {trouble.sentence}"


def digests_in(text: str) -> tuple[str, ...]:
    """Every whole digest (64 hex digits) in a text somebody kept, each once, in small letters."""
    return tuple(dict.fromkeys(found.lower() for found in _WHOLE_DIGEST.findall(text)))
