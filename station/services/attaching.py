"""Files kept as proof: stored first by their content, then named in the facts of the act they prove."""

from collections.abc import Sequence
from dataclasses import dataclass

from station.care import facts as f
from station.services.ports import Evidence


@dataclass(frozen=True, slots=True)
class Enclosed:
    """A file as a person chose it: what it is called and what is in it."""

    name: str
    content: bytes


def attached(
    evidence: Evidence, about: str, what: str, files: Sequence[Enclosed], note: str = ""
) -> tuple[f.Attached, ...]:
    """Keep files; the facts that name them, about a subject such as `lot:SN-4/A15`. Raises JournalTrouble."""
    return tuple(
        f.Attached(about, what, file.name, evidence.keep(file.content), len(file.content), note) for file in files
    )
