"""The identity label: 17 characters that name one container, signed so that nobody can mint a container.

`C1`, 14 base-36 characters, one check character; fits QR version 1 at level M (20 characters, ISO/IEC 18004).
The 72 bits of the number are key 3 | station 8 | counter 20 | signature 41.
"""

import re
from dataclasses import dataclass

from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.signedtext import Frame

STATION_MOST = (1 << 8) - 1
COUNTER_MOST = (1 << 20) - 1
FRAME = Frame("container label", "C1", 14, 31, 41)
_ID = re.compile(r"K(\d{1,3})-(\d{3,7})")


@dataclass(frozen=True, slots=True)
class ContainerCode:
    """Which container an identity label names: the station that numbered it and its count there."""

    station: int
    counter: int
    key_id: int


def container_id(station: int, counter: int) -> str:
    """The container's number as written everywhere: `K7-311`, at least three digits after the dash."""
    return f"K{station}-{counter:03d}"


def container_numbers(identity: str) -> tuple[int, int]:
    """Station and counter of `K7-311`; LabelFault "field" for anything that is not written just so."""
    match = _ID.fullmatch(identity)
    if match is None or container_id(int(match[1]), int(match[2])) != identity:
        raise LabelFault("field", f"{identity!r} is no container number; one looks like K7-311.")
    station, counter = int(match[1]), int(match[2])
    _refuse_nonsense(station, counter)
    return station, counter


def pack_container(station: int, counter: int, keys: KeyRing) -> str:
    """The code text of an identity label, signed with the current key; LabelFault "field" out of range."""
    _refuse_nonsense(station, counter)
    return FRAME.seal(keys.current << 28 | station << 20 | counter, keys)


def unpack_container(text: str, keys: KeyRing) -> ContainerCode:
    """The container a code text names; LabelFault with the first thing that is wrong with it."""
    body = FRAME.unseal(text, keys)
    station, counter = body >> 20 & STATION_MOST, body & COUNTER_MOST
    _refuse_nonsense(station, counter)
    return ContainerCode(station, counter, body >> 28)


def _refuse_nonsense(station: int, counter: int) -> None:
    if not 1 <= station <= STATION_MOST:
        raise LabelFault("field", f"Station number {station} is outside 1 to {STATION_MOST}.")
    if not 1 <= counter <= COUNTER_MOST:
        raise LabelFault("field", f"Container number {counter} is outside 1 to {COUNTER_MOST}.")
