"""Facts about a delivery: what one truck brought to the dock, and how it looked."""

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Delivered:
    """One delivery, of one or more lots. Its containers are received in facts of their own that name it.

    `arrived_at` is when it stood at the dock, the temperature is in degrees Celsius. `packs` and `box` are answers in
    words, "" where nobody said. `days_under_way` is the carrier's time, None where nobody said. `digests` are the
    files of loggers that lay in the box; `warned` says each reason that was shown as a warning and holds nothing.
    """

    NAME: ClassVar[str] = "delivered"
    delivery: str
    arrived_at: datetime
    temperature_c: float | None
    temperature_answer: str
    packs: str
    box: str
    days_under_way: int | None
    logger_in_box: bool
    digests: tuple[str, ...]
    warned: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DeliveryCorrected:
    """What was said of a whole delivery, as it should have been said; `fact` names what is corrected, in whose words.

    The receipts of its containers are corrected by facts of their own, written together with this one."""

    NAME: ClassVar[str] = "delivery-corrected"
    delivery: str
    fact: str
    temperature_c: float | None
    temperature_answer: str
    packs: str
    box: str
    warned: tuple[str, ...]
    reason: str
