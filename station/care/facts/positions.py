"""Facts about a stencil position, an enclosed head or a dispenser, and the paste in it."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import ClassVar

from station.care.words import Limit


@dataclass(frozen=True, slots=True)
class PositionSetUp:
    """A position was set up for a work order, with the pastes approved for it."""

    NAME: ClassVar[str] = "position-set-up"
    position: str
    work_order: str
    product: str
    pastes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Loaded:
    """Paste of a container went on a position. When `starts`, this fact begins the bead and names it.

    `by_label`: judged from a label alone, by a station that had no record of the container. `spent` is the time
    its paste had lain on stencils before, if it is used paste; `life` the whole life `stencil_end` was made with."""

    NAME: ClassVar[str] = "loaded"
    container: str
    position: str
    paste: str
    lot: str
    work_order: str | None
    starts: bool
    stencil_end: datetime
    limits: tuple[tuple[Limit, datetime], ...]
    restart: bool
    by_label: bool = False
    spent: timedelta = timedelta(0)
    life: timedelta | None = None


@dataclass(frozen=True, slots=True)
class CarriedOver:
    """The bead was kept for a new job or stencil; its clock goes on."""

    NAME: ClassVar[str] = "carried-over"
    position: str
    bead: str
    work_order: str | None


@dataclass(frozen=True, slots=True)
class Removed:
    """The bead was scraped off. `replaced_earlier` says the person only told us later."""

    NAME: ClassVar[str] = "removed"
    position: str
    bead: str
    replaced_earlier: bool


@dataclass(frozen=True, slots=True)
class Cleaned:
    """Stencil, blades and tools were cleaned."""

    NAME: ClassVar[str] = "cleaned"
    position: str


@dataclass(frozen=True, slots=True)
class Paused:
    """Printing paused with the bead on the stencil."""

    NAME: ClassVar[str] = "paused"
    position: str
    bead: str


@dataclass(frozen=True, slots=True)
class Resumed:
    """Printing went on. `replace` when the pause was so long that the bead may not be used."""

    NAME: ClassVar[str] = "resumed"
    position: str
    bead: str
    knead: bool
    replace: bool


@dataclass(frozen=True, slots=True)
class SameBead:
    """A person confirmed that the bead is still the same one."""

    NAME: ClassVar[str] = "same-bead"
    position: str
    bead: str


@dataclass(frozen=True, slots=True)
class BeadLifeApplied:
    """A tighter version was put in force for a bead: its own life, nothing where the version forbids its holder."""

    NAME: ClassVar[str] = "bead-life-applied"
    position: str
    bead: str
    specification: str
    life: timedelta


@dataclass(frozen=True, slots=True)
class Mounted:
    """A cartridge or syringe was mounted in a dispenser; it feeds the position until it is dismounted."""

    NAME: ClassVar[str] = "mounted"
    container: str
    position: str
    paste: str
    work_order: str | None


@dataclass(frozen=True, slots=True)
class Dismounted:
    """It was taken off the dispenser. `mount` names the fact that mounted it."""

    NAME: ClassVar[str] = "dismounted"
    container: str
    position: str
    mount: str
