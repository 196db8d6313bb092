"""What one reason against using paste says; which reasons there are stands in `reasons`."""

from dataclasses import dataclass

from station.care.words import Word


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason against use: its stable code, what it allows, and what to say."""

    code: str
    word: Word
    headline: str
    why: str
    todo: str
