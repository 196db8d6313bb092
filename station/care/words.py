"""The trade's words as closed sets. Their values are what is stored, printed and shown, so they never change."""

from enum import StrEnum


class Alloy(StrEnum):
    """Alloy family of a paste, by its usual short name; NONE is flux or adhesive."""

    SN_AG_CU = "Sn-Ag-Cu"
    SN_PB = "Sn-Pb"
    SN_BI = "Sn-Bi"
    NONE = "none"

    @property
    def leaded(self) -> bool:
        """True for the family that contains lead."""
        return self is Alloy.SN_PB

    @property
    def shout(self) -> str:
        """How labels and screens name the family where mixing it up would hurt."""
        named = {Alloy.SN_PB: "LEADED (Pb)", Alloy.SN_BI: "BISMUTH (Sn-Bi)", Alloy.NONE: "FLUX OR ADHESIVE"}
        return named.get(self, "LEAD-FREE")


class Storage(StrEnum):
    """How the unopened paste is kept."""

    COLD = "cold"
    FROZEN = "frozen"
    ROOM = "room"


class Shape(StrEnum):
    """What the paste comes in."""

    JAR = "jar"
    CARTRIDGE = "cartridge"
    SYRINGE = "syringe"


class Stage(StrEnum):
    """Where a container is in its life. `ready` follows from the clock, never from a fact."""

    RECEIVED = "received"
    COLD = "cold"
    CONDITIONING = "conditioning"
    READY = "ready"
    OPEN = "open"
    ENDED = "ended"


class Limit(StrEnum):
    """Limits that can end, or hold back, the use of paste."""

    TO_COLD = "time to cold storage"
    CONDITIONING = "conditioning"
    SHELF = "shelf life"
    ROOM = "room life"
    OPEN = "open life"
    STENCIL = "stencil life"
    DECANTED = "decanted life"
    USED_PASTE = "used-paste life"
    THAW = "thaw in the refrigerator"
    MOVE = "way between stores"
    PAUSE = "pause"
    HOLD = "hold"
    SEEN_AGAIN = "seen after its end"
    OFF_LIST = "off its list"


class Holder(StrEnum):
    """What holds the paste at a position."""

    STENCIL = "stencil"
    HEAD = "enclosed head"
    DISPENSER = "dispenser"


class Word(StrEnum):
    """The one huge word of a verdict."""

    USE = "USE"
    WAIT = "WAIT"
    STOP = "STOP"
    DONE = "DONE"


class Place(StrEnum):
    """What a station does where it stands."""

    FRIDGE = "fridge door"
    PRINTER = "printer"
    DISPENSER = "dispenser"
    BENCH = "preparation bench"
    DESK = "shift desk"


class Role(StrEnum):
    """What a person may decide."""

    OPERATOR = "operator"
    LEAD = "shift lead"
    ENGINEER = "process engineer"


class Card(StrEnum):
    """Command cards. The value is the text printed in the code after the card prefix."""

    LOOKS_GOOD = "LOOKS-GOOD"
    LOOKS_BAD = "LOOKS-BAD"
    EMPTY = "EMPTY"
    DISCARD = "DISCARD"
    HOLD = "HOLD"
    REMOVE = "REMOVE"
    CARRY_OVER = "CARRY-OVER"
    CLEANED = "CLEANED"
    PAUSE = "PAUSE"
    RESUME = "RESUME"
    SAME_BEAD = "SAME-BEAD"
    NEW_BEAD = "NEW-BEAD"
    UNDO = "UNDO"
    LOOK = "LOOK"
    SILENCE = "SILENCE"
    REPRINT = "REPRINT"
    MIXED = "MIXED"
    DECANT = "DECANT"
    KEEP_USED = "KEEP-USED"
    DISMOUNT = "DISMOUNT"
    MOVED_HERE = "MOVED-HERE"
    TAKEN_OUT = "TAKEN-OUT"
    MOVE = "MOVE"


class HoldReason(StrEnum):
    """Why a container is on hold; each reason is released by itself."""

    LATE_TO_COLD = "late to cold storage"
    ARRIVED_WARM = "arrived too warm"
    ARRIVED_FROZEN = "arrived below freezing"
    INDICATOR = "temperature indicator tripped"
    LEAKING = "leaking or damaged on arrival"
    OPENED_EARLY = "opened before earliest use"
    SEEN_WARM = "seen out of cold storage before take-out"
    LOOKED_BAD = "looked bad when opened"
    PERSON = "held by a person"
    EVALUATION = "held for evaluation"
    LOT = "lot on hold"
    THAWED_LONG = "thawed too long"
    MIXED_OFTEN = "mixed too often"
    BOX_DAMAGED = "box damaged on arrival"
    BOX_WET = "box wet on arrival"
    PACKS_MELTED = "cold packs melted on arrival"
    PACKS_MISSING = "no cold packs in the box"
    INCOMING_TEST = "awaits incoming test"
    STORE_OUT = "its store was out of its limits"
    RESTORED = "restored from a backup"


class Ending(StrEnum):
    """How the life of a container ended."""

    USED_UP = "used up"
    DISCARDED = "discarded"
    NOT_FOUND = "not found"


class Priority(StrEnum):
    """Alarm priority, by consequence and time to respond (terms of ANSI/ISA-18.2 and IEC 62682)."""

    HIGH = "high"
    MEDIUM = "medium"
    LOW = "low"


class Disposition(StrEnum):
    """What a shift lead says became of the paste when an alarm is cleared."""

    DISCARDED = "discarded"
    USED_IN_TIME = "used up before the limit"
    EVALUATION = "held for evaluation"
    EXTENDED = "limit extended"
    NOT_FOUND = "not found"
    BEAD_OFF = "bead scraped off and stencil cleaned"
    CHECKED = "checked, nothing to do"


class Boards(StrEnum):
    """What became of boards printed between a limit and the removal of the bead."""

    NONE = "none printed"
    QUARANTINED = "quarantined"
    ACCEPTED = "accepted"


class Finding(StrEnum):
    """What was found of a container when a store was counted."""

    AS_RECORDED = "as recorded"
    ELSEWHERE = "recorded in another store"
    NEVER_AWAY = "never put away"
    OUT = "recorded as out of storage"
    OPEN = "open"
    ENDED = "its life has ended"
    EXPIRED = "past a limit"
    HELD = "on hold, outside the hold bin"
    ON_ITS_WAY = "on its way between stores"
    UNKNOWN = "no record here"
    MISSING = "recorded here, not seen"


class CountEnd(StrEnum):
    """How a count ended. Only the first two claim what was not seen as missing."""

    WHOLE = "a person said it was all"
    WHOLE_LATER = "a person said afterwards that it was all"
    BROKEN_OFF = "a person broke it off"
    IDLE = "nobody scanned any more"
    RESTART = "left open when the program ended"


class Settling(StrEnum):
    """What became of one difference of a count."""

    FOUND = "found"
    NOT_FOUND = "not found"
    DISCARDED = "discarded"
    LOOKED_INTO = "looked into"
