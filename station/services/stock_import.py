"""Taking in stock that was there before the station: all rows or none, in one append, and each file only once."""

from collections.abc import Iterator, Sequence
from datetime import timedelta

from station.care import facts as f
from station.care.facts import Body
from station.care.floor import Floor
from station.care.receiving import Arrival, ArrivalRefused, receive
from station.care.saying import day_time
from station.care.verdict import Decision, Verdict
from station.care.words import Word
from station.services.outcome import Outcome, Refusal
from station.services.station import Station
from station.services.stock_rows import StockFault, StockRow


def unfit(floor: Floor, told: Sequence[StockRow]) -> tuple[StockFault, ...]:
    """Everything that speaks against taking these in, row by row."""
    fill: dict[tuple[str | None, str | None], int] = {}
    for found in floor.alive():
        fill[(found.store, found.bin)] = fill.get((found.store, found.bin), 0) + 1
    return tuple(fault for row in told for fault in _unfit(floor, row, fill))


def _unfit(floor: Floor, row: StockRow, fill: dict[tuple[str | None, str | None], int]) -> Iterator[StockFault]:
    try:
        receive(floor, _arrival(row, f"row {row.row}"))
    except ArrivalRefused as refused:
        yield StockFault(row.row, "", str(refused))
    else:
        yield from _too_long_out(floor, row)
    store, paste = floor.plant.stores.get(row.store), floor.plant.pastes.get(row.paste)
    if store is None:
        yield StockFault(
            row.row, "store", f"There is no store {row.store!r}. Choose from {', '.join(floor.plant.stores)}."
        )
        return
    if paste is not None and paste.storage is not store.storage:
        kept = f"{paste.id} is kept {paste.storage.value}, {store.title} is {store.storage.value}"
        yield StockFault(row.row, "store", f"{kept}. Name its own store, or discard it.")
    bin_ = next((entry for entry in store.bins if entry.id == row.bin), None)
    if bin_ is None:
        named = ", ".join(entry.id for entry in store.bins)
        yield StockFault(row.row, "bin", f"{store.title} has no bin {row.bin!r}. Choose from {named}.")
        return
    if bin_.hold:
        yield StockFault(
            row.row, "bin", f"{row.bin} is the hold bin. Take in what is on hold by hand at the shift desk."
        )
    if paste is not None and bin_.leaded != paste.alloy.leaded:
        only = "leaded" if bin_.leaded else "lead-free"
        yield StockFault(row.row, "bin", f"{row.bin} is for {only} paste only. Leaded and lead-free lie apart.")
    fill[(row.store, row.bin)] = fill.get((row.store, row.bin), 0) + 1
    if fill[(row.store, row.bin)] > bin_.capacity:
        yield StockFault(row.row, "bin", f"{row.bin} holds {bin_.capacity} at most. Name another bin.")


def _too_long_out(floor: Floor, row: StockRow) -> Iterator[StockFault]:
    """Longer out than a new one may take to the cold would be a hold, which a lead looks at container by container."""
    most = floor.specification(row.paste).to_cold
    if row.out > most:
        minutes = most // timedelta(minutes=1)
        said = f"{row.paste} may be out {minutes} min on its way to the cold. Take it in by hand at the shift desk."
        yield StockFault(row.row, "out minutes", said)
    elif row.arrived_at + row.out > floor.now:
        yield StockFault(row.row, "out minutes", "It has not been here for so long. Check it, and when it arrived.")


def _arrival(row: StockRow, name: str) -> Arrival:
    return Arrival(
        container=name,
        paste=row.paste,
        kind=row.kind,
        lot=row.lot,
        expires=row.expires,
        made=row.made,
        arrived_at=row.arrived_at,
        temperature_c=None,
        temperature_answer="not measured",
        leaking=False,
    )


def refuse_twice(floor: Floor, digest: str) -> None:
    """Refusal for a file, by its SHA-256, that was taken in before."""
    before = floor.ledger.imported.get(digest)
    if before is not None:
        at = day_time(before.at, floor.now, floor.zone)
        raise Refusal("imported-before", f"This very file was taken in {at}. Take in only what is new, as a new file.")


def import_stock(station: Station, file: str, digest: str, told: Sequence[StockRow]) -> tuple[Outcome, tuple[str, ...]]:
    """Take in all of these or none: `received` and `put-away` of each, in one append. Raises Refusal.

    Gives the container numbers in the order of the rows. They count as cold since they arrived, but for the
    minutes the file owns up to: that is what whoever made it says by naming the bin.
    """
    refuse_twice(station.floor(), digest)
    faults = unfit(station.floor(), told)
    if faults:
        raise Refusal("unfit", f"row {faults[0].row}: {faults[0].sentence}")
    numbers = tuple(station.new_container() for _ in told)

    def decide(floor: Floor) -> Decision:
        bodies: list[Body] = [f.StockImported(file, digest, len(told))]
        for name, row in zip(numbers, told, strict=True):
            bodies.extend(receive(floor, _arrival(row, name)))
            bodies.append(f.PutAway(name, row.store, row.bin, returning=False, cold_since=row.arrived_at + row.out))
        why = f"{len(told)} containers of {file} are on record, {numbers[0]} to {numbers[-1]}."
        verdict = Verdict(Word.DONE, "imported", f"{len(told)} TAKEN IN", why, "Print their identity labels.")
        return Decision(verdict, tuple(bodies))

    return station.said(decide, station.place), numbers
