"""What came of something a person did: the verdict, the facts that are on disk, and what changed."""

from dataclasses import dataclass

from station.care.facts import Fact
from station.care.ledger import Subject
from station.care.verdict import Verdict


@dataclass(frozen=True, slots=True)
class Outcome:
    """One finished act. `trouble` is what failed after the facts were safe, such as a label not sent."""

    verdict: Verdict | None
    facts: tuple[Fact, ...] = ()
    changed: tuple[Subject, ...] = ()
    place: str | None = None
    trouble: str = ""


class Refusal(Exception):
    """The person can mend it; the sentence says how. Nothing was recorded."""

    def __init__(self, code: str, sentence: str) -> None:
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
