"""Sound by Qt's multimedia part. Imported only for sound, so that a PC without it still has a screen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, QUrl, Slot
from PySide6.QtMultimedia import QAudioDevice, QMediaDevices, QSoundEffect

NO_OUTPUT = "No sound output on this PC. Plug in a loudspeaker, or choose one in the system's sound settings."
NOT_TAKEN = "The sound output takes no sound. Look at the system's sound settings, then start the station again."
ENDED_BY_MS = 12_000  # the longest sound with a slow output behind it is over in 5 s


class Sound(QObject):
    """One file ready to be played. A sound server that died shows only in this: what was begun never ends."""

    def __init__(self, file: Path, device: QAudioDevice, changed: Callable[[], None]) -> None:
        super().__init__()
        self.taken = True
        self._changed = changed
        self._effect = QSoundEffect(device, self)
        self._end = QTimer(self)
        self._end.setSingleShot(True)
        self._end.setInterval(ENDED_BY_MS)
        self._end.timeout.connect(self._not_ended)
        self._effect.playingChanged.connect(self._playing_changed)
        self._effect.statusChanged.connect(self._status_changed)
        self._effect.setSource(QUrl.fromLocalFile(str(file)))

    @property
    def broken(self) -> bool:
        """True if the system can't make a sound of this file."""
        return self._effect.status() == QSoundEffect.Status.Error

    def play(self, device: QAudioDevice) -> None:
        """Play from the start on this output."""
        if self._effect.audioDevice() != device:
            self._effect.setAudioDevice(device)
        if not self._end.isActive():
            self._end.start()
        self._effect.play()

    def close(self) -> None:
        """Be silent, and go."""
        self._end.stop()
        self._effect.playingChanged.disconnect(self._playing_changed)
        self._effect.statusChanged.disconnect(self._status_changed)
        self._effect.stop()
        self.deleteLater()

    @Slot()
    def _playing_changed(self) -> None:
        if not self._effect.isPlaying():
            self._end.stop()
            self._set_taken(True)

    @Slot()
    def _status_changed(self) -> None:
        if self.broken:
            self._end.stop()
            self._changed()

    @Slot()
    def _not_ended(self) -> None:
        self._set_taken(False)

    def _set_taken(self, taken: bool) -> None:
        if taken != self.taken:
            self.taken = taken
            self._changed()


class EffectPlayer:
    """Plays files on the output that is the default at that moment. Lives wholly in the thread that made it."""

    def __init__(self, changed: Callable[[], None]) -> None:
        """`changed` is called when outputs come or go, and when a sound turns out not to be heard."""
        self._changed = changed
        self._devices = QMediaDevices()
        self._devices.audioOutputsChanged.connect(changed)
        self._sounds: dict[Path, Sound] = {}

    def trouble(self) -> str:
        """Why nothing could be heard now; empty if all is well."""
        if QMediaDevices.defaultAudioOutput().isNull():
            return NO_OUTPUT
        broken = [path for path, sound in self._sounds.items() if sound.broken]
        if broken:
            return f"The sound {broken[0].name} can't be played here. Look at the system's sound settings."
        return "" if all(sound.taken for sound in self._sounds.values()) else NOT_TAKEN

    def play(self, file: Path) -> None:
        """Play a file from its start; a sound that is still playing starts over."""
        device = QMediaDevices.defaultAudioOutput()
        if device.isNull():
            return
        if file in self._sounds and self._sounds[file].broken:
            self._sounds.pop(file).close()
        if file not in self._sounds:
            self._sounds[file] = Sound(file, device, self._changed)
        self._sounds[file].play(device)

    def close(self) -> None:
        """Let go of everything, in the thread that made it."""
        for sound in self._sounds.values():
            sound.close()
        self._sounds.clear()
        self._devices.deleteLater()
