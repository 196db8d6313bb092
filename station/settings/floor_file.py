"""places.toml, products.toml and shifts.toml: where stations stand, what is built, and when people work."""

from datetime import timedelta

from station.care.specification import Position, Product
from station.care.words import Holder, Place
from station.services.site import PlaceSetting, Shift
from station.settings import fields
from station.settings.parts import Entry
from station.settings.table import Table

WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
"""Days of the week as RFC 5545 writes them."""
_IDS = fields.several(fields.identifier())


def read_lines(root: Table) -> list[Entry[tuple[Position, ...]]]:
    """The lines of places.toml with their stencil positions; `read_places` closes the file."""
    return [Entry(_line(table), table) for table in root.tables("line")]


def _line(table: Table) -> tuple[Position, ...]:
    id_ = table.read("id", fields.identifier())
    positions = table.read("positions", _IDS)
    holder = table.read_optional("holds_paste_in", fields.choice(Holder)) or Holder.STENCIL
    table.close()
    return tuple(Position(position, id_, holder) for position in positions)


def read_places(root: Table) -> list[Entry[PlaceSetting]]:
    """The places of places.toml."""
    found = [Entry(_place(table), table) for table in root.tables("place")]
    root.close()
    return found


def _place(table: Table) -> PlaceSetting:
    kind = table.read("kind", fields.choice(Place))
    at_door = kind is Place.FRIDGE or not table.ok("kind")
    at_line = kind in (Place.PRINTER, Place.DISPENSER) or not table.ok("kind")
    place = PlaceSetting(
        id=table.read("id", fields.identifier()),
        kind=kind,
        title=table.read("title", fields.text(40)),
        store=_store_of(table, at_door),
        positions=table.read("positions", _IDS) if at_line and _given(table, "positions") else (),
        label_printer=_prints_there(table) if at_line else False,
    )
    if not at_line:
        table.refuse("positions", "only a printer or a dispenser serves stencil positions")
        table.refuse("label_printer", "only at a printer or a dispenser is paste opened")
    table.close()
    return place


def _store_of(table: Table, at_door: bool) -> str | None:
    if at_door and _given(table, "store"):
        return table.read("store", fields.identifier())
    table.refuse("store", "only a fridge door serves a store")
    return None


def _prints_there(table: Table) -> bool:
    """Whether labels come out within reach; most lines have no label printer, so the key may be left out."""
    return table.read_optional("label_printer", fields.flag()) or False


def _given(table: Table, key: str) -> bool:
    """Whether to read a key: always where the kind of place is known to need it, else only if it is there."""
    return table.ok("kind") or key in table


def read_products(root: Table) -> list[Entry[Product]]:
    """What work orders build."""
    found = [Entry(_product(table), table) for table in root.tables("product")]
    root.close()
    return found


def _product(table: Table) -> Product:
    product = Product(
        id=table.read("id", fields.identifier()),
        title=table.read("title", fields.text(40)),
        pastes=table.read("pastes", _IDS),
    )
    table.close()
    return product


def read_shifts(root: Table) -> list[Entry[Shift]]:
    """The shifts."""
    found = [Entry(_shift(table), table) for table in root.tables("shift")]
    root.close()
    return found


def _shift(table: Table) -> Shift:
    shift = Shift(
        name=table.read("name", fields.text(20)),
        starts=table.read("starts", fields.time_of_day()),
        length=table.read("length", fields.duration(timedelta(minutes=30), timedelta(hours=24))),
        days=table.read("days", fields.several(fields.one_of(WEEKDAYS))),
    )
    table.close()
    return shift
