"""Files of invented room loggers, five minutes apart, the newest row some minutes before a given time."""

from datetime import datetime, timedelta, tzinfo
from pathlib import Path

ROWS = 12


def hall(
    now: datetime, zone: tzinfo, *, minutes: float = 3, head: str = "Time,Hall (°C),RH %", air: str = "22.5,45"
) -> str:
    """Local times without a zone; only the last row has the air that is told, those before are one degree cooler."""
    newest = (now - timedelta(minutes=minutes)).astimezone(zone)
    before = [newest - timedelta(minutes=5 * step) for step in range(ROWS - 1, 0, -1)]
    rows = [f"{at:%Y-%m-%d %H:%M:%S},21.5,44" for at in before]
    return "\n".join([head, *rows, f"{newest:%Y-%m-%d %H:%M:%S},{air}", ""])


def written(folder: Path, text: str, name: str = "hall.csv") -> Path:
    """The text as a file."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path
