"""What leaves the sound helper for an output: always the one that is the default now, and never without a word."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

import pytest
from PySide6.QtCore import QIODevice, QObject, Signal
from PySide6.QtMultimedia import QAudio, QAudioFormat
from pytestqt.qtbot import QtBot

from station.ui import pcm, sound_player
from station.ui.sound_files import sound_file
from station.ui.sound_player import NO_OUTPUT, NOT_TAKEN, SinkPlayer, form_for

SOUNDS = Path(__file__).parents[2] / "resources" / "sounds"
USE, STOP = sound_file(SOUNDS, "use"), sound_file(SOUNDS, "stop")


class Output:
    """An output as Qt tells of one; without a name it stands for none at all."""

    def __init__(self, name: str, *, plain: bool = True) -> None:
        self.name, self.plain = name, plain

    def isNull(self) -> bool:  # noqa: N802  Qt's name
        return not self.name

    def isFormatSupported(self, form: QAudioFormat) -> bool:  # noqa: N802  Qt's name
        return self.plain and form.isValid()

    def preferredFormat(self) -> QAudioFormat:  # noqa: N802  Qt's name
        form = QAudioFormat()
        form.setSampleRate(48_000)
        form.setChannelCount(2)
        form.setSampleFormat(QAudioFormat.SampleFormat.Float)
        return form


class Outputs(QObject):
    """The outputs of the PC: which is the default, and that they have changed."""

    audioOutputsChanged = Signal()  # noqa: N815  Qt's name
    now = Output("")

    @classmethod
    def defaultAudioOutput(cls) -> Output:  # noqa: N802  Qt's name
        return cls.now


class Sink(QObject):
    """What plays on one output; a test says how it goes."""

    stateChanged = Signal(QAudio.State)  # noqa: N815  Qt's name
    made: ClassVar["list[Sink]"] = []

    def __init__(self, output: Output, form: QAudioFormat, parent: QObject) -> None:
        super().__init__(parent)
        self.output, self.form, self.stopped = output, form, False
        self.source: QIODevice | None = None
        Sink.made.append(self)

    def start(self, source: QIODevice) -> None:
        self.source = source

    def stop(self) -> None:
        self.stopped = True

    def played_whole(self) -> int:
        """Take every byte, then say so; the number of bytes."""
        assert self.source is not None
        count = len(self.source.readAll().data())
        self.stateChanged.emit(QAudio.State.IdleState)
        return count

    def refused(self) -> None:
        """The output gives up."""
        self.stateChanged.emit(QAudio.State.StoppedState)


class Player:
    """A player on outputs of a test, and how often it said that something changed."""

    def __init__(self) -> None:
        self.changes = 0
        self.player = SinkPlayer(self._changed)

    def _changed(self) -> None:
        self.changes += 1

    def heard(self) -> list[str]:
        """The outputs played on, in order."""
        return [sink.output.name for sink in Sink.made]


@pytest.fixture
def outputs(qapp: object, monkeypatch: pytest.MonkeyPatch) -> Callable[[Output], None]:
    monkeypatch.setattr(sound_player, "QMediaDevices", Outputs)
    monkeypatch.setattr(sound_player, "QAudioSink", Sink)
    monkeypatch.setattr(Sink, "made", [])

    def choose(output: Output) -> None:
        monkeypatch.setattr(Outputs, "now", output)

    choose(Output("loudspeaker"))
    return choose


def test_each_sound_goes_to_the_output_that_is_the_default_then(outputs: Callable[[Output], None]) -> None:
    """BR-62: somebody plugs in a headset, or chooses another output, while alarms repeat."""
    at = Player()
    at.player.play(USE)
    outputs(Output("headset"))
    at.player.play(STOP)
    outputs(Output("loudspeaker"))
    at.player.play(USE)
    assert at.heard() == ["loudspeaker", "headset", "loudspeaker"]


def test_an_output_that_comes_or_goes_is_asked_about_at_once(outputs: Callable[[Output], None]) -> None:
    """BR-62."""
    outputs(Output(""))
    at = Player()
    assert at.player.trouble() == NO_OUTPUT
    at.player.play(USE)
    assert at.heard() == []
    outputs(Output("loudspeaker"))
    at.player._devices.audioOutputsChanged.emit()
    assert at.changes == 1
    assert at.player.trouble() == ""


def test_an_output_that_takes_no_sound_is_said_and_taken_back_with_the_next(
    outputs: Callable[[Output], None],
) -> None:
    """BR-63."""
    at = Player()
    at.player.play(USE)
    Sink.made[0].refused()
    assert (at.player.trouble(), at.changes) == (NOT_TAKEN, 1)
    at.player.play(USE)
    Sink.made[1].played_whole()
    assert (at.player.trouble(), at.changes) == ("", 2)
    assert all(sink.stopped for sink in Sink.made)


def test_an_output_that_never_ends_a_sound_is_not_playing_it(
    outputs: Callable[[Output], None], monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    """BR-62: a frozen sound server takes everything and plays nothing."""
    monkeypatch.setattr(sound_player, "GRACE_MS", 1 - round(pcm.load(USE).seconds * 1000))
    at = Player()
    at.player.play(USE)
    qtbot.waitUntil(lambda: at.player.trouble() == NOT_TAKEN)


def test_a_pause_before_the_end_is_not_the_end(outputs: Callable[[Output], None]) -> None:
    at = Player()
    at.player.play(USE)
    Sink.made[0].stateChanged.emit(QAudio.State.IdleState)
    assert not Sink.made[0].stopped
    assert at.player.trouble() == ""


@pytest.mark.parametrize(("plain", "rate", "channels"), [(True, 48_000, 1), (False, 48_000, 2)])
def test_the_sound_is_put_into_the_form_the_output_takes(
    outputs: Callable[[Output], None], plain: bool, rate: int, channels: int
) -> None:
    """BR-62: an output that takes neither one channel nor 16 bits still sounds, for as long."""
    output = Output("loudspeaker", plain=plain)
    outputs(output)
    at = Player()
    at.player.play(USE)
    (sink,) = Sink.made
    seconds = at.player._sounds[USE].seconds
    form = form_for(output, at.player._sounds[USE].rate)  # type: ignore[arg-type]  # stands in for Qt's
    assert form.channelCount() == channels
    whole = sink.played_whole()
    assert whole / form.bytesPerFrame() / form.sampleRate() == pytest.approx(seconds, abs=0.01)
    assert plain or form.sampleRate() == rate


def test_all_at_once_are_heard_and_all_end_with_the_player(outputs: Callable[[Output], None]) -> None:
    at = Player()
    for _ in range(3):
        at.player.play(STOP)
    at.player.close()
    assert [sink.stopped for sink in Sink.made] == [True] * 3


def test_only_the_helper_knows_of_the_multimedia_part() -> None:
    """BR-62: a sound system that crashes takes down the process that loaded it, so the window never does."""
    folder = Path(sound_player.__file__).parent
    users = [path.name for path in folder.rglob("*.py") if "QtMultimedia" in path.read_text(encoding="utf-8")]
    assert users == ["sound_player.py"]
    loads = [path.name for path in folder.rglob("*.py") if "import SinkPlayer" in path.read_text(encoding="utf-8")]
    assert loads == ["sound_worker.py"]
    assert sys.modules["station.ui.sound_player"] is sound_player
