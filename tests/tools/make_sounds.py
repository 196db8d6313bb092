"""Makes resources/sounds: `python -m tests.tools.make_sounds`. The same figures give the same files everywhere.

Four short sounds for the verdicts and three for alarms, told apart by rhythm and by pitch. Alarm sounds follow the
usual advice for being heard through noise and hearing protectors (ISO 7731 asks for energy from 500 to 2500 Hz, part
of it below 1500 Hz, in pulses of 0.5 to 4 Hz; from memory). None is continuous and none is three long pulses and a
pause, which both mean evacuation (ISO 8201).
"""

import math
import struct
import wave
from dataclasses import dataclass
from pathlib import Path

RATE = 48_000
HIGHEST_PARTIAL = 2500.0
PARTIALS = ((1, 1.0), (2, 0.34), (3, 0.16))
RISE_SECONDS, FALL_SECONDS = 0.012, 0.03
LOUDEST = 0.72


@dataclass(frozen=True)
class Pulse:
    """A tone: pitch in Hz (0 is silence), length in seconds, loudness from 0 to 1."""

    hertz: float
    seconds: float
    loudness: float = 1.0


def rest(seconds: float) -> Pulse:
    """Silence."""
    return Pulse(0.0, seconds)


# The first pulses of the most urgent alarm grow, so that nobody with a knife in hand is startled.
HIGH = tuple(
    part
    for number in range(8)
    for part in (Pulse((988.0, 1319.0)[number % 2], 0.2, min(1.0, 0.25 + 0.25 * number)), rest(0.1))
)
PAIR = (Pulse(831.0, 0.3), rest(0.2), Pulse(831.0, 0.3))
SOUNDS: dict[str, tuple[Pulse, ...]] = {
    "use": (Pulse(784.0, 0.09), rest(0.03), Pulse(1175.0, 0.17)),
    "wait": (Pulse(622.0, 0.15), rest(0.12), Pulse(622.0, 0.15)),
    "stop": (Pulse(1109.0, 0.1), rest(0.03), Pulse(831.0, 0.1), rest(0.03), Pulse(554.0, 0.28)),
    "done": (Pulse(740.0, 0.13),),
    "alarm-high": HIGH,
    "alarm-medium": (*PAIR, rest(0.8), *PAIR),
    "alarm-low": (Pulse(554.0, 0.4, 0.8), rest(1.2), Pulse(554.0, 0.4, 0.8)),
}


def samples(pulses: tuple[Pulse, ...]) -> list[int]:
    """16-bit samples of one sound at `RATE`."""
    return [value for pulse in pulses for value in _tone(pulse)]


def _tone(pulse: Pulse) -> list[int]:
    count = round(pulse.seconds * RATE)
    if not pulse.hertz:
        return [0] * count
    partials = [(times, share) for times, share in PARTIALS if times * pulse.hertz <= HIGHEST_PARTIAL]
    whole = sum(share for _, share in partials)
    scale = 32767 * LOUDEST * pulse.loudness / whole
    return [
        round(scale * _envelope(number, count) * _wave(number * pulse.hertz / RATE, partials))
        for number in range(count)
    ]


def _wave(turns: float, partials: list[tuple[int, float]]) -> float:
    return sum(share * math.sin(2 * math.pi * times * turns) for times, share in partials)


def _envelope(number: int, count: int) -> float:
    """Rounded flanks, since a tone cut off square clicks."""
    rising = number / (RISE_SECONDS * RATE)
    falling = (count - number) / (FALL_SECONDS * RATE)
    return 0.5 - 0.5 * math.cos(math.pi * min(1.0, rising, falling))


def write(folder: Path) -> None:
    """Write every sound into `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, pulses in SOUNDS.items():
        values = samples(pulses)
        with wave.open(str(folder / f"{name}.wav"), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            file.writeframes(struct.pack(f"<{len(values)}h", *values))


if __name__ == "__main__":
    write(Path(__file__).parents[2] / "resources" / "sounds")
