"""The tour: one invented day played at simulated time, with pictures of its telling moments.

Writes summary.json, screens/*.png, labels/*.png and *.pdf, facts.csv into a folder. Runs on the offscreen
platform; nothing here waits.
"""

import csv
import json
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtWidgets import QApplication

from station.care.facts import AlarmAcknowledged, AlarmCleared, AlarmRaised, Fact, LabelSent
from station.care.ledger import Subject, subjects
from station.care.verdict import Verdict
from station.rehearsal.clock import SetClock
from station.rehearsal.tour_day import Done, TourDay
from station.services.ports import JournalPort
from station.services.station import Station
from station.ui.desk_work import DeskWork
from station.ui.screen import PlaceScreen
from station.ui.view_models import HealthMark

SIZE = (1600, 900)


class Tour:
    """Plays the day and keeps its pictures."""

    def __init__(self, station: Station, clock: SetClock, out: Path) -> None:
        """`station` was started on `clock` at the start of the day before the delivery."""
        self.day = TourDay(station, clock)
        self.work = DeskWork(station)
        self.work.health = {
            "scanner": HealthMark("Scanner", True, "ready"),
            "label": HealthMark("Label printer", True, "folder"),
            "disk": HealthMark("Disk", True, "ready"),
        }
        self.out = out
        self.screens = out / "screens"
        self.verdicts: Counter[str] = Counter()
        self.scans = 0
        self.pictures: list[str] = []
        self._screen = PlaceScreen()
        self._screen.resize(*SIZE)

    def play(self) -> None:
        """The whole day, with pictures; then the summary is written by `finish`."""
        self.screens.mkdir(parents=True, exist_ok=True)
        self.day.play(self._after)
        self._screen.deleteLater()

    def finish(self, journal: JournalPort) -> Path:
        """Write summary.json and facts.csv; returns the summary's path."""
        facts = tuple(journal.facts())
        write_facts(self.out / "facts.csv", facts)
        summary = {
            "site": self.work.station.site.name,
            "scans": self.scans,
            "verdicts": dict(sorted(self.verdicts.items())),
            "labels": sum(isinstance(fact.body, LabelSent) for fact in facts),
            "alarms": {
                "raised": sum(isinstance(fact.body, AlarmRaised) for fact in facts),
                "acknowledged": sum(isinstance(fact.body, AlarmAcknowledged) for fact in facts),
                "cleared": sum(isinstance(fact.body, AlarmCleared) for fact in facts),
            },
            "facts": len(facts),
            "pictures": self.pictures,
        }
        path = self.out / "summary.json"
        path.write_text(json.dumps(summary, indent=2) + "\n", encoding="utf-8")
        return path

    def _after(self, done: Done) -> None:
        verdict = done.outcome.verdict
        if done.act.scan is not None and verdict is not None:
            self.scans += 1
            self.verdicts[verdict.word.value] += 1
        if done.act.picture:
            self._picture(done.act.picture, done.act.place, verdict)

    def _picture(self, name: str, place: str, verdict: Verdict | None) -> None:
        self.work.station.place = place
        self.work.show_only(place, verdict)
        self._screen.show_model(self.work.screen())
        QApplication.processEvents()
        file = f"{len(self.pictures) + 1:02d}-{name}.png"
        self._screen.grab().save(str(self.screens / file))
        self.pictures.append(file)


def write_facts(path: Path, facts: tuple[Fact, ...]) -> None:
    """Every fact as one row of text, safe to open in a spreadsheet (nothing in it runs as a formula)."""
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        rows = csv.writer(file, quoting=csv.QUOTE_ALL)
        rows.writerow(("number", "at (UTC)", "station", "who", "fact", "about", "content"))
        for fact in facts:
            about = subjects(fact.body)
            row = (
                fact.seq,
                _utc(fact.at),
                fact.station,
                fact.who or "",
                fact.body.NAME,
                _named(about),
                repr(fact.body),
            )
            rows.writerow(_safe(str(value)) for value in row)


def _named(about: tuple[Subject, ...]) -> str:
    return ", ".join(name for _, name in about)


def _utc(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds")


def _safe(text: str) -> str:
    """Text that a spreadsheet would run as a formula gets an apostrophe in front."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text
