"""Bytes of a serial scanner cut into whole scans, with no clock and no port.

A read may bring one byte, half a code or two codes; only the terminator says where a code ends. A code that stops
in the middle is stale after `settle_ms`: it is told as incomplete, and so is its tail, unless what comes is the same
code from its beginning again.
"""

from dataclasses import dataclass
from typing import TypeAlias

from station.services.scanner import Terminator

from .heard import HeardScan
from .stream import Incomplete, Scan

ENDS: dict[Terminator, tuple[bytes, ...]] = {
    Terminator.ANY: (b"\r", b"\n", b"\t"),
    Terminator.CR: (b"\r",),
    Terminator.LF: (b"\n",),
    Terminator.CR_LF: (b"\r\n",),
    Terminator.TAB: (b"\t",),
    Terminator.NONE: (),
}
_AROUND = "\0\x02\x03\t\r\n"
"""What scanners put around the data of a code: rest of a line end, STX and ETX, the NUL of a line that was broken."""

_SAME_AGAIN = 6
"""With so many characters of a stale code in front, what comes is that code scanned again and not its tail."""

_SHOWN = 60

SerialOutputs: TypeAlias = tuple[Scan | Incomplete, ...]


@dataclass(frozen=True, slots=True)
class Framing:
    """How codes are told apart on the line.

    settle_ms: silence after which a code without its end is stale; without terminator, the silence that ends it.
    tail_ms: silence after which bytes are no longer taken for the tail of a stale code.
    longest: bytes of the longest code; more without an end is a scanner set otherwise, or no scanner.

    Raises ValueError for figures that contradict each other.
    """

    terminator: Terminator = Terminator.ANY
    settle_ms: int = 500
    tail_ms: int = 2000
    longest: int = 2048

    def __post_init__(self) -> None:
        """Refuse figures with which nothing could be cut."""
        if not 0 < self.settle_ms < self.tail_ms:
            raise ValueError(
                f"serial scanner: settle {self.settle_ms} ms and tail {self.tail_ms} ms must be above 0 and rising"
            )
        if self.longest < 1:
            raise ValueError(f"serial scanner: the longest code has {self.longest} bytes; it must have 1 or more")


def framing_for(terminator: Terminator) -> Framing:
    """The usual figures. Without terminator a shorter silence must do: a person waits for every answer."""
    return Framing(terminator, settle_ms=150) if terminator is Terminator.NONE else Framing(terminator)


class SerialStream:
    """Bytes in, scans out. The caller tells it of silence when `waiting_ms` have passed without a byte."""

    def __init__(self, framing: Framing) -> None:
        """Nothing heard yet."""
        self._framing = framing
        self._ends = ENDS[framing.terminator]
        self._buffer = bytearray()
        self._stale: str | None = None  # a code that was told as incomplete and whose tail may still come
        self._too_long = False

    @property
    def waiting_ms(self) -> int | None:
        """How much silence after the last byte settles what is open; None if nothing is."""
        if self._buffer or self._too_long:
            return self._framing.settle_ms
        return None if self._stale is None else self._framing.tail_ms - self._framing.settle_ms

    def feed(self, data: bytes) -> SerialOutputs:
        """What one read brought: every code that ends in it, in order."""
        outputs: list[Scan | Incomplete] = []
        for value in data:
            self._buffer.append(value)
            if self._ends and self._buffer.endswith(self._ends):
                outputs += self._end()
            elif len(self._buffer) > self._framing.longest:
                outputs += self._overflow()
        return tuple(outputs)

    def silence(self) -> SerialOutputs:
        """Nothing came for `waiting_ms`: settle one step. Ask `waiting_ms` again afterwards."""
        if not self._buffer and not self._too_long:
            self._stale = None
            return ()
        return self.cut_off() if self._ends else self._end()

    def cut_off(self) -> SerialOutputs:
        """The line was lost, or fell silent in the middle of a code: what there is of it is no code."""
        half = self._taken()
        if self._too_long or not half:
            self._too_long = False
            return ()
        self._stale = ((self._stale or "") + half)[: self._framing.longest]
        return (Incomplete(self._stale),)

    def _end(self) -> SerialOutputs:
        """A terminator came, or the silence that stands for one."""
        text, stale, too_long = self._taken(), self._stale, self._too_long
        self._stale, self._too_long = None, False
        if too_long or not text.strip():
            return ()
        if stale is not None and not (len(stale) >= _SAME_AGAIN and text.startswith(stale)):
            return (Incomplete(stale + text),)
        return (Scan(HeardScan(text, None)),)

    def _overflow(self) -> SerialOutputs:
        """Told once, with its beginning; the rest up to the next end goes nowhere."""
        begun = self._taken()[:_SHOWN]
        if self._too_long:
            return ()
        self._too_long, self._stale = True, None
        return (Incomplete(begun),)

    def _taken(self) -> str:
        """The characters heard so far, which are then forgotten. Separators inside a code stay."""
        raw = bytes(self._buffer)
        self._buffer.clear()
        try:
            text = raw.decode("utf-8")
        except UnicodeDecodeError:
            text = raw.decode("latin-1")
        return text.strip(_AROUND)
