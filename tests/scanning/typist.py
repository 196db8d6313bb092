"""Makes key strokes the way a scanner and a person make them, for tests without a window system."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from station.scanning.places import place_for
from station.scanning.stream import Incomplete, Output, Replay, Scan, Stream, Stroke, Swallow, WedgeTiming

ENTER = Stroke(text="\r", place=28, is_end=True, is_act=True)
KEYPAD_ENTER = Stroke(text="\r", place=96, is_end=True, is_act=True)
TAB = Stroke(text="\t", place=15, is_end=True, is_act=True)
LINE_FEED = Stroke(text="\n", place=None, is_end=True, is_act=True)
SPACE = Stroke(text=" ", place=57, is_act=True)
ESCAPE = Stroke(text="\x1b", place=1, is_act=True)
DOWN = Stroke(place=108, is_act=True)
GROUP_SEPARATOR = Stroke(text="\x1d", place=27, control=True)


def press(character: str) -> Stroke:
    """The key of a US keyboard that writes `character`, on a PC with the US layout."""
    where = place_for(character)
    assert where is not None, f"no key writes {character!r}"
    return Stroke(text=character, place=where[0], shift=where[1], is_act=character == " ")


def keys(text: str) -> list[Stroke]:
    """One stroke per character; GS as a scanner sends it, by Ctrl with the key of `]`."""
    return [GROUP_SEPARATOR if character == "\x1d" else press(character) for character in text]


def timed(
    strokes: Iterable[Stroke], pauses_ms: int | Sequence[int] = 2, start_ms: int = 1000, *, field: bool = False
) -> list[Stroke]:
    """The strokes with stamps: one pause for all, or the pause after each."""
    given = list(strokes)
    pauses = [pauses_ms] * len(given) if isinstance(pauses_ms, int) else list(pauses_ms)
    stamps = [start_ms + sum(pauses[:index]) for index in range(len(given))]
    return [replace(stroke, at_ms=stamp, in_field=field) for stroke, stamp in zip(given, stamps, strict=True)]


def run(strokes: Iterable[Stroke], timing: WedgeTiming | None = None) -> list[Output]:
    """Everything a stream makes of the strokes and the silence after them."""
    stream = Stream(timing or WedgeTiming())
    outputs: list[Output] = []
    for stroke in strokes:
        outputs += stream.feed(stroke)
    return outputs + settle(stream)


def settle(stream: Stream) -> list[Output]:
    """Silence until nothing is open any more."""
    outputs: list[Output] = []
    while stream.waiting_ms is not None:
        outputs += stream.silence()
    return outputs


def scans(outputs: Iterable[Output]) -> list[str]:
    """The texts of the whole scans."""
    return [output.heard.text for output in outputs if isinstance(output, Scan)]


def notices(outputs: Iterable[Output]) -> list[str]:
    """The texts of the incomplete ones."""
    return [output.text for output in outputs if isinstance(output, Incomplete)]


def replayed(outputs: Iterable[Output]) -> list[Stroke]:
    """The strokes a person's window would get."""
    return [stroke for output in outputs if isinstance(output, Replay) for stroke in output.strokes]


def swallowed(outputs: Iterable[Output]) -> list[Stroke]:
    """The strokes that went nowhere."""
    return [stroke for output in outputs if isinstance(output, Swallow) for stroke in output.strokes]
