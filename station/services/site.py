"""What a site has set up, as the program uses it: typed, whole and without faults."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from station.care.specification import Plant, Specification
from station.care.words import Place, Role
from station.labels.makers.setting import MakersSetting
from station.services.scanner import ScannerSetting


@dataclass(frozen=True, slots=True)
class PlaceSetting:
    """One place a station may serve. `store` is set at a fridge door, `positions` at a printer.

    `label_printer` says that labels come out within reach of a printer or a dispenser.
    """

    id: str
    kind: Place
    title: str
    store: str | None
    positions: tuple[str, ...]
    label_printer: bool = False


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody known to the site. `pin` is a plain argon2id hash, or the digits only where the site is a demo."""

    id: str
    name: str
    roles: tuple[Role, ...]
    pin: str | None
    training_until: date | None = None


@dataclass(frozen=True, slots=True)
class Shift:
    """A shift by its start in plant time and its length."""

    name: str
    starts: str
    length: timedelta
    days: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LabelSetting:
    """Which template a place prints, at which printer resolution (dots per inch).

    `queue` is the printer queue of this PC; "" while labels go into a folder. A label that waited in the queue for
    `taken_back_after` is taken back.
    """

    template: str
    dpi: int
    queue: str = ""
    taken_back_after: timedelta = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class LabelRule:
    """A template and printer for the labels of some `kinds` of container, of some `places`, or both; () is all."""

    kinds: tuple[str, ...]
    places: tuple[str, ...]
    label: LabelSetting

    def is_for(self, kind: str, place: str) -> bool:
        """Whether the labels of this kind of container, at this place, are printed so."""
        return (not self.kinds or kind in self.kinds) and (not self.places or place in self.places)


@dataclass(frozen=True, slots=True)
class Site:
    """The whole set-up of one site and of this station within it."""

    name: str
    folder: Path
    zone: ZoneInfo
    station: int
    plant: Plant
    specifications: tuple[Specification, ...]
    places: tuple[PlaceSetting, ...]
    home_place: str
    home_after: timedelta
    people: tuple[Person, ...]
    shifts: tuple[Shift, ...]
    label: LabelSetting
    templates: dict[str, dict[str, object]]
    work_order_pattern: str
    scanner: ScannerSetting = field(default_factory=ScannerSetting)
    makers: MakersSetting = field(default_factory=MakersSetting)
    currency: str = ""
    label_for: tuple[LabelRule, ...] = ()

    def label_at(self, kind: str, place: str) -> LabelSetting:
        """Template and printer for the labels of a container kind at a place; "" for what is no container's."""
        return next((rule.label for rule in self.label_for if rule.is_for(kind, place)), self.label)

    def place(self, id_: str) -> PlaceSetting:
        """The place called `id_`; KeyError names it."""
        return {place.id: place for place in self.places}[id_]
