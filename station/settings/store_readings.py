"""How stores.toml says what a store's readings come to, and which instruments measure it; all of it may be left out."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from station.care.cold_readings_rules import FREEZING_C, Instrument, Policy, StoreCare
from station.care.specification import Store
from station.care.words import Storage
from station.settings import fields
from station.settings.fields import Field
from station.settings.parts import Entry
from station.settings.quantities import Unfit
from station.settings.table import Table

USUAL = StoreCare()
LONGEST_DELAY = timedelta(hours=4)


def read_care(table: Table, storage: Storage) -> StoreCare:
    """What a store's readings come to; what is not said is as in `USUAL`, which holds."""
    policy = table.read_optional("excursion", fields.choice(Policy))
    dead_band = table.read_optional("dead_band", fields.celsius(0.0, 5.0))
    delay = table.read_optional("delay", fields.duration(timedelta(0), LONGEST_DELAY))
    if policy is Policy.CHARGE and storage is Storage.ROOM and table.ok("excursion", "storage"):
        table.fault("excursion", "what is kept at room has no time out of the cold", 'Write "log", "warn" or "hold"')
    return replace(
        USUAL,
        policy=USUAL.policy if policy is None else policy,
        dead_band_k=USUAL.dead_band_k if dead_band is None else dead_band,
        delay=USUAL.delay if delay is None else delay,
    )


def check_dead_band(table: Table, store: Store) -> None:
    """A fault where the dead band leaves nothing between the limits; in a refrigerator they begin at freezing."""
    if not table.ok("low", "high", "dead_band", "storage") or store.low_c >= store.high_c:
        return
    low = max(store.low_c, FREEZING_C) if store.storage is Storage.COLD else store.low_c
    if low + 2 * store.care.dead_band_k >= store.high_c:
        key = "dead_band" if "dead_band" in table else "high"
        reason = f"a dead band of {store.care.dead_band_k:g} C leaves nothing between {low:g} and {store.high_c:g} C"
        table.fault(key, reason, "Make dead_band smaller, or the limits wider")


def read_instruments(root: Table, stores: list[str]) -> list[Entry[Instrument]]:
    """The loggers and displays; a site need name none."""
    if "instrument" not in root:
        return []
    return [Entry(_instrument(table, stores), table) for table in root.tables("instrument")]


def _instrument(table: Table, stores: list[str]) -> Instrument:
    found = Instrument(
        id=table.read("id", fields.identifier()),
        store=table.read("store", fields.identifier()),
        calibration_due=table.read("calibration_due", day()),
    )
    if table.ok("store"):
        table.reference("store", found.store, stores, "store")
    table.close()
    return found


def day() -> Field[date]:
    """A day of the calendar, as text or as TOML's own date."""
    form = "a day such as 2027-03-31"

    def parse(value: object) -> date:
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        try:
            return date.fromisoformat(value if isinstance(value, str) else "")
        except ValueError:
            raise Unfit("it is no day of the calendar", f"Write {form}") from None

    return Field(form, parse, date.min)
