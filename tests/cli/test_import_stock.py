"""`station import-stock`: every fault by row and column, all or nothing, and each file only once."""

from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from station.bootstrap import JOURNAL_NAME
from station.care import facts as f
from station.cli import import_stock
from station.clock import SystemClock
from station.journal.lock import FolderLock
from station.journal.store import Journal
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from tests.cli.answers import DEMO, Answer
from tests.cli.conftest import Say

HEAD = "paste,kind,lot,expires,store,bin,arrived"
GOOD = "SN-4,JAR-500,000123,2027-03-31,FRIDGE,A1,2026-11-02"


def bodies(data: Path) -> list[object]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.body for fact in journal.facts()]


def run(station: Say, data: Path, text: str | bytes, *words: str | Path) -> Answer:
    file = data.parent / "stock.csv"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return station("import-stock", file, "--config", DEMO, "--data", data, *words)


def test_stock_is_taken_in_with_its_lot_as_written_and_cold_since_it_arrived(station: Say, data: Path) -> None:
    answer = run(station, data, f"{HEAD}\n{GOOD}\n{GOOD}\n")
    assert answer.code == 0, answer.err
    assert "K1 003" in answer.out
    received = [body for body in bodies(data) if isinstance(body, f.Received)][2:]
    assert [(body.container, body.lot) for body in received] == [("K1-003", "000123"), ("K1-004", "000123")]
    put_away = [body for body in bodies(data) if isinstance(body, f.PutAway)]
    assert [body.cold_since for body in put_away] == [body.arrived_at for body in received]


def test_minutes_out_of_the_cold_since_it_arrived_shorten_its_room_life(station: Say, data: Path) -> None:
    answer = run(station, data, f"{HEAD},out_minutes\n{GOOD},45\n{GOOD},\n")
    assert answer.code == 0, answer.err
    assert "shorten its room life (1 of 2 rows)" in answer.out
    told = bodies(data)
    arrived = [body.arrived_at for body in told if isinstance(body, f.Received)][2:]
    cold = [body.cold_since for body in told if isinstance(body, f.PutAway)]
    assert cold == [arrived[0] + timedelta(minutes=45), arrived[1]]


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        ("1.5", "no number of minutes"),
        ("99999", "may be out"),
    ],
)
def test_out_minutes_that_can_not_be_are_refused(station: Say, data: Path, minutes: str, said: str) -> None:
    before = len(bodies(data))
    answer = run(station, data, f"{HEAD},out minutes\n{GOOD},{minutes}\n")
    assert (answer.code, len(bodies(data))) == (1, before)
    assert f"row 2, out minutes: {minutes}" in answer.err or f"row 2, out minutes: SN-4 {said}" in answer.err
    assert said in answer.err


def test_out_minutes_reach_into_no_future(station: Say, data: Path) -> None:
    now = SystemClock().read().wall.astimezone(ZoneInfo("Europe/Berlin")) - timedelta(minutes=30)
    row = GOOD.replace("2026-11-02", f"{now:%Y-%m-%d %H:%M}").replace("2027-03-31", f"{now.year + 1}-12-31")
    answer = run(station, data, f"{HEAD},out minutes\n{row},90\n")
    assert answer.code == 1
    assert "has not been here for so long" in answer.err


def test_an_identity_label_of_each_comes_into_the_named_folder(station: Say, data: Path, tmp_path: Path) -> None:
    folder = tmp_path / "labels"
    answer = run(station, data, f"{HEAD}\n{GOOD}\n{GOOD}\n", "--labels", folder)
    assert answer.code == 0, answer.err
    assert [path.name for path in sorted(folder.iterdir())] == ["K1-003-identity.png", "K1-004-identity.png"]
    assert f"2 identity labels are in {folder}" in answer.out
    sent = [body.container for body in bodies(data) if isinstance(body, f.LabelSent)]
    assert sent[-2:] == ["K1-003", "K1-004"]


def test_stock_is_taken_in_though_its_labels_can_not_be_written(station: Say, data: Path, tmp_path: Path) -> None:
    folder = tmp_path / "labels"
    folder.write_text("in the way", encoding="utf-8")
    answer = run(station, data, f"{HEAD}\n{GOOD}\n", "--labels", folder)
    assert answer.code == 0
    assert "cannot be written" in answer.err
    assert "Write the number on whatever has no label." in answer.out


def test_a_dry_run_says_what_would_come_and_records_nothing(station: Say, data: Path) -> None:
    before = len(bodies(data))
    answer = run(station, data, f"{HEAD}\n{GOOD}\n", "--dry-run")
    assert (answer.code, len(bodies(data))) == (0, before)
    assert "1 SN-4 JAR-500 in FRIDGE" in answer.out


def test_every_fault_is_said_by_row_and_column_and_nothing_is_taken_in(station: Say, data: Path) -> None:
    """BR-37 dates never guessed, BR-38 rubbish, BR-39 two-digit years, BR-70 a lot a spreadsheet has rewritten."""
    before = len(bodies(data))
    rows = [
        GOOD,
        GOOD.replace("2027-03-31", "12.07.2027"),
        GOOD.replace("2027-03-31", "10"),
        GOOD.replace("2027-03-31", "05/06/27"),
        GOOD.replace("000123", "4.7E+09"),
        GOOD.replace("FRIDGE", "CELLAR"),
        GOOD.replace("A1", "Z9"),
        GOOD.replace("SN-4", "XX-1"),
        "SN-4,JAR-500,1,2",
    ]
    answer = run(station, data, "\n".join([HEAD, *rows]))
    assert (answer.code, len(bodies(data))) == (1, before)
    said = answer.err.splitlines()
    assert [line.partition(":")[0] for line in said] == [
        "row 3, expires",
        "row 4, expires",
        "row 5, expires",
        "row 6, lot",
        "row 7, store",
        "row 8, bin",
        "row 9",
        "row 10",
    ]


@pytest.mark.parametrize(("order", "day"), [("day-first", "2027-07-12"), ("month-first", "2027-12-07")])
def test_declared_dates_are_read_as_declared_and_iso_ones_never_swapped(
    station: Say, data: Path, order: str, day: str
) -> None:
    rows = [GOOD.replace("2027-03-31", "12.07.2027"), GOOD.replace("2027-03-31", "2027-07-06")]
    assert run(station, data, "\n".join([HEAD, *rows]), "--dates", order).code == 0
    expires = [str(body.expires) for body in bodies(data) if isinstance(body, f.Received)][2:]
    assert expires == [day, "2027-07-06"]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_separators_quotes_and_a_byte_order_mark_are_taken(station: Say, data: Path, separator: str) -> None:
    """BR-68, BR-69."""
    lot = f'"4{separator}7 ""B"""'
    text = f"{HEAD}\n{GOOD}".replace(",", separator).replace("000123", lot)
    answer = run(station, data, b"\xef\xbb\xbf" + text.encode())
    assert answer.code == 0 if separator != "\t" else answer.code == 1
    if separator != "\t":
        assert [body.lot for body in bodies(data) if isinstance(body, f.Received)][2] == f'4{separator}7 "B"'


def test_open_or_warm_containers_are_refused_with_what_to_do(station: Say, data: Path) -> None:
    answer = run(station, data, f'{HEAD},opened,thaw start,grams\n{GOOD},yes,2026-11-01,1a\n{GOOD},no,,"499,5"\n')
    assert answer.code == 1
    assert answer.err.count("row 2, ") == 3
    assert "open or warm containers: discard or take in by hand at the shift desk" in answer.err


def test_the_same_file_is_not_taken_in_twice(station: Say, data: Path) -> None:
    assert run(station, data, f"{HEAD}\n{GOOD}\n").code == 0
    before = len(bodies(data))
    again = run(station, data, f"{HEAD}\n{GOOD}\n")
    assert (again.code, len(bodies(data))) == (2, before)
    assert "was taken in" in again.err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"\xff\xfe", "not UTF-8"),
        (b"\x00", "not text"),
        ("", "No header line"),
        (HEAD, "no row below"),
        (f"{HEAD},colour\n", "colour: This column is not known"),
        (f"{HEAD},lot\n", "stands there twice"),
        ("paste,kind,lot,store,bin\n", "arrived: This column is missing"),
        (f'{HEAD}\n"SN-4', "quotes do not close"),
        (f"{HEAD}\n{GOOD} 25:00", "no time of day"),
        (f"{HEAD}\n{GOOD.replace('-02', '-31')}", "There is no day 2026-11-31"),
        (f"{HEAD}\n{GOOD.replace('2027-03-31', '')}", "expiry date of the maker's label"),
    ],
)
def test_a_file_that_is_no_such_table_is_refused(station: Say, data: Path, text: str | bytes, said: str) -> None:
    answer = run(station, data, text)
    assert answer.code == 1
    assert said in answer.err


def test_it_is_refused_while_the_station_runs_and_where_there_is_no_file(station: Say, data: Path) -> None:
    with_lock = FolderLock.take(data)
    try:
        answer = run(station, data, f"{HEAD}\n{GOOD}\n")
    finally:
        with_lock.release()
    assert answer.code == 2
    assert answer.err.strip()
    missing = station("import-stock", data / "none.csv", "--config", DEMO, "--data", data)
    assert (missing.code, "can't be read" in missing.err) == (2, True)


def test_identity_labels_are_printed_where_those_of_a_place_come_out(station: Say, data: Path) -> None:
    pytest.importorskip("PySide6")
    answer = run(station, data, f"{HEAD}\n{GOOD}\n{GOOD}\n", "--print", "FRIDGE")
    assert answer.code == 0, answer.err
    assert "done: 2 containers. 2 identity labels were handed over to print at Paste refrigerator" in answer.out
    assert {path.stem for path in (data / "labels").iterdir()} >= {"K1-003-identity", "K1-004-identity"}
    sent = [(body.container, body.print_number) for body in bodies(data) if isinstance(body, f.LabelSent)][-2:]
    assert sent == [("K1-003", 0), ("K1-004", 0)]


def test_into_a_folder_and_to_a_printer_at_once_is_not_understood(station: Say, data: Path, tmp_path: Path) -> None:
    assert run(station, data, f"{HEAD}\n{GOOD}\n", "--print", "FRIDGE", "--labels", tmp_path).code == 2


def test_a_place_that_is_none_is_refused_before_anything_is_recorded(station: Say, data: Path) -> None:
    before = len(bodies(data))
    answer = run(station, data, f"{HEAD}\n{GOOD}\n", "--print", "DOOR-9")
    assert (answer.code, len(bodies(data))) == (2, before)
    assert "no place 'DOOR-9'" in answer.err
    assert "FRIDGE" in answer.err


def test_labels_that_did_not_come_out_are_named_with_what_to_do(
    station: Say, data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Jammed:
        name = "jammed"

        def send(self, content: LabelContent) -> str:
            raise LabelFault("jam", f"The printer took no label for {content.container}.")

    monkeypatch.setattr(import_stock, "target_at", lambda *_: Jammed())
    answer = run(station, data, f"{HEAD}\n{GOOD}\n{GOOD}\n", "--print", "FRIDGE")
    assert answer.code == 0
    assert "0 identity labels were handed over" in answer.out
    assert "No label, or nobody knows: K1 003, K1 004." in answer.out
    assert "Stock and stores, Identity label" in answer.out
