"""Files of invented loggers: paste that warms from 5 to 23 C by the closed form, with a logger's noise."""

import math
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

START = datetime(2026, 7, 3, 6, 0, tzinfo=UTC)
BERLIN = ZoneInfo("Europe/Berlin")
Sample = tuple[datetime, float, float]


def samples(tau_min: float, seed: int, *, lag_min: float = 10.0, hours: float = 4.0) -> list[Sample]:
    """Instant, paste and room, once a minute from the take-out on."""
    dice = random.Random(seed)
    found = []
    for minute in range(int(hours * 60)):
        paste = 23 - 18 * math.exp(-max(minute - lag_min, 0.0) / tau_min)
        found.append((START + timedelta(minutes=minute), paste + dice.gauss(0, 0.08), 23 + dice.gauss(0, 0.05)))
    return found


def plain(runs: list[Sample]) -> str:
    """ISO times with offset and named units: nothing is left open but which sensor is the room's."""
    rows = (f"{at.isoformat()},{paste:.2f},{room:.2f}" for at, paste, room in runs)
    return "\n".join(["Time,Probe °C,Room °C", *rows, ""])


def terse(runs: list[Sample]) -> str:
    """Days up to 12 with slashes, no zone, no unit: day order, zone and unit are left open."""
    rows = (f"{at.astimezone(BERLIN):%d/%m/%Y %H:%M:%S};{paste:.2f};{room:.2f}" for at, paste, room in runs)
    return "\n".join(["Stamp;Probe;Room", *rows, ""])


def written(folder: Path, *texts: str) -> tuple[Path, ...]:
    """The texts as files run1.csv, run2.csv and so on."""
    paths = tuple(folder / f"run{number}.csv" for number in range(1, len(texts) + 1))
    for path, text in zip(paths, texts, strict=True):
        path.write_text(text, encoding="utf-8")
    return paths


def four(folder: Path) -> tuple[Path, ...]:
    """Three runs that count and one that was stopped too soon."""
    good = [plain(samples(tau, seed)) for seed, tau in enumerate((44.0, 46.5, 45.0), 1)]
    return written(folder, *good, plain(samples(45.0, 9, hours=0.9)))
