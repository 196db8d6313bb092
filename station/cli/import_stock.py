"""`station import-stock FILE.csv`: take in the stock that was there before the station, or list every fault first."""

from argparse import Namespace
from collections import Counter
from hashlib import sha256
from pathlib import Path

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in, routed, target_at, template_for
from station.care.facts import LabelSent, Received
from station.cli.by_badge import signed_in
from station.cli.restored import refuse_unstarted
from station.cli.saying import NO, YES, complain, say
from station.clock import SystemClock
from station.journal.store import Journal
from station.labels.target import PrintTarget, SlowTarget
from station.printing.png_labels import PngLabels
from station.services.opening import opening_bodies
from station.services.outcome import Outcome, Refusal
from station.services.site import Site
from station.services.station import Station
from station.services.stock_import import import_stock, refuse_twice, unfit
from station.services.stock_rows import StockFault, StockRow
from station.settings.load import load
from station.settings.stock_file import DayOrder, read_stock

MOST_BYTES_READ = 20_000_000


def run(told: Namespace) -> int:
    """Faults are the answer "no": nothing is taken in then, however few they are."""
    site = load(told.config)
    data = _bytes(told.file)
    read = read_stock(data, site.zone, DayOrder(told.dates) if told.dates else None)
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        refuse_unstarted(journal)
        target = _target(site, told)
        try:
            station = build_station(site, journal, SystemClock(), keys, target, journal.own)
            if any(True for _ in opening_bodies(site, station.ledger)):
                raise Refusal(
                    "settings-newer",
                    "The settings are not yet what the station works by. Start it once with them, then import.",
                )
            return _take_in(station, told, sha256(data).hexdigest(), read.rows, read.faults)
        finally:
            if isinstance(target, SlowTarget):
                target.close()


def _target(site: Site, told: Namespace) -> PrintTarget:
    """Where identity labels go: into a folder as PNG, where the labels of a place come out, or nowhere."""
    folder, place = told.labels, told.print_at
    if place is not None and not told.dry_run:
        return target_at(site, told.data, place)
    if folder is None:
        return NoPrinter()
    return routed(site, lambda label: PngLabels(folder, template_for(site, label), label.dpi))


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
    faults = sorted((*of_file, *unfit(floor, rows)), key=lambda fault: fault.row)
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
    person = signed_in(station, told.by)
    outcome, numbers = import_stock(station, told.file.name, digest, rows)
    if told.labels is not None or told.print_at is not None:
        outcome = station.identify(numbers, outcome, person, told.print_at or "")
    station.stop("stock was taken in")
    for row, number in zip(rows, numbers, strict=True):
        say(
            f"  {number.replace('-', ' ')}  row {row.row}: {row.paste} {row.kind}, lot {row.lot}, {row.store} {row.bin}"
        )
    if outcome.trouble:
        complain([outcome.trouble])
    for line in _printed(station, numbers, told.print_at) if told.print_at else _stick(told.labels, outcome):
        say(line)
    return YES


def _printed(station: Station, numbers: tuple[str, ...], place: str) -> list[str]:
    """What became of each label, as far as the queue has said by now, and what is left to do by hand."""
    sent = [name for name in numbers if _was_sent(station, name)]
    title = station.site.place(place).title
    lines = [f"done: {len(numbers)} containers. {len(sent)} identity labels were handed over to print at {title}."]
    lost = [name.replace("-", " ") for name in numbers if name not in sent]
    again = "Write the number on each, or print it once more at the shift desk: Stock and stores, Identity label."
    return [*lines, f"No label, or nobody knows: {', '.join(lost)}. {again}"] if lost else lines


def _was_sent(station: Station, name: str) -> bool:
    return any(isinstance(fact.body, LabelSent) for fact in station.ledger.history("container", name))


def _stick(folder: Path | None, outcome: Outcome) -> list[str]:
    """What is left to do by hand."""
    taken = sum(1 for fact in outcome.facts if isinstance(fact.body, Received))
    made = sum(1 for fact in outcome.facts if isinstance(fact.body, LabelSent))
    done = f"done: {taken} containers."
    if folder is None:
        return [f"{done} Write each number on its container until its identity label is printed."]
    lines = [f"{done} {made} identity labels are in {folder}. Print them at 100 %, stick each on its container."]
    return [*lines, "Write the number on whatever has no label."] if made < taken else lines


def _summary(rows: tuple[StockRow, ...]) -> list[str]:
    counted = Counter((row.paste, row.kind, row.store) for row in rows)
    lines = [f"  {many:>4} {paste} {kind} in {store}" for (paste, kind, store), many in sorted(counted.items())]
    cold = "Each counts as kept cold since it arrived"
    out = sum(1 for row in rows if row.out)
    if out:
        return [*lines, f"{cold}, but for its out minutes, which shorten its room life ({out} of {len(rows)} rows)."]
    return [*lines, f"{cold}; of what was out meanwhile say the minutes in a column out minutes."]
