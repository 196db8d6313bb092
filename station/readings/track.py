"""One sensor's readings in two flat arrays, and their stored form: the same readings give the same bytes everywhere."""

import struct
import sys
from array import array
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import islice
from math import isnan, nan
from operator import sub

from station.readings.gaps import GAP_STEPS

MARK = b"thawmark readings 1\n"
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_COUNT = struct.Struct("<Q")
_MICROSECOND = timedelta(microseconds=1)


class NoTrack(ValueError):
    """These bytes are no stored readings; the text says why."""


def microseconds(instant: datetime) -> int:
    """An aware instant as whole microseconds since the beginning of 1970 in UTC."""
    return (instant - EPOCH) // _MICROSECOND


def instant_of(count: int) -> datetime:
    """The instant (aware UTC) of a count of microseconds since the beginning of 1970."""
    return EPOCH + timedelta(microseconds=count)


def steps_of(at: "array[int]") -> Counter[int]:
    """How often each step between neighbours occurs, in microseconds."""
    return Counter(map(sub, islice(at, 1, None), at))


def usual_of(steps: Counter[int]) -> int | None:
    """The middle one of counted steps, None of none."""
    wanted, seen = sum(steps.values()) // 2, 0
    for step in sorted(steps):
        seen += steps[step]
        if seen > wanted:
            return step
    return None


@dataclass(frozen=True, slots=True)
class Track:
    """Instants in microseconds since 1970 (UTC), strictly rising, and degrees Celsius, NaN for a sensor fault."""

    at: "array[int]"
    celsius: "array[float]"

    def __len__(self) -> int:
        """How many readings, faults among them."""
        return len(self.at)

    def steps(self) -> Counter[int]:
        """How often each step between neighbours occurs, in microseconds."""
        return steps_of(self.at)

    def usual_step(self) -> timedelta | None:
        """The middle one of all steps; None with fewer than two readings."""
        usual = usual_of(self.steps())
        return None if usual is None else timedelta(microseconds=usual)

    def longest_step(self) -> timedelta | None:
        """How far apart readings may be before the time between is a gap; None with fewer than two readings."""
        usual = self.usual_step()
        return None if usual is None else usual * GAP_STEPS

    def pack(self) -> bytes:
        """The stored form: a mark, the number of readings, all instants, all temperatures, little-endian."""
        at, celsius = array("q", self.at), array("d", self.celsius)
        for place, value in enumerate(celsius):
            if isnan(value):
                celsius[place] = nan  # one pattern of bits for every fault
        if sys.byteorder == "big":  # pragma: no cover  stored alike on every machine
            at.byteswap()
            celsius.byteswap()
        return b"".join((MARK, _COUNT.pack(len(at)), at.tobytes(), celsius.tobytes()))


def unpack(content: bytes) -> Track:
    """The readings of a stored form. Raises NoTrack."""
    begin = len(MARK) + _COUNT.size
    if not content.startswith(MARK) or len(content) < begin:
        raise NoTrack("These are no stored readings.")
    (count,) = _COUNT.unpack_from(content, len(MARK))
    if len(content) != begin + 16 * count:
        raise NoTrack("These stored readings are not whole.")
    at, celsius = array("q"), array("d")
    at.frombytes(content[begin : begin + 8 * count])
    celsius.frombytes(content[begin + 8 * count :])
    if sys.byteorder == "big":  # pragma: no cover  stored alike on every machine
        at.byteswap()
        celsius.byteswap()
    return Track(at, celsius)
