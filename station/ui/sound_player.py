"""Sound by Qt's multimedia part. Imported only for sound, so that a PC without it still has a screen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtMultimedia import QMediaDevices, QSoundEffect

NO_OUTPUT = "No sound output on this PC. Plug in a loudspeaker, or choose one in the system's sound settings."


class EffectPlayer:
    """Plays files on the output that is the default at that moment. Lives wholly in the thread that made it."""

    def __init__(self, changed: Callable[[], None]) -> None:
        """`changed` is called when outputs come or go, and when a sound turns out to be unplayable."""
        self._changed = changed
        self._devices = QMediaDevices()
        self._devices.audioOutputsChanged.connect(changed)
        self._effects: dict[Path, QSoundEffect] = {}

    def trouble(self) -> str:
        """Why nothing could be heard now; empty if all is well."""
        if QMediaDevices.defaultAudioOutput().isNull():
            return NO_OUTPUT
        broken = [path for path, effect in self._effects.items() if effect.status() == QSoundEffect.Status.Error]
        if broken:
            return f"The sound {broken[0].name} can't be played here. Look at the system's sound settings."
        return ""

    def play(self, file: Path) -> None:
        """Play a file from its start; a sound that is still playing starts over."""
        device = QMediaDevices.defaultAudioOutput()
        if device.isNull():
            return
        effect = self._effects.get(file)
        if effect is None or effect.status() == QSoundEffect.Status.Error:
            effect = self._effects[file] = QSoundEffect(device)
            effect.statusChanged.connect(self._changed)
            effect.setSource(QUrl.fromLocalFile(str(file)))
        elif effect.audioDevice() != device:
            effect.setAudioDevice(device)
        effect.play()

    def close(self) -> None:
        """Let go of everything, in the thread that made it."""
        for effect in self._effects.values():
            effect.stop()
            effect.deleteLater()
        self._effects.clear()
        self._devices.deleteLater()
