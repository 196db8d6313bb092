"""A state to ask about: its name, and the script that brings it about."""

from dataclasses import dataclass

from station.care.scans import SeenLabel
from station.care.specification import Rules
from station.rehearsal.answers.plant import RULES, SAME


@dataclass(frozen=True, slots=True)
class State:
    """A state by its short name, what part of a life it belongs to, and its script; `it` is the container asked about.

    `meaning` says what the name alone does not. `label` is that of a container with no record here. `ahead` are the
    minutes by which the clock of another station is ahead, where the script is played on that one; `hears_only_it`:
    this station then hears of nothing but the container. `kind` is asked for where it is no jar (at a dispenser: no
    cartridge).
    """

    name: str
    of: str
    lines: tuple[str, ...] = ()
    meaning: str = ""
    paste: str = SAME
    kind: str = ""
    rules: Rules = RULES
    label: SeenLabel | None = None
    ahead: int | None = None
    hears_only_it: bool = False


H = 60
"""Scripts are told in minutes before the moment."""


def received(alias: str = "it", told: str = "", before: int = 30) -> tuple[str, ...]:
    """It came to the dock so long before."""
    return (f"{before}m !receive {alias} {told}",)


def cold(alias: str = "it", told: str = "", door: str = "FRIDGE") -> tuple[str, ...]:
    """It has lain in its store for days."""
    return f"15d !receive {alias} {told}", f"14d23h {door} {alias}"


def out(alias: str = "it", before: int = 6 * H, told: str = "") -> tuple[str, ...]:
    """It was taken out of the cold so long before."""
    return *cold(alias, told), f"{before}m FRIDGE {alias}"


def opened(alias: str = "it", before: int = 1 * H, told: str = "") -> tuple[str, ...]:
    """It was opened at line 3 so long before, looked good, and feeds nothing."""
    return (
        *out(alias, before + 6 * H, told),
        f"{before}m LINE3 {alias} LOOKS-GOOD",
        f"{before - 2}m LINE3 tag:3 REMOVE CLEANED",
    )
