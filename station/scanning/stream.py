"""Telling a scanner's keys from a person's, with no clock and no window system.

A keyboard-wedge scanner types. What gives it away is its pace: keys at most `gap_ms` apart, at least
`shortest_run` of them. Keys are held back until their pace is known; then each of them ends in exactly one
place: replayed to where the person typed it, swallowed for good, or part of a scan that is whole or incomplete.
Times are those the window system stamped on the keys, so a program that was busy for a second still sees the
pace.
"""

from dataclasses import dataclass
from typing import TypeAlias

from .heard import HeardScan
from .places import control_character, us_character

_CLOCK_MS = 2**32
"""X11 time stamps are 32 bit milliseconds and start again at 0 after 49.7 days."""

_SEPARATORS = "\x04\x1c\x1d\x1e\x1f"


@dataclass(frozen=True, slots=True)
class WedgeTiming:
    """How fast this station's scanner types; milliseconds.

    gap_ms: longest pause between keys that may still be a scanner.
    shortest_run: this many characters at that pace are a scan; fewer are a person's.
    inside_ms: longest pause inside a scan; also how long line ends after an end are dropped.
    settle_ms: silence that ends a scan without an end key. Keys that come between inside_ms and settle_ms show
        that the scan was broken: neither part counts.
    end_key_needed: True if the scanner always sends Enter or Tab, so that a scan ended by silence is incomplete.

    Raises ValueError for figures that contradict each other.
    """

    gap_ms: int = 35
    shortest_run: int = 6
    inside_ms: int = 120
    settle_ms: int = 500
    end_key_needed: bool = False

    def __post_init__(self) -> None:
        """Refuse figures with which scans and typing can not be told apart."""
        if not 0 < self.gap_ms <= self.inside_ms <= self.settle_ms:
            raise ValueError(
                f"scanner timing: gap {self.gap_ms} ms, inside {self.inside_ms} ms and settle {self.settle_ms} ms "
                "must be above 0 and in rising order; lower the first or raise the last"
            )
        if self.shortest_run < 2:
            raise ValueError(f"scanner timing: the shortest run is {self.shortest_run} keys; it must be 2 or more")


@dataclass(frozen=True, slots=True)
class Stroke:
    """One key press, or one commit of an input method.

    text: what the PC's layout made of it, may be empty. place: evdev key code, None if unknown. at_ms: the window
    system's stamp, None if it gave none. is_end: Enter, keypad Enter or Tab. is_act: a key that does something by
    itself (Space, Enter, Tab, Esc, arrows). in_field: a text field would get it. is_repeat: a key held down.
    origin: whatever the caller needs to play the key again; not looked at here.
    """

    text: str = ""
    place: int | None = None
    shift: bool = False
    control: bool = False
    at_ms: int | None = None
    is_end: bool = False
    is_act: bool = False
    in_field: bool = False
    is_repeat: bool = False
    origin: object = None

    @property
    def by_place(self) -> str | None:
        """What a US keyboard writes for this key, a control character if Ctrl was down, or None."""
        reader = control_character if self.control else us_character
        return reader(self.place, shift=self.shift)

    @property
    def typed(self) -> str:
        """What the PC wrote; for Ctrl combinations the place decides, since layouts rename their letters."""
        if self.control:
            return self.by_place or self.text
        return self.text if self.text.isprintable() or self.text in _SEPARATORS else ""

    @property
    def is_character(self) -> bool:
        """True if a scanner could have meant a character by it."""
        return not self.is_end and bool(self.typed or self.by_place)


@dataclass(frozen=True, slots=True)
class Swallow:
    """These keys go nowhere."""

    strokes: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True)
class Replay:
    """These keys are a person's: play them again, in order, where they were meant to go."""

    strokes: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True)
class Scan:
    """One whole scan."""

    heard: HeardScan


@dataclass(frozen=True, slots=True)
class Incomplete:
    """Keys of a scanner that are not one whole scan, to be shown with this text and never acted on."""

    text: str


Output: TypeAlias = Swallow | Replay | Scan | Incomplete
Outputs: TypeAlias = tuple[Output, ...]


def hear(strokes: list[Stroke]) -> HeardScan:
    """Both readings of a run of keys."""
    characters = [stroke for stroke in strokes if stroke.is_character]
    places = [stroke.by_place for stroke in characters]
    known = [place for place in places if place is not None]
    return HeardScan(
        text="".join(stroke.typed for stroke in characters),
        by_place="".join(known) if len(known) == len(places) else None,
    )


def _count(strokes: list[Stroke]) -> int:
    return sum(stroke.is_character for stroke in strokes)


def _notice(strokes: list[Stroke]) -> Incomplete:
    """What to show of keys that were not a whole scan: the scanner's own characters where the places tell them."""
    heard = hear(strokes)
    return Incomplete(heard.by_place or heard.text)


class Stream:
    """Key strokes in, outputs out. The caller tells it of silence when `waiting_ms` have passed without a key."""

    def __init__(self, timing: WedgeTiming) -> None:
        self._timing = timing
        self._run: list[Stroke] = []  # held back, or the scan being heard
        self._stray: list[Stroke] = []  # quick keys too few to be a scan: perhaps the head of a broken one
        self._hearing = False
        self._broken = False
        self._last_ms: int | None = None
        self._stray_ms: int | None = None
        self._ended_ms: int | None = None

    @property
    def waiting_ms(self) -> int | None:
        """How much silence after the last key settles what is open; None if nothing is."""
        if self._hearing or (self._stray and not self._run):
            return self._timing.settle_ms
        return self._timing.gap_ms if self._run else None

    def is_quiet(self, at_ms: int | None) -> bool:
        """True if a key at `at_ms` can not belong to a scan already begun, so that a shortcut may fire."""
        if self._run:
            return False
        if self._last_ms is None or at_ms is None:
            return not self._stray
        return _elapsed_ms(self._last_ms, at_ms) > self._timing.inside_ms

    def feed(self, stroke: Stroke) -> Outputs:
        """One more key. First settles what the pause before it decides, then takes the key."""
        pause_ms = self._pause_before(stroke)
        outputs = self._after_pause(pause_ms, stroke)
        self._last_ms = self._moment_of(stroke)
        return (*outputs, *self._take(stroke))

    def silence(self) -> Outputs:
        """Nothing came for `waiting_ms`: settle one step. Ask `waiting_ms` again afterwards."""
        if self._hearing:
            return self._finish(by_key=False)
        return self._close_run() if self._run else self._forget_stray()

    def _pause_before(self, stroke: Stroke) -> int:
        """Milliseconds since the key before; a key without a stamp is taken to follow it closely."""
        if stroke.at_ms is None or self._last_ms is None:
            return 0
        return _elapsed_ms(self._last_ms, stroke.at_ms)

    def _moment_of(self, stroke: Stroke) -> int | None:
        """The key's stamp. Without one: at most a gap after the key it follows, else unknown."""
        if stroke.at_ms is not None:
            return stroke.at_ms
        if self._last_ms is None or not (self._run or self._stray):
            return None
        return (self._last_ms + self._timing.gap_ms) % _CLOCK_MS

    def _after_pause(self, pause_ms: int, stroke: Stroke) -> Outputs:
        outputs: Outputs = ()
        if self._hearing and pause_ms <= self._timing.settle_ms:
            # A late Enter still ends a scan properly: everything before it has come.
            self._broken |= pause_ms > self._timing.inside_ms and not stroke.is_end
            return outputs
        if self._run and pause_ms > self._timing.gap_ms:
            outputs += self.silence()
        if self._stray and not self._run and pause_ms > self._timing.settle_ms:
            outputs += self.silence()
        return outputs

    def _take(self, stroke: Stroke) -> Outputs:
        if stroke.is_end and not self._run and self._soon_after(self._ended_ms, self._timing.inside_ms):
            self._ended_ms = self._last_ms
            return (Swallow((stroke,)),)
        if stroke.is_repeat and not self._run:
            return self._held_down(stroke)
        self._run.append(stroke)
        if stroke.is_end and _count(self._run):
            return self._finish(by_key=True) if self._hearing else self._end_short_run()
        self._notice_pace()
        return ()

    def _notice_pace(self) -> None:
        """A run that has grown long enough is a scan; keys just before it, though too slow, were its head."""
        if self._hearing or _count(self._run) < self._timing.shortest_run:
            return
        self._hearing = True
        self._broken = bool(self._stray)
        self._run = [*self._stray, *self._run]
        self._stray = []

    def _finish(self, *, by_key: bool) -> Outputs:
        run, broken = self._run, self._broken
        self._run, self._hearing, self._broken = [], False, False
        if by_key:
            self._ended_ms = self._last_ms
        heard = hear(run)
        if heard.is_empty:
            return (Swallow(tuple(run)),)
        if broken or (self._timing.end_key_needed and not by_key):
            return (_notice(run),)
        return (Scan(heard),)

    def _end_short_run(self) -> Outputs:
        """A few quick keys and an end key: a person's in a field; elsewhere a code too short, or a tail."""
        run, self._run = self._run, []
        if all(stroke.in_field for stroke in run):
            return (Replay(tuple(run)),)
        self._ended_ms = self._last_ms
        whole, self._stray = [*self._stray, *run], []
        return (_notice(whole),) if _count(whole) > 1 else (Swallow(tuple(run)),)

    def _close_run(self) -> Outputs:
        """Too few keys for a scan, and then silence."""
        run, self._run = self._run, []
        if all(stroke.in_field for stroke in run):
            # One key at a time is a person typing; two at a scanner's pace may be the head of a broken scan.
            self._stray = run if _count(run) > 1 else []
            return (Replay(tuple(run)),)
        near_stray = bool(self._stray) and self._soon_after(self._stray_ms, self._timing.settle_ms)
        if len(run) == 1 and run[0].is_act and not near_stray:
            return (Replay(tuple(run)),)
        if _count(run):
            self._stray += run
            self._stray_ms = self._last_ms
        return (Swallow(tuple(run)),)

    def _forget_stray(self) -> Outputs:
        """Keys that went nowhere. Many of them are no accident: perhaps a scanner slower than its settings."""
        stray, self._stray = self._stray, []
        return (_notice(stray),) if _count(stray) >= self._timing.shortest_run else ()

    def _held_down(self, stroke: Stroke) -> Outputs:
        """Auto-repeat passes in fields, and for keys such as arrows; a scanner does not hold keys down."""
        passes = stroke.in_field or (stroke.is_act and not self._stray)
        return (Replay((stroke,)),) if passes else (Swallow((stroke,)),)

    def _soon_after(self, moment_ms: int | None, within_ms: int) -> bool:
        if moment_ms is None or self._last_ms is None:
            return False
        return _elapsed_ms(moment_ms, self._last_ms) <= within_ms


def _elapsed_ms(before_ms: int, after_ms: int) -> int:
    """From one stamp to a later one across the wrap; 0 if they are out of order."""
    elapsed = (after_ms - before_ms) % _CLOCK_MS
    return 0 if elapsed > _CLOCK_MS // 2 else elapsed
