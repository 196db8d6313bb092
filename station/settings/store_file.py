"""stores.toml: refrigerators, freezers and shelves with their bins and temperature limits."""

from station.care.cold_readings_rules import Instrument
from station.care.specification import Bin, Store
from station.care.words import Storage
from station.settings import fields
from station.settings.parts import Entry
from station.settings.store_readings import check_dead_band, read_care, read_instruments
from station.settings.table import Table

BIN_USES = ("lead-free", "leaded", "hold")
LIMITS_C = {Storage.COLD: (-2.0, 15.0), Storage.FROZEN: (-80.0, 0.0), Storage.ROOM: (5.0, 35.0)}
"""What a store of each class can sensibly be set to, in degrees Celsius (common practice, no source)."""


def read_stores(root: Table) -> list[Entry[Store]]:
    """The stores with their bins. The file may name instruments too, for `instruments_in` to read."""
    found = [Entry(_store(table), table) for table in root.tables("store")]
    if "instrument" in root:
        root.tables("instrument")
    root.close()
    return found


def instruments_in(root: Table) -> list[Entry[Instrument]]:
    """The instruments of the stores; none where the file names none."""
    ids = (table.values.get("id") for table in root.tables("store"))
    return read_instruments(root, [id_ for id_ in ids if isinstance(id_, str)])


def _store(table: Table) -> Store:
    storage = table.read("storage", fields.choice(Storage))
    least, most = LIMITS_C[storage] if table.ok("storage") else (-80.0, 35.0)
    bins = [(_bin(inner), inner) for inner in table.tables("bins")]
    store = Store(
        id=table.read("id", fields.identifier()),
        title=table.read("title", fields.text(40)),
        storage=storage,
        low_c=table.read("low", fields.celsius(least, most)),
        high_c=table.read("high", fields.celsius(least, most)),
        bins=tuple(found for found, _ in bins),
        care=read_care(table, storage),
    )
    check_dead_band(table, store)
    if table.ok("low", "high") and store.low_c >= store.high_c:
        table.fault("low", f"it is not below high, {store.high_c:g} C", "Make low the smaller one")
    if table.ok("bins") and all(inner.ok("for") for _, inner in bins):
        _one_hold_bin(table, store)
    table.close()
    return store


def _bin(table: Table) -> Bin:
    use = table.read("for", fields.one_of(BIN_USES))
    found = Bin(
        id=table.read("id", fields.identifier()),
        capacity=table.read("capacity", fields.whole(1, 1_000)),
        leaded=use == "leaded",
        hold=use == "hold",
    )
    table.close()
    return found


def _one_hold_bin(table: Table, store: Store) -> None:
    holds = [bin_.id for bin_ in store.bins if bin_.hold]
    if len(holds) != 1:
        reason = f"it has {len(holds)} hold bins" if holds else "it has no hold bin"
        shown = f"[{', '.join(holds or [bin_.id for bin_ in store.bins])}]"
        table.fault("bins", reason, 'Give exactly one bin for = "hold"', value=shown)
