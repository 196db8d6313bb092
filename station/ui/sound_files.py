"""The sound files by name, and what is wrong with them. Read with the standard library: no device is needed."""

import wave
from pathlib import Path

from station.care.words import Priority

VERDICT_SOUNDS = ("use", "wait", "stop", "done")
ALARM_SOUNDS = {
    Priority.HIGH: "alarm-high",
    Priority.MEDIUM: "alarm-medium",
    Priority.LOW: "alarm-low",
}
NAMES = (*VERDICT_SOUNDS, *ALARM_SOUNDS.values())


def sound_file(folder: Path, name: str) -> Path:
    """The file of a sound."""
    return folder / f"{name}.wav"


def file_troubles(folder: Path) -> tuple[str, ...]:
    """A sentence for each sound that is missing or is no sound, whatever it is called."""
    return tuple(trouble for name in NAMES if (trouble := _trouble(sound_file(folder, name))))


def _trouble(path: Path) -> str:
    if not path.is_file():
        return f"The sound {path.name} is missing in {path.parent}. Install the station again."
    try:
        with wave.open(str(path), "rb") as file:
            frames = file.getnframes()
    except (OSError, EOFError, wave.Error):
        frames = 0
    return "" if frames else f"The sound {path} can't be read. Install the station again."
