"""Sound as plain numbers: read from a file, and put into the form an output wants."""

import array
import sys
import wave
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Mono:
    """One channel of 16-bit samples."""

    rate: int
    samples: tuple[int, ...]

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return len(self.samples) / self.rate


def load(file: Path) -> Mono:
    """The sound of a WAV file with one channel of 16 bits; ValueError for another kind, wave.Error for no WAV."""
    with wave.open(str(file), "rb") as source:
        if (source.getnchannels(), source.getsampwidth()) != (1, 2):
            raise ValueError(f"{file.name} is not one channel of 16 bits")
        values = array.array("h", source.readframes(source.getnframes()))
        if sys.byteorder == "big":
            values.byteswap()
        return Mono(source.getframerate(), tuple(values))


def at_rate(sound: Mono, rate: int) -> Mono:
    """The same sound at another rate, by straight lines between samples: enough for tones far below the rate."""
    if rate == sound.rate or not sound.samples:
        return Mono(rate, sound.samples)
    count = len(sound.samples) * rate // sound.rate
    return Mono(rate, tuple(_between(sound.samples, number * sound.rate / rate) for number in range(count)))


def packed(sound: Mono, form: str, channels: int) -> bytes:
    """Bytes in the machine's order, every channel the same; `form` is `int16`, `int32`, `float` or `uint8`."""
    spread = [value for value in sound.samples for _ in range(channels)]
    if form == "float":
        return array.array("f", [value / 32768 for value in spread]).tobytes()
    if form == "int32":
        return array.array("i", [value << 16 for value in spread]).tobytes()
    if form == "uint8":
        return bytes((value >> 8) + 128 for value in spread)
    return array.array("h", spread).tobytes()


def _between(samples: tuple[int, ...], place: float) -> int:
    before = int(place)
    after = min(before + 1, len(samples) - 1)
    return round(samples[before] + (samples[after] - samples[before]) * (place - before))
