"""A maker's label that is known for one and can still not be read."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Damaged:
    """`sentence` says what is wrong with the label, `mend` how to go on."""

    sentence: str
    mend: str = "Scan it again, the whole code in the light. If it fails again, type what stands beside the code."


class DamagedLabel(Exception):
    """Raised where reading ends; `damaged` says why."""

    def __init__(self, sentence: str, mend: str | None = None) -> None:
        super().__init__(sentence)
        self.damaged = Damaged(sentence) if mend is None else Damaged(sentence, mend)
