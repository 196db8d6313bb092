"""What the single files say, before it is known whether they agree with each other."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Generic, TypeVar
from zoneinfo import ZoneInfo

from station.care.cold_readings_rules import Instrument
from station.care.specification import Kind, Near, Paste, Position, Product, Rules, Specification, Store
from station.care.words import Limit
from station.labels.makers.setting import MakersSetting
from station.services.scanner import ScannerSetting
from station.services.site import LabelRule, LabelSetting, Person, PlaceSetting, Shift
from station.settings.table import Table

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Entry(Generic[T]):
    """One thing set up, with the table it was read from, so that a later fault can name its place."""

    item: T
    table: Table


@dataclass(frozen=True, slots=True)
class Header:
    """What site.toml says. `tables` holds its inner tables by name, the whole file as "site"."""

    name: str
    zone: ZoneInfo | None
    station: int
    rules: Rules
    near: dict[Limit, Near]
    home_place: str
    home_after: timedelta
    label: LabelSetting
    label_for: tuple[tuple[LabelRule, Table], ...]
    scanner: ScannerSetting
    makers: MakersSetting
    pattern: str
    example_product: str | None
    currency: str
    tables: dict[str, Table]


@dataclass(frozen=True, slots=True)
class PasteEntry:
    """A paste with the kinds it is bought in and its handling limits."""

    paste: Paste
    bought_in: tuple[str, ...]
    limits: Specification


@dataclass(slots=True)
class Parts:
    """The content of every file; None for a file that can't be read at all, so nothing is compared with it."""

    header: Header | None = None
    kinds: list[Entry[Kind]] | None = None
    pastes: list[Entry[PasteEntry]] | None = None
    stores: list[Entry[Store]] | None = None
    instruments: list[Entry[Instrument]] | None = None
    lines: list[Entry[tuple[Position, ...]]] | None = None
    places: list[Entry[PlaceSetting]] | None = None
    people: list[Entry[Person]] | None = None
    products: list[Entry[Product]] | None = None
    shifts: list[Entry[Shift]] | None = None
    templates: dict[str, dict[str, object]] | None = None
