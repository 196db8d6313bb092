"""The command line run in this process, and data folders with a journal in them."""

import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.care.receiving import Arrival
from station.cli.main import main
from station.journal.store import Journal
from station.rehearsal.clock import SetClock
from station.settings.load import load
from tests.cli.answers import DEMO, Answer

Say = Callable[..., Answer]
START = datetime(2026, 11, 9, 5, 0, tzinfo=UTC)


@pytest.fixture
def station(capsys: pytest.CaptureFixture[str]) -> Say:
    """Runs one command: `station("verify", "--data", folder)`."""

    def run(*words: object) -> Answer:
        capsys.readouterr()
        try:
            code = main([str(word) for word in words])
        except SystemExit as ended:  # argparse ends the program by itself
            code = int(ended.code or 0)
        said = capsys.readouterr()
        return Answer(code, said.out, said.err)

    return run


@pytest.fixture
def data(tmp_path: Path, received: Path) -> Path:
    """A data folder of one's own after two containers were received."""
    return Path(shutil.copytree(received, tmp_path / "data"))


@pytest.fixture(scope="session")
def received(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that `data` is a copy of: nothing may change it."""
    folder = tmp_path_factory.mktemp("received") / "data"
    site, clock, target = load(DEMO), SetClock(START), NoPrinter()
    keys = keys_in(folder, create=True)
    with Journal.open(folder / JOURNAL_NAME) as journal:
        desk = build_station(site, journal, clock, keys, target)
        desk.start("test")
        for _ in range(2):
            desk.receive([_arrival(desk.new_container(), START)], "P12")
        clock.go_on(timedelta(minutes=1))
        desk.stop("test")
    return folder


def _arrival(container: str, at: datetime) -> Arrival:
    return Arrival(
        container=container,
        paste="SN-4",
        kind="JAR-500",
        lot="101",
        expires=at.date() + timedelta(days=100),
        made=None,
        arrived_at=at,
        temperature_c=8.0,
        temperature_answer="measured",
        leaking=False,
    )
