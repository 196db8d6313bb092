"""What the sound helper does: plays, repeats alarms, and tells whether anything can be heard."""

import logging
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from station.care.words import Priority
from station.ui.sound_files import ALARM_SOUNDS, NAMES, file_troubles, sound_file

LOG = logging.getLogger(__name__)
REPEAT_MS = {Priority.HIGH: 5_000, Priority.MEDIUM: 10_000, Priority.LOW: 30_000}
READY = "Sound is ready."


class SoundPlayer(Protocol):
    """What makes the air move."""

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


def sink_player(changed: Callable[[], None]) -> SoundPlayer:
    """The player for real use; ImportError where Qt's multimedia part or a library below it is missing."""
    from station.ui.sound_player import SinkPlayer  # noqa: PLC0415  a missing part is reported, not fatal

    return SinkPlayer(changed)


class SoundWorker(QObject):
    """Takes commands as lines of text: `play NAME`, `alarm PRIORITY` or `alarm none`, `test`, `quit`.

    `state(ok, sentence)` comes when it changes, `answered` after each command, `ended` after `quit`.
    """

    state = Signal(bool, str)
    answered = Signal()
    ended = Signal()

    def __init__(
        self,
        folder: Path,
        make: PlayerMaker = sink_player,
        repeat_ms: Mapping[Priority, int] = REPEAT_MS,
        parent: QObject | None = None,
    ) -> None:
        """`folder` holds the sounds. Nothing happens before `begin`."""
        super().__init__(parent)
        self._folder, self._make, self._repeat_ms = folder, make, repeat_ms
        self._player: SoundPlayer | None = None
        self._player_trouble = ""
        self._told: str | None = None
        self._alarm: Priority | None = None
        self._again = QTimer(self)
        self._again.timeout.connect(self._sound_alarm)

    def begin(self) -> None:
        """Find a player, and test everything once."""
        try:
            self._player = self._make(self.test)
        except Exception as trouble:
            LOG.warning("no sound player", exc_info=True)
            self._player_trouble = f"The sound part of the program does not start ({trouble}). Install it again."
        self.test()
        self.answered.emit()

    @Slot(str)
    def take(self, line: str) -> None:
        """Do what one line says; a line that says nothing known is answered and otherwise left alone."""
        word, _, rest = line.strip().partition(" ")
        if word == "play" and rest in NAMES:
            self._play(rest)
        elif word == "alarm":
            self._sound_from_now(next((priority for priority in Priority if priority.value == rest), None))
        elif word == "test":
            self.test()
        elif word == "quit":
            self.finish()
        self.answered.emit()

    def test(self) -> None:
        """Tell the state if it is another than was told last."""
        trouble = self._trouble()
        if trouble != self._told:
            self._told = trouble
            self.state.emit(not trouble, trouble or READY)

    def finish(self) -> None:
        """Be silent and let go of the player."""
        self._again.stop()
        if self._player is not None:
            self._player.close()
            self._player = None
        self.ended.emit()

    def _sound_from_now(self, priority: Priority | None) -> None:
        if priority == self._alarm:
            return
        self._alarm = priority
        self._again.stop()
        if priority is not None:
            self._again.start(self._repeat_ms[priority])
            self._sound_alarm()

    def _sound_alarm(self) -> None:
        if self._alarm is not None:
            self._play(ALARM_SOUNDS[self._alarm])

    def _play(self, name: str) -> None:
        """Play one sound and test again, as the output may have gone since."""
        if self._player is not None:
            try:
                self._player.play(sound_file(self._folder, name))
            except Exception as trouble:
                LOG.warning("sound %s", name, exc_info=True)
                self._player_trouble = f"A sound could not be played ({trouble})."
            else:
                self._player_trouble = ""
        self.test()

    def _trouble(self) -> str:
        files = file_troubles(self._folder)
        if files or self._player_trouble:
            return files[0] if files else self._player_trouble
        return self._player.trouble() if self._player is not None else ""
