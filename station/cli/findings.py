"""One line of the doctor's answer."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Finding:
    """What was looked at and how it stands. `ok` is None where it could not be looked at."""

    ok: bool | None
    what: str
    sentence: str

    @property
    def line(self) -> str:
        """Mark, what was looked at, and the sentence."""
        mark = {True: "ok  ", False: "FAIL", None: "--  "}[self.ok]
        return f"{mark}  {self.what}: {self.sentence}"
