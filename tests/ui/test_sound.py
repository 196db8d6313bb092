"""What is heard, and what is said when nothing can be heard."""

import json
import logging
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from station.care.words import Priority, Word
from station.ui.sound import LOST, NO_HELPER, STUCK, SoundDesk
from station.ui.sound_files import ALARM_SOUNDS, NAMES, VERDICT_SOUNDS, file_troubles, sound_file
from station.ui.sound_worker import READY, PlayerMaker, SoundWorker, sink_player

SOUNDS = Path(__file__).parents[2] / "resources" / "sounds"
ROOT = SOUNDS.parents[1]
QUICK = dict.fromkeys(Priority, 5)
NEVER = dict.fromkeys(Priority, 1_000_000)


class Loudspeaker:
    """A player that writes down what it was asked to play."""

    def __init__(self) -> None:
        self.heard: list[str] = []
        self.reason = ""
        self.closed = False
        self.changed: Callable[[], None] = lambda: None

    def make(self, changed: Callable[[], None]) -> "Loudspeaker":
        """As the worker makes it."""
        self.changed = changed
        return self

    def trouble(self) -> str:
        return self.reason

    def play(self, file: Path) -> None:
        self.heard.append(file.stem)

    def close(self) -> None:
        self.closed = True


class Work:
    """A worker with everything it told."""

    def __init__(self, make: PlayerMaker, folder: Path = SOUNDS, repeat_ms: dict[Priority, int] = NEVER) -> None:
        self.worker = SoundWorker(folder, make, repeat_ms)
        self.said: list[tuple[bool, str]] = []
        self.answers: list[bool] = []
        self.worker.state.connect(lambda ok, text: self.said.append((ok, text)))
        self.worker.answered.connect(lambda: self.answers.append(True))
        self.worker.begin()

    def take(self, *lines: str) -> None:
        for line in lines:
            self.worker.take(line)


@pytest.fixture
def speaker(qapp: object) -> Loudspeaker:
    return Loudspeaker()


def test_every_verdict_word_has_its_sound_and_every_priority_its_alarm() -> None:
    assert {word.value.lower() for word in Word} == set(VERDICT_SOUNDS)
    assert set(ALARM_SOUNDS) == set(Priority)
    assert file_troubles(SOUNDS) == ()


# ---------------------------------------------------------------------- what the helper does


def test_at_the_start_it_says_that_sound_is_ready_and_is_silent(speaker: Loudspeaker) -> None:
    work = Work(speaker.make)
    assert work.said == [(True, READY)]
    assert speaker.heard == []


def test_a_verdict_is_heard_once_and_each_command_is_answered(speaker: Loudspeaker) -> None:
    work = Work(speaker.make)
    work.take("play use", "play stop", "play no-such-sound", "sing", "")
    assert speaker.heard == ["use", "stop"]
    assert len(work.answers) == 6


def test_an_alarm_sounds_again_and_again_until_told_otherwise(speaker: Loudspeaker, qtbot: QtBot) -> None:
    work = Work(speaker.make, repeat_ms=QUICK)
    work.take("alarm high")
    qtbot.waitUntil(lambda: speaker.heard.count("alarm-high") >= 4)
    work.take("alarm low")
    before = speaker.heard.count("alarm-high")
    qtbot.waitUntil(lambda: speaker.heard.count("alarm-low") >= 4)
    assert speaker.heard.count("alarm-high") == before
    work.take("alarm none")
    count, turns = len(speaker.heard), []
    clockwork = QTimer()
    clockwork.timeout.connect(lambda: turns.append(True))
    clockwork.start(5)
    qtbot.waitUntil(lambda: len(turns) >= 4)
    clockwork.stop()
    assert len(speaker.heard) == count


def test_the_same_priority_again_does_not_start_over(speaker: Loudspeaker) -> None:
    work = Work(speaker.make)
    work.take(*["alarm medium"] * 20, "play done")
    assert speaker.heard == ["alarm-medium", "done"]


def test_no_output_is_said_and_a_new_one_is_noticed(speaker: Loudspeaker) -> None:
    """BR-62: started without an output; one is plugged in later and goes again."""
    speaker.reason = "No sound output on this PC. Plug in a loudspeaker."
    work = Work(speaker.make)
    assert work.said == [(False, speaker.reason)]
    speaker.reason = ""
    work.take("play use")
    assert work.said[-1] == (True, READY)
    speaker.reason = "unplugged"
    work.take("alarm high")
    assert work.said[-1] == (False, "unplugged")
    speaker.reason = ""
    speaker.changed()
    assert work.said[-1] == (True, READY)
    assert len(work.said) == 4


@pytest.mark.parametrize("name", NAMES)
def test_a_missing_sound_file_is_said_by_name(name: str, speaker: Loudspeaker, tmp_path: Path) -> None:
    """BR-63; the folder's name is that of BR-64."""
    folder = shutil.copytree(SOUNDS, tmp_path / "Kühlraum ë 최")
    sound_file(folder, name).unlink()
    ((ok, text),) = Work(speaker.make, folder).said
    assert not ok
    assert f"{name}.wav is missing" in text


@pytest.mark.parametrize("content", [b"", b"ID3\x04\x00\x00\x00\x00\x00\x00" + b"\xff\xfb\x90\x00" * 50, b"RIFF"])
def test_a_file_that_is_no_sound_is_said(content: bytes, speaker: Loudspeaker, tmp_path: Path) -> None:
    """BR-63: an MP3 under another name, an empty file, one cut off."""
    folder = shutil.copytree(SOUNDS, tmp_path / "sounds")
    sound_file(folder, "alarm-high").write_bytes(content)
    ((ok, text),) = Work(speaker.make, folder).said
    assert not ok
    assert "can't be read" in text


def test_a_missing_multimedia_part_is_said(
    qapp: object, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """BR-63."""
    monkeypatch.delitem(sys.modules, "station.ui.sound_player", raising=False)
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    with caplog.at_level(logging.WARNING):
        work = Work(sink_player)
        work.take("play use", "alarm high")
    ((ok, text),) = work.said
    assert not ok
    assert "does not start" in text
    assert "no sound player" in caplog.text


def test_a_sound_that_fails_is_said_and_the_next_good_one_takes_it_back(
    speaker: Loudspeaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(file: Path) -> None:
        raise OSError("pipe gone")

    work = Work(speaker.make)
    with monkeypatch.context() as patch:
        patch.setattr(speaker, "play", broken)
        work.take("play use")
    assert work.said[-1][0] is False
    assert "pipe gone" in work.said[-1][1]
    work.take("play use")
    assert work.said[-1] == (True, READY)


def test_quit_closes_the_player(speaker: Loudspeaker, qtbot: QtBot) -> None:
    work = Work(speaker.make)
    with qtbot.waitSignal(work.worker.ended):
        work.take("alarm high", "quit")
    assert speaker.closed
    work.take("play use")
    assert speaker.heard == ["alarm-high"]


# ---------------------------------------------------------------------- the desk and its helper process

# Stands in for the helper: says it is ready, writes down what it hears, and behaves as its argument tells.
HELPER = """
import json, os, sys
way, book = sys.argv[1:]
lives = open(book, "a", encoding="utf-8")
def note(text):
    lives.write(json.dumps(text) + "\\n"); lives.flush()
def say(text):
    os.write(1, (text + "\\n").encode())
note("born")
first = sum(line == '"born"\\n' for line in open(book, encoding="utf-8")) == 1
if way == "deaf" and first:
    sys.stdin.close(); import threading; threading.Event().wait()
if way == "flooding":
    for _ in range(20000):
        os.write(2, b"a sound system complains\\n" * 10)
say("state 0 unplugged" if way == "unplugged" and first else "state 1 Sound is ready.")
say("answer")
for line in sys.stdin:
    note(line.strip())
    if line.strip() == "quit":
        break
    if way == "dying" and first:
        os._exit(7)
    say("answer")
if way == "stubborn":
    import threading; threading.Event().wait()
"""


class Helper:
    """A desk with a stand-in for its helper, and everything both said."""

    def __init__(self, desk: SoundDesk, book: Path) -> None:
        self.desk, self.book = desk, book
        self.said: list[tuple[bool, str]] = []
        desk.state_changed.connect(lambda ok, text: self.said.append((ok, text)))

    @property
    def heard(self) -> list[str]:
        """What the helper wrote down."""
        if not self.book.exists():
            return []
        whole = [
            line for line in self.book.read_text(encoding="utf-8").splitlines(keepends=True) if line.endswith("\n")
        ]
        return [json.loads(line) for line in whole]


Opener = Callable[..., Helper]


@pytest.fixture
def helped(tmp_path: Path, qapp: object) -> Iterator[Opener]:
    desks: list[SoundDesk] = []

    def opened(way: str = "good", patience_ms: int = 60_000, look_again_ms: int = 1_000_000) -> Helper:
        book = tmp_path / "book"
        command = (sys.executable, "-c", HELPER, way, str(book))
        times = {"patience_ms": patience_ms, "look_again_ms": look_again_ms}
        desks.append(SoundDesk(SOUNDS, command, None, start_again_ms=10, **times))
        return Helper(desks[-1], book)

    yield opened
    for desk in desks:
        desk.stop()


def test_what_is_asked_for_reaches_the_helper_and_its_state_comes_back(helped: Opener, qtbot: QtBot) -> None:
    sound = helped()
    qtbot.waitUntil(lambda: sound.said == [(True, READY)])
    sound.desk.play("use")
    for _ in range(50):
        sound.desk.alarm(Priority.HIGH)
    sound.desk.alarm(None)
    qtbot.waitUntil(lambda: sound.heard == ["born", "play use", "alarm high", "alarm none"])
    assert sound.desk.stop()
    assert sound.heard[-1] == "quit"
    assert sound.desk.stop()


def test_a_helper_that_dies_is_said_and_started_again_with_its_alarm(helped: Opener, qtbot: QtBot) -> None:
    sound = helped("dying")
    qtbot.waitUntil(lambda: sound.said == [(True, READY)])
    sound.desk.alarm(Priority.HIGH)
    qtbot.waitUntil(lambda: sound.heard == ["born", "alarm high", "born", "alarm high"])
    qtbot.waitUntil(lambda: sound.said == [(True, READY), (False, LOST), (True, READY)])


def test_the_screen_never_waits_for_a_helper_that_hangs_and_says_so(helped: Opener, qtbot: QtBot) -> None:
    sound = helped("deaf", patience_ms=1500)
    turns: list[bool] = []
    clockwork = QTimer()
    clockwork.timeout.connect(lambda: turns.append(True))
    clockwork.start(1)
    for _ in range(1000):
        sound.desk.play("stop")
    qtbot.waitUntil(lambda: (False, STUCK) in sound.said and len(turns) > 5, timeout=20_000)
    qtbot.waitUntil(lambda: sound.said[-1] == (True, READY), timeout=20_000)
    clockwork.stop()
    assert sound.heard.count("born") == 2


def test_a_sound_system_that_complains_without_end_stops_nothing(helped: Opener, qtbot: QtBot) -> None:
    sound = helped("flooding")
    qtbot.waitUntil(lambda: sound.said == [(True, READY)], timeout=20_000)


def test_an_output_that_is_missing_at_the_start_is_looked_for_again(helped: Opener, qtbot: QtBot) -> None:
    """BR-62: some sound systems are found only by a program that starts after them."""
    sound = helped("unplugged", look_again_ms=20)
    qtbot.waitUntil(lambda: sound.said == [(False, "unplugged"), (True, READY)], timeout=20_000)
    assert sound.heard.count("born") == 2


def test_a_helper_that_cannot_be_started_is_said(qtbot: QtBot) -> None:
    desk = SoundDesk(SOUNDS, (str(ROOT / "no-such-program"),))
    said: list[tuple[bool, str]] = []
    desk.state_changed.connect(lambda ok, text: said.append((ok, text)))
    desk.test()
    qtbot.waitUntil(lambda: (False, NO_HELPER) in said)
    desk.play("use")
    desk.alarm(Priority.LOW)
    assert desk.stop()


def test_the_test_button_says_the_state_and_lets_an_alarm_be_heard(helped: Opener, qtbot: QtBot) -> None:
    """BR-63."""
    sound = helped()
    qtbot.waitUntil(lambda: len(sound.said) == 1)
    sound.desk.test()
    assert sound.said == [(True, READY), (True, READY)]
    qtbot.waitUntil(lambda: sound.heard == ["born", "play alarm-medium"])


def test_the_test_button_asks_a_helper_in_trouble_anew(helped: Opener, qtbot: QtBot) -> None:
    """BR-63."""
    sound = helped("unplugged")
    qtbot.waitUntil(lambda: sound.said == [(False, "unplugged")])
    sound.desk.test()
    qtbot.waitUntil(lambda: sound.said[-1] == (True, READY))


def test_a_helper_that_does_not_end_is_ended(helped: Opener, qtbot: QtBot) -> None:
    sound = helped("stubborn")
    qtbot.waitUntil(lambda: len(sound.said) == 1)
    assert sound.desk.stop(wait_ms=200) is False


REAL = """
import sys
from pathlib import Path
from PySide6.QtCore import QCoreApplication
from station.ui.sound import SoundDesk
app = QCoreApplication([])
desk = SoundDesk(Path(sys.argv[1]))
def told(ok, text):
    sys.stdout.buffer.write(f"{ok}|{text}".encode())
    app.quit()
desk.state_changed.connect(told)
app.exec()
assert "PySide6.QtMultimedia" not in sys.modules
sys.exit(0 if desk.stop() else 1)
"""
OUTPUTS = """
import sys
from PySide6.QtCore import QCoreApplication
from PySide6.QtMultimedia import QMediaDevices
app = QCoreApplication([])
sys.stdout.write(str(QMediaDevices.defaultAudioOutput().isNull()))
"""


def ran(script: str, *arguments: str) -> str:
    command = [sys.executable, "-c", script, *arguments]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode()


def test_the_real_helper_tells_whether_this_pc_has_an_output() -> None:
    """BR-62, BR-63: with whatever this machine has; a build machine usually has none, and then says so."""
    ok, text = ran(REAL, str(SOUNDS)).split("|")
    assert ok == str(ran(OUTPUTS) == "False")
    assert text == READY if ok == "True" else "No sound output" in text


def test_the_real_helper_says_what_is_missing_and_ends_with_its_input(tmp_path: Path) -> None:
    """BR-63; a helper must not outlive a station that was killed."""
    folder = shutil.copytree(SOUNDS, tmp_path / "Kühlraum ë 최")
    sound_file(folder, "stop").unlink()
    command = [sys.executable, "-m", "station.ui.sound_helper", str(folder)]
    done = subprocess.run(command, cwd=ROOT, input=b"play use\n", capture_output=True, timeout=60, check=False)
    lines = done.stdout.decode().splitlines()
    assert done.returncode == 0
    assert lines[0].startswith("state 0 The sound stop.wav is missing")
    assert lines.count("answer") >= 2
