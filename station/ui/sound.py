"""Sound for a window: verdicts once, alarms until told otherwise, and always whether it can be heard.

The sound itself is made by a helper process. A sound system that hangs, floods, crashes or was never installed can
then neither stop nor end the station: a thread can't be killed, and the sound server going away was seen to end the
whole program. What the helper tells, and whether it answers at all, is told on with a sentence.
"""

import logging
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QObject, QProcess, QProcessEnvironment, QTimer, Signal

from station.care.words import Priority
from station.ui.sound_files import ALARM_SOUNDS

LOG = logging.getLogger(__name__)
PATIENCE_MS = 10_000
START_AGAIN_MS = 20_000
LOOK_AGAIN_MS = 120_000
LOST = "Sound stopped working. It is started again by itself; look at the screen until then."
STUCK = "Sound does not answer. It is started again by itself; look at the screen until then."
NO_HELPER = "The sound part of the program does not start. Install the station again."
PACKAGE_ROOT = Path(__file__).resolve().parents[2]


class SoundDesk(QObject):
    """Where the window asks for sounds. Nothing here waits.

    `state_changed(ok, sentence)` comes after the start and whenever it changes: no output, a missing or unreadable
    file, no multimedia part, no answer, no helper.
    """

    state_changed = Signal(bool, str)

    def __init__(
        self,
        folder: Path,
        command: Sequence[str] = (),
        parent: QObject | None = None,
        *,
        patience_ms: int = PATIENCE_MS,
        start_again_ms: int = START_AGAIN_MS,
        look_again_ms: int = LOOK_AGAIN_MS,
    ) -> None:
        """`folder` holds the sounds; another `command` stands in for the helper. Starts it at once; `stop` ends it."""
        super().__init__(parent)
        self._command = tuple(command) or (sys.executable, "-m", "station.ui.sound_helper", str(folder))
        self._state: tuple[bool, str] | None = None
        self._alarm: Priority | None = None
        self._stopping = False
        self._at_once = False
        self._unread = b""
        self._patience = self._timer(patience_ms, self._no_answer)
        self._start_again = self._timer(start_again_ms, self._start)
        self._look_again = self._timer(look_again_ms, self._restart)
        self._process = QProcess(self)
        self._process.setProcessEnvironment(_environment())
        # What a sound system complains of can be endless; nobody reads it, and it must not fill a pipe or a log.
        self._process.setStandardErrorFile(QProcess.nullDevice())
        self._process.readyReadStandardOutput.connect(self._read)
        self._process.finished.connect(self._ended)
        self._process.errorOccurred.connect(self._failed)
        self._start()

    def play(self, name: str) -> None:
        """Sound for a verdict once: `use`, `wait`, `stop` or `done`."""
        self._tell(f"play {name}")

    def alarm(self, priority: Priority | None) -> None:
        """Sound the alarm of this priority again and again, None for silence. May be called as often as one likes."""
        if priority != self._alarm:
            self._alarm = priority
            self._tell_alarm()

    def test(self) -> None:
        """Say the state again and let an alarm be heard once: the `test the alarm` button."""
        if self._state is not None:
            self.state_changed.emit(*self._state)
        if self._running() and self._state is not None and self._state[0]:
            self._tell(f"play {ALARM_SOUNDS[Priority.MEDIUM]}")
        else:
            self._restart()

    def stop(self, wait_ms: int = 2_000) -> bool:
        """End the helper; False if it did not end in time and was ended."""
        self._stopping = True
        for timer in (self._patience, self._start_again, self._look_again):
            timer.stop()
        if not self._running():
            return True
        self._process.write(b"quit\n")
        self._process.closeWriteChannel()
        if self._process.waitForFinished(wait_ms):
            return True
        LOG.warning("the sound helper did not end by itself")
        self._process.kill()
        self._process.waitForFinished(wait_ms)
        return False

    # ------------------------------------------------------------------ the helper

    def _timer(self, milliseconds: int, act: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(milliseconds)
        timer.timeout.connect(act)
        return timer

    def _running(self) -> bool:
        return self._process.state() != QProcess.ProcessState.NotRunning

    def _start(self) -> None:
        self._unread = b""
        self._patience.start()
        self._process.start(self._command[0], list(self._command[1:]))
        if self._alarm is not None:
            self._tell_alarm()

    def _restart(self) -> None:
        """A helper that reported trouble is asked anew: some sound systems are found only at a start."""
        self._start_again.stop()
        self._look_again.stop()
        if self._running():
            self._at_once = True
            self._process.kill()
        else:
            self._start()

    def _tell(self, line: str) -> None:
        if self._running():
            if not self._patience.isActive():
                self._patience.start()
            self._process.write(f"{line}\n".encode())

    def _tell_alarm(self) -> None:
        self._tell(f"alarm {self._alarm.value if self._alarm is not None else 'none'}")

    def _read(self) -> None:
        *lines, self._unread = (self._unread + bytes(self._process.readAllStandardOutput().data())).split(b"\n")
        for line in lines:
            self._take(line.decode("utf-8", "replace").rstrip("\r"))

    def _take(self, line: str) -> None:
        word, _, rest = line.partition(" ")
        if word == "answer":
            self._patience.stop()
        elif word == "state":
            mark, _, text = rest.partition(" ")
            self._say(mark == "1", text)

    def _say(self, ok: bool, text: str) -> None:
        if ok:
            self._look_again.stop()
        elif not self._look_again.isActive():
            self._look_again.start()
        if (ok, text) != self._state:
            self._state = (ok, text)
            self.state_changed.emit(ok, text)

    def _no_answer(self) -> None:
        self._say(ok=False, text=STUCK)
        self._process.kill()

    def _failed(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart and not self._stopping:
            self._patience.stop()
            self._say(ok=False, text=NO_HELPER)

    def _ended(self) -> None:
        self._patience.stop()
        if self._stopping:
            return
        if self._at_once:
            self._at_once = False
            self._start()
            return
        if self._state is None or self._state[0]:
            self._say(ok=False, text=LOST)
        if not self._start_again.isActive():
            self._start_again.start()


def _environment() -> QProcessEnvironment:
    """The helper finds the same package as this process, however that was started."""
    environment = QProcessEnvironment.systemEnvironment()
    paths = [str(PACKAGE_ROOT), environment.value("PYTHONPATH", "")]
    environment.insert("PYTHONPATH", os.pathsep.join(path for path in paths if path))
    environment.insert("PYTHONIOENCODING", "utf-8")
    return environment
