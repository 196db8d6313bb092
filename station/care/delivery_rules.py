"""What a site makes of the look of a delivery: nothing, a warning, or a hold."""

from dataclasses import dataclass
from enum import StrEnum


class Consequence(StrEnum):
    """What an answer at the dock comes to."""

    LOG = "log"
    WARN = "warn"
    HOLD = "hold"


class Packs(StrEnum):
    """How the cold packs in the box were found."""

    FROZEN = "frozen"
    MELTED = "melted"
    NONE = "none"
    NOT_SAID = ""


class Box(StrEnum):
    """How the box looked."""

    SOUND = "sound"
    DAMAGED = "damaged"
    WET = "wet"
    NOT_SAID = ""


@dataclass(frozen=True, slots=True)
class DeliveryRules:
    """The site's choices. A damaged box holds unless the site says less; these values are common practice, no source.

    A tripped temperature indicator, a measured temperature outside its limits and a leaking container always hold.
    """

    box_damaged: Consequence = Consequence.HOLD
    box_wet: Consequence = Consequence.WARN
    packs_melted: Consequence = Consequence.WARN
    packs_missing: Consequence = Consequence.WARN
