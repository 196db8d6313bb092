"""The time label: 38 characters that carry a container's times by themselves, signed.

`V1`, 35 base-36 characters, one check character: exactly what a QR code version 2 at level M holds in
alphanumeric mode (ISO/IEC 18004). The 179 bits of the number are, from the top,

key 3 | station 8 | counter 20 | print 6 | thaw-start 24 | earliest-use 12 | discard-by 19 | open life 8 |
paste 10 | governing limit 3 | leaded 1 | spare 1 | signature 64.

Thaw-start counts minutes since 2024-01-01T00:00Z, rounded down; earliest-use (rounded up) and discard-by (rounded
down) count minutes since thaw-start; open life counts whole hours, rounded down. What does not fit errs to the
safe side: a discard-by over 364 days away becomes the 364th day, an open life over 255 h becomes 255 h, and an
earliest-use over 68 h away is refused, since any smaller number would be too early.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from station.care.moments import MINUTE, minute_down, minute_up
from station.care.words import Limit
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.signedtext import KEY_BITS, Frame

EPOCH = datetime(2024, 1, 1, tzinfo=UTC)
HOUR = timedelta(hours=1)
LAYOUT: tuple[tuple[str, int], ...] = (
    ("key", KEY_BITS),
    ("station", 8),
    ("counter", 20),
    ("print", 6),
    ("thaw", 24),
    ("earliest", 12),
    ("discard", 19),
    ("open", 8),
    ("paste", 10),
    ("governing", 3),
    ("leaded", 1),
    ("spare", 1),
)
BITS = dict(LAYOUT)
FRAME = Frame("time label", "V1", 35, sum(BITS.values()), 64)

# Printed numbers never change, so the order is written out here and not taken from the enumeration. Zero is
# nobody's number: a body of nothing but zeros is nonsense. 7 is free for a limit to come.
GOVERNING: tuple[Limit, ...] = (
    Limit.SHELF,
    Limit.ROOM,
    Limit.OPEN,
    Limit.STENCIL,
    Limit.DECANTED,
    Limit.USED_PASTE,
)


@dataclass(frozen=True, slots=True)
class TimeLabel:
    """What a time label says. Instants are aware UTC on whole minutes; station and counter name the container."""

    station: int
    counter: int
    print_number: int
    thaw_start: datetime
    earliest_use: datetime
    discard_by: datetime
    open_life: timedelta
    paste_number: int
    governing: Limit
    leaded: bool
    key_id: int


def pack(label: TimeLabel, keys: KeyRing) -> str:
    """The code text of a label, signed with `label.key_id`; LabelFault "field" names what cannot be carried."""
    thaw_start = minute_down(_utc("thaw-start", label.thaw_start))
    values = {
        "key": label.key_id,
        "station": label.station,
        "counter": label.counter,
        "print": label.print_number,
        "thaw": (thaw_start - EPOCH) // MINUTE,
        "earliest": (minute_up(_utc("earliest-use", label.earliest_use)) - thaw_start) // MINUTE,
        "discard": _saturated("discard", (minute_down(_utc("discard-by", label.discard_by)) - thaw_start) // MINUTE),
        "open": _saturated("open", label.open_life // HOUR),
        "paste": label.paste_number,
        "governing": _governing_number(label.governing),
        "leaded": int(label.leaded),
        "spare": 0,
    }
    _refuse_nonsense(values)
    return FRAME.seal(_joined(values), keys)


def unpack(text: str, keys: KeyRing) -> TimeLabel:
    """The label a code text stands for; LabelFault with the first thing that is wrong with it."""
    values = _split(FRAME.unseal(text, keys))
    _refuse_nonsense(values)
    thaw_start = EPOCH + values["thaw"] * MINUTE
    return TimeLabel(
        station=values["station"],
        counter=values["counter"],
        print_number=values["print"],
        thaw_start=thaw_start,
        earliest_use=thaw_start + values["earliest"] * MINUTE,
        discard_by=thaw_start + values["discard"] * MINUTE,
        open_life=values["open"] * HOUR,
        paste_number=values["paste"],
        governing=GOVERNING[values["governing"] - 1],
        leaded=bool(values["leaded"]),
        key_id=values["key"],
    )


_WORDS = {
    "key": "key number",
    "station": "station number",
    "counter": "container number",
    "print": "print number",
    "thaw": "thaw-start",
    "earliest": "earliest-use",
    "discard": "discard-by",
    "open": "open life",
    "paste": "paste number",
    "governing": "governing limit",
    "leaded": "leaded mark",
    "spare": "spare bit",
}
_FROM_ONE = frozenset({"station", "counter", "print", "open", "governing"})
_MOST = {"governing": len(GOVERNING), "spare": 0}


def _refuse_nonsense(values: dict[str, int]) -> None:
    """A number may be signed and still mean nothing; only what a station can have meant passes."""
    for name, value in values.items():
        least, most = int(name in _FROM_ONE), _MOST.get(name, (1 << BITS[name]) - 1)
        if not least <= value <= most:
            raise LabelFault(
                "field", f"The time label cannot carry the {_WORDS[name]}: {value} is outside {least} to {most}."
            )


def _governing_number(limit: Limit) -> int:
    if limit not in GOVERNING:
        raise LabelFault("field", f"The time label cannot carry {limit.value} as the governing limit.")
    return GOVERNING.index(limit) + 1


def _joined(values: dict[str, int]) -> int:
    body = 0
    for name, bits in LAYOUT:
        body = body << bits | values[name]
    return body


def _split(body: int) -> dict[str, int]:
    values = {}
    for name, bits in reversed(LAYOUT):
        values[name] = body & ((1 << bits) - 1)
        body >>= bits
    return values


def _saturated(name: str, value: int) -> int:
    return min(value, (1 << BITS[name]) - 1)


def _utc(name: str, instant: datetime) -> datetime:
    if instant.tzinfo is None:
        raise LabelFault("field", f"The {name} of a label needs its time zone.")
    return instant.astimezone(UTC)
