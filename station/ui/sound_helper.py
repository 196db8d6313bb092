"""The process that makes sounds: `python -m station.ui.sound_helper FOLDER`, spoken to by `sound.SoundDesk`.

Lines come in on standard input, as `sound_worker` takes them. Out go `state 1 SENTENCE` or `state 0 SENTENCE`, and
`answer` after each line taken. It ends when its input ends, so that it never outlives the station.
"""

import os
import sys
import threading
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QObject, Signal

from station.ui.sound_worker import SoundWorker

INPUT, OUTPUT = 0, 1


class Lines(QObject):
    """Lines of standard input, read by a thread since a pipe can't be watched by Qt on every system."""

    line = Signal(str)

    def start(self) -> None:
        """Begin to read."""
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        # Read from the descriptor itself: a thread inside sys.stdin would hold its lock when the process ends.
        unread = b""
        while more := os.read(INPUT, 4096):
            *lines, unread = (unread + more).split(b"\n")
            for line in lines:
                self.line.emit(line.decode("utf-8", "replace"))
        self.line.emit("quit")


def main(arguments: list[str]) -> int:
    """Run until the input ends."""
    app = QCoreApplication(sys.argv[:1])
    worker, lines = SoundWorker(Path(arguments[0])), Lines()
    worker.state.connect(lambda ok, text: _say(f"state {int(ok)} {text}"))
    worker.answered.connect(lambda: _say("answer"))
    worker.ended.connect(app.quit)
    lines.line.connect(worker.take)
    worker.begin()
    lines.start()
    return app.exec()


def _say(line: str) -> None:
    try:
        os.write(OUTPUT, f"{line}\n".encode())
    except OSError:
        # Nobody listens any more; the end of the input follows.
        return


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
