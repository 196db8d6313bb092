"""What is wrong with the settings: every fault with its place, its reason and how to mend it."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

LONGEST_SHOWN = 60


def printable(text: str) -> str:
    """Text of a file as one short line that can't disturb a terminal."""
    plain = "".join(character if character.isprintable() else "?" for character in text)
    return plain if len(plain) <= LONGEST_SHOWN else f"{plain[: LONGEST_SHOWN - 3]}..."


@dataclass(frozen=True, slots=True)
class SettingsFault:
    """One fault. `line` counts from 1, None where the file has no such line; `value` is as written, or empty."""

    file: str
    line: int | None
    key: str
    value: str
    reason: str
    nearest: str | None
    remedy: str

    @property
    def place(self) -> str:
        """File and line, for example "pastes.toml, line 31"."""
        return self.file if self.line is None else f"{self.file}, line {self.line}"

    @property
    def sentence(self) -> str:
        """The whole fault: where, what, why, and what to do."""
        subject = f"{self.key} = {self.value}" if self.key and self.value else self.key or self.value
        told = f"{self.place}: {subject}: {self.reason}." if subject else f"{self.place}: {self.reason}."
        meant = f' Did you mean "{self.nearest}"?' if self.nearest else ""
        return f"{told}{meant} {self.remedy}."


class SettingsRefused(Exception):
    """The settings can't be used. `faults` holds every fault of every file; nothing was taken over."""

    def __init__(self, faults: Iterable[SettingsFault]) -> None:
        """Keep the faults in the order of the files and lines."""
        self.faults = tuple(faults)
        super().__init__(" ".join(fault.sentence for fault in self.faults))


def render(faults: tuple[SettingsFault, ...], folder: Path) -> tuple[str, ...]:
    """Lines of plain text for a terminal: one that counts, one for each fault, one that says what follows."""
    count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
    return (
        f"The settings in {folder} have {count}:",
        *(f"  {fault.sentence}" for fault in faults),
        "Nothing was started. Mend them all, then check again.",
    )
