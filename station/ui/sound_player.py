"""Sound by Qt's multimedia part. Imported only by the sound helper, so that a PC without it still has a screen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QTimer
from PySide6.QtMultimedia import QAudio, QAudioDevice, QAudioFormat, QAudioSink, QMediaDevices

from station.ui import pcm

NO_OUTPUT = "No sound output on this PC. Plug in a loudspeaker, or choose one in the system's sound settings."
NOT_TAKEN = "The sound output takes no sound. Look at the system's sound settings."
GRACE_MS = 8_000  # a sound that has not ended so long after its time is not being played
FORMS = {
    QAudioFormat.SampleFormat.Int16: "int16",
    QAudioFormat.SampleFormat.Int32: "int32",
    QAudioFormat.SampleFormat.Float: "float",
    QAudioFormat.SampleFormat.UInt8: "uint8",
}


def form_for(device: QAudioDevice, rate: int) -> QAudioFormat:
    """One channel of 16 bits at the file's rate if the output takes it, else what the output likes best."""
    form = QAudioFormat()
    form.setSampleRate(rate)
    form.setChannelCount(1)
    form.setSampleFormat(QAudioFormat.SampleFormat.Int16)
    return form if device.isFormatSupported(form) else device.preferredFormat()


class Playing(QObject):
    """One sound on its way out; `done` tells once whether the output took it whole."""

    def __init__(self, sound: pcm.Mono, device: QAudioDevice, done: "Callable[[Playing, bool], None]") -> None:
        super().__init__()
        self._done = done
        form = form_for(device, sound.rate)
        there = pcm.at_rate(sound, form.sampleRate())
        self._data = QByteArray(pcm.packed(there, FORMS[form.sampleFormat()], form.channelCount()))
        self._buffer = QBuffer(self._data, self)
        self._buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        self._sink = QAudioSink(device, form, self)
        self._sink.stateChanged.connect(self._state_changed)
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.timeout.connect(lambda: self._end(taken=False))
        self._late.start(round(sound.seconds * 1000) + GRACE_MS)
        self._sink.start(self._buffer)

    def close(self) -> None:
        """Be silent, and go."""
        self._late.stop()
        self._sink.stateChanged.disconnect(self._state_changed)
        self._sink.stop()
        self.deleteLater()

    def _state_changed(self, state: QAudio.State) -> None:
        if state == QAudio.State.IdleState and self._buffer.atEnd():
            self._end(taken=True)
        elif state == QAudio.State.StoppedState:
            self._end(taken=False)

    def _end(self, *, taken: bool) -> None:
        self.close()
        self._done(self, taken)


class SinkPlayer:
    """Plays files on the output that is the default at that moment."""

    def __init__(self, changed: Callable[[], None]) -> None:
        """`changed` is called when outputs come or go, and when a sound turns out not to be heard."""
        self._changed = changed
        self._taken = True
        self._devices = QMediaDevices()
        self._devices.audioOutputsChanged.connect(changed)
        self._sounds: dict[Path, pcm.Mono] = {}
        self._playing: list[Playing] = []

    def trouble(self) -> str:
        """Why nothing could be heard now; empty if all is well."""
        if QMediaDevices.defaultAudioOutput().isNull():
            return NO_OUTPUT
        return "" if self._taken else NOT_TAKEN

    def play(self, file: Path) -> None:
        """Play a file. OSError, ValueError or wave.Error where it is no sound."""
        device = QMediaDevices.defaultAudioOutput()
        if device.isNull():
            return
        if file not in self._sounds:
            self._sounds[file] = pcm.load(file)
        self._playing.append(Playing(self._sounds[file], device, self._done))

    def close(self) -> None:
        """Let go of everything."""
        for playing in self._playing:
            playing.close()
        self._playing.clear()
        self._devices.deleteLater()

    def _done(self, playing: Playing, taken: bool) -> None:
        if playing in self._playing:
            self._playing.remove(playing)
        if taken != self._taken:
            self._taken = taken
            self._changed()
