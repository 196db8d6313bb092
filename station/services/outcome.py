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


def refuse_no_room(temperature_c: float | None, humidity: float | None) -> None:
    """Refusal for air that no room has: degrees Celsius and percent, None where nothing was said of it."""
    if temperature_c is not None and not -10 <= temperature_c <= 50:
        raise Refusal("room-range", f"{temperature_c:g} C can't be a room. Give degrees Celsius from -10 to 50.")
    if humidity is not None and not 0 < humidity <= 100:
        raise Refusal("room-range", f"{humidity:g} % is no humidity. Give percent, above 0 and up to 100.")
