"""`station import-stock FILE.csv`: take in the stock that was there before the station, or list every fault first."""

from argparse import Namespace
from collections import Counter
from hashlib import sha256
from pathlib import Path

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.cli.saying import NO, YES, complain, say
from station.clock import SystemClock
from station.journal.store import Journal
from station.services.opening import opening_bodies
from station.services.outcome import Refusal
from station.services.station import Station
from station.services.stock_import import Existing, import_stock, refuse_twice, unfit
from station.settings.load import load
from station.settings.stock_file import DayOrder, StockFault, StockRow, read_stock

MOST_BYTES_READ = 20_000_000


def run(told: Namespace) -> int:
    """Faults are the answer "no": nothing is taken in then, however few they are."""
    site = load(told.config)
    data = _bytes(told.file)
    read = read_stock(data, site.zone, DayOrder(told.dates) if told.dates else None)
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        station = build_station(site, journal, SystemClock(), keys, NoPrinter())
        if any(True for _ in opening_bodies(site, station.ledger)):
            raise Refusal(
                "settings-newer",
                "The settings are not yet what the station works by. Start it once with them, then import.",
            )
        return _take_in(station, told, sha256(data).hexdigest(), read.rows, read.faults)


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES_READ)
    except OSError as trouble:
        raise Refusal("no-file", f"{path} can't be read: {trouble.strerror}. Name a CSV file.") from trouble


def _take_in(
    station: Station, told: Namespace, digest: str, rows: tuple[StockRow, ...], of_file: tuple[StockFault, ...]
) -> int:
    floor = station.floor()
    refuse_twice(floor, digest)
    existing = tuple(_existing(row) for row in rows)
    of_plant = (StockFault(bad.row, bad.column, bad.sentence) for bad in unfit(floor, existing))
    faults = sorted((*of_file, *of_plant), key=lambda fault: fault.row)
    if faults:
        complain(map(str, faults))
        many = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        say(f"{many} in {told.file.name}: nothing is taken in. {len(rows)} rows could be read.")
        return NO
    for line in _summary(rows):
        say(line)
    if told.dry_run:
        say("dry run: nothing is recorded. Leave out --dry-run to take these in.")
        return YES
    _, numbers = import_stock(station, told.file.name, digest, existing)
    station.stop("stock was taken in")
    for row, number in zip(rows, numbers, strict=True):
        say(
            f"  {number.replace('-', ' ')}  row {row.row}: {row.paste} {row.kind}, lot {row.lot}, {row.store} {row.bin}"
        )
    say(f"done: {len(numbers)} containers. Write each number on its container until its identity label is printed.")
    return YES


def _existing(row: StockRow) -> Existing:
    return Existing(row.row, row.paste, row.kind, row.lot, row.expires, row.made, row.store, row.bin, row.arrived_at)


def _summary(rows: tuple[StockRow, ...]) -> list[str]:
    counted = Counter((row.paste, row.kind, row.store) for row in rows)
    lines = [f"  {many:>4} {paste} {kind} in {store}" for (paste, kind, store), many in sorted(counted.items())]
    return [*lines, "Each counts as kept cold since it arrived; what was warm meanwhile must not be in the file."]
