"""Sound in a thread of its own: verdicts once, alarms until told otherwise, and always whether it can be heard.

An alarm that nobody can hear is worse than none that was promised, so the state is tested at the start, at every
sound and whenever outputs come or go, and told with a sentence. The screen never waits for sound.
"""

import importlib
import logging
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QThread, QTimer, Signal, Slot

from station.care.words import Priority
from station.ui.sound_files import ALARM_SOUNDS, file_troubles, sound_file

LOG = logging.getLogger(__name__)
REPEAT_MS = {Priority.HIGH: 5_000, Priority.MEDIUM: 10_000, Priority.LOW: 30_000}
PATIENCE_MS = 8_000
READY = "Sound is ready."
STUCK = "Sound does not answer. Look at the system's sound settings, then start the station again."


class SoundPlayer(Protocol):
    """What makes the air move. Made, used and closed in the sound thread."""

    def trouble(self) -> str:
        """Why nothing could be heard now; empty if all is well."""
        ...

    def play(self, file: Path) -> None:
        """Start playing a file."""
        ...

    def close(self) -> None:
        """Let go of everything."""
        ...


PlayerMaker = Callable[[Callable[[], None]], SoundPlayer]


def load_multimedia() -> None:
    """Load Qt's multimedia part in the thread that calls, which must be the one of the window.

    Loading it in the sound thread while the window paints ended the program in 5 starts of 8 (PySide6 6.11, X11).
    What can't be loaded is told by the sound thread, when it needs it.
    """
    with suppress(ImportError):
        importlib.import_module("station.ui.sound_player")


def effect_player(changed: Callable[[], None]) -> SoundPlayer:
    """The player for real use; ImportError where Qt's multimedia part or a library below it is missing."""
    from station.ui.sound_player import EffectPlayer  # noqa: PLC0415  a missing part is reported, not fatal

    return EffectPlayer(changed)


class _Worker(QObject):
    """The part that lives in the sound thread."""

    state = Signal(bool, str)
    answered = Signal()

    def __init__(self, folder: Path, make: PlayerMaker, repeat_ms: Mapping[Priority, int]) -> None:
        super().__init__()
        self._folder, self._make, self._repeat_ms = folder, make, repeat_ms
        self._player: SoundPlayer | None = None
        self._no_player = ""
        self._told: str | None = None
        self._alarm: Priority | None = None
        self._again = QTimer(self)
        self._again.timeout.connect(self._sound_alarm)

    @Slot()
    def begin(self) -> None:
        """Find a player, and test everything once."""
        try:
            self._player = self._make(self.test)
        except Exception as trouble:
            LOG.warning("no sound player", exc_info=True)
            self._no_player = f"The sound part of the program does not start ({trouble}). Install it again."
        self.test()

    @Slot()
    def test(self) -> None:
        """Tell the state if it is another than was told last."""
        trouble = self._trouble()
        if trouble != self._told:
            self._told = trouble
            self.state.emit(not trouble, trouble or READY)
        self.answered.emit()

    @Slot(str)
    def play(self, name: str) -> None:
        """Play one sound and test again, as the output may have gone since."""
        self._start(name)
        self.test()

    @Slot(object)
    def alarm(self, priority: Priority | None) -> None:
        """Sound for this priority from now on; the same again changes nothing."""
        if priority != self._alarm:
            self._alarm = priority
            self._again.stop()
            if priority is not None:
                self._again.start(self._repeat_ms[priority])
                self._sound_alarm()
        self.answered.emit()

    @Slot()
    def finish(self) -> None:
        """Let go of the player here, where it was made, and end the thread."""
        self._again.stop()
        if self._player is not None:
            self._player.close()
            self._player = None
        self.thread().quit()

    @Slot()
    def _sound_alarm(self) -> None:
        if self._alarm is not None:
            self.play(ALARM_SOUNDS[self._alarm])

    def _start(self, name: str) -> None:
        if self._player is None:
            return
        try:
            self._player.play(sound_file(self._folder, name))
        except Exception as trouble:
            LOG.warning("sound %s", name, exc_info=True)
            self._no_player = f"A sound could not be played ({trouble}). Start the station again."

    def _trouble(self) -> str:
        files = file_troubles(self._folder)
        if files or self._no_player:
            return files[0] if files else self._no_player
        return self._player.trouble() if self._player is not None else ""


class SoundDesk(QObject):
    """Where the window asks for sounds. Nothing here waits.

    `state_changed(ok, sentence)` comes after the start and whenever it changes: no output, a missing or unreadable
    file, no multimedia part, no answer.
    """

    state_changed = Signal(bool, str)
    _play = Signal(str)
    _alarm = Signal(object)
    _finish = Signal()

    def __init__(
        self,
        folder: Path,
        make_player: PlayerMaker = effect_player,
        parent: QObject | None = None,
        *,
        repeat_ms: Mapping[Priority, int] = REPEAT_MS,
        patience_ms: int = PATIENCE_MS,
    ) -> None:
        """`folder` holds the sounds. Starts the thread and the self-test at once; `stop` ends it."""
        super().__init__(parent)
        if make_player is effect_player:
            load_multimedia()
        self._state: tuple[bool, str] | None = None
        self._stuck = False
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(patience_ms)
        self._patience.timeout.connect(self._no_answer)
        self._thread = QThread()
        self._thread.setObjectName("sound")
        self._worker = _Worker(folder, make_player, repeat_ms)
        self._connect()
        self._patience.start()
        self._thread.start()

    def play(self, name: str) -> None:
        """Sound for a verdict once: `use`, `wait`, `stop` or `done`."""
        self._ask(lambda: self._play.emit(name))

    def alarm(self, priority: Priority | None) -> None:
        """Sound the alarm of this priority again and again, None for silence. May be called as often as one likes."""
        self._ask(lambda: self._alarm.emit(priority))

    def test(self) -> None:
        """Test everything again and let an alarm be heard once: the `test the alarm` button."""
        self._told_again()
        self._ask(lambda: self._play.emit(ALARM_SOUNDS[Priority.MEDIUM]))

    def stop(self, wait_ms: int = 3_000) -> bool:
        """End the thread; False if it did not end in time and was cut off."""
        self._patience.stop()
        if not self._thread.isRunning():
            return True
        self._finish.emit()
        if self._thread.wait(wait_ms):
            return True
        LOG.warning("the sound thread did not end by itself")
        self._thread.terminate()
        self._thread.wait(wait_ms)
        return False

    def _connect(self) -> None:
        self._worker.moveToThread(self._thread)
        self._thread.started.connect(self._worker.begin)
        self._play.connect(self._worker.play)
        self._alarm.connect(self._worker.alarm)
        self._finish.connect(self._worker.finish)
        self._worker.state.connect(self._take_state)
        self._worker.answered.connect(self._take_answer)

    def _ask(self, tell: Callable[[], None]) -> None:
        if not self._patience.isActive() and not self._stuck:
            self._patience.start()
        tell()

    def _told_again(self) -> None:
        """A person asked: say the state even if it is the same."""
        if self._state is not None and not self._stuck:
            self.state_changed.emit(*self._state)

    @Slot(bool, str)
    def _take_state(self, ok: bool, text: str) -> None:
        self._state = (ok, text)
        self._stuck = False
        self.state_changed.emit(ok, text)

    @Slot()
    def _take_answer(self) -> None:
        self._patience.stop()
        if self._stuck and self._state is not None:
            self._stuck = False
            self.state_changed.emit(*self._state)

    @Slot()
    def _no_answer(self) -> None:
        self._stuck = True
        self.state_changed.emit(False, STUCK)
