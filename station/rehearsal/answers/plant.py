"""The imagined plant of the decision table: each class of paste once, each kind of place once, nothing of a site.

All figures are common practice, no source: they are here to be read in examples, not to be used.
"""

from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from station.care.specification import (
    Band,
    BestChoice,
    Bin,
    ByLabel,
    Conditioning,
    Kind,
    Near,
    Pairing,
    Paste,
    Plant,
    Position,
    Product,
    Rules,
    Specification,
    Store,
    Thaw,
)
from station.care.words import Alloy, Holder, Limit, Place, Role, Shape, Storage
from station.labels.keys import KeyRing
from station.services.site import LabelSetting, Person, PlaceSetting, Site

ZONE = ZoneInfo("UTC")
KEYS = KeyRing({1: b"decision table, signs no real label"}, current=1)
LEAD, OPERATOR, ENGINEER, LEFT = "SHIFT-LEAD", "OPERATOR", "ENGINEER", "LEFT"
PIN = "0000"
# who may be asked for: the paste most states are of, one of the same family, a leaded one
SAME, OTHER, LEADED = "PASTE-C", "PASTE-N", "PASTE-L"


def _hours(count: float) -> timedelta:
    return timedelta(hours=count)


LIMITS = Specification(
    paste=SAME,
    version=1,
    approved_by=ENGINEER,
    data_sheet="example",
    page="1",
    to_cold=_hours(4),
    arrival_warn_above_c=25,
    arrival_hold_above_c=38,
    arrival_hold_below_c=0,
    shelf_months=None,
    conditioning=(Conditioning("JAR", _hours(4)), Conditioning("CARTRIDGE", _hours(4))),
    floor_c=19,
    room_life=_hours(7 * 24),
    open_life=_hours(24),
    stencil_life=_hours(8),
    pause_knead=_hours(0.5),
    pause_replace=_hours(1),
    cold_cycles=1,
    open_extension=_hours(12),
    room_extension=_hours(0),
    stencil_time_counts_as_open=True,
    return_within=None,
    thaw=None,
    printing_room_c=Band(20, 26),
    printing_humidity=Band(35, 60),
    mixings=1,
    decanted_life=_hours(8),
    used_paste_life=_hours(4),
    enclosed_life=_hours(6),
    near=tuple(
        (limit, Near(0.2, _hours(0.5), _hours(24))) for limit in (Limit.SHELF, Limit.ROOM, Limit.OPEN, Limit.STENCIL)
    ),
)
SPECIFICATIONS = (
    LIMITS,
    replace(LIMITS, paste=OTHER, cold_cycles=3, return_within=_hours(5)),
    replace(LIMITS, paste=LEADED, mixings=0, decanted_life=None, used_paste_life=None, enclosed_life=None),
    replace(
        LIMITS,
        paste="PASTE-F",
        thaw=Thaw(_hours(12), _hours(48)),
        arrival_warn_above_c=-5,
        arrival_hold_above_c=10,
        arrival_hold_below_c=-60,
    ),
    replace(LIMITS, paste="PASTE-R"),
    replace(LIMITS, paste="PASTE-D", approved_by=None),
)
PASTES = {
    name: Paste(name, number, name, f"Part {number}", alloy, "ROL0", "type 4", storage)
    for number, (name, alloy, storage) in enumerate(
        (
            (SAME, Alloy.SN_AG_CU, Storage.COLD),
            (OTHER, Alloy.SN_AG_CU, Storage.COLD),
            (LEADED, Alloy.SN_PB, Storage.COLD),
            ("PASTE-F", Alloy.SN_AG_CU, Storage.FROZEN),
            ("PASTE-R", Alloy.SN_AG_CU, Storage.ROOM),
            ("PASTE-D", Alloy.SN_AG_CU, Storage.COLD),
        ),
        start=1,
    )
}
KINDS = {
    "JAR": Kind("JAR", Shape.JAR, 500, False, _hours(1.2), _hours(0.2), True, False, "jar 500 g"),
    "CARTRIDGE": Kind("CARTRIDGE", Shape.CARTRIDGE, 600, False, _hours(1.2), _hours(0.2), True, True, "cartridge"),
}


def _store(name: str, title: str, storage: Storage, low_c: float, high_c: float, letter: str) -> Store:
    bins = (
        Bin(f"{letter}1", 20, leaded=False, hold=False),
        Bin(f"{letter}2", 2, leaded=True, hold=False),
        Bin(f"{letter}3", 2, leaded=False, hold=False),
        Bin(f"{letter}9", 20, leaded=False, hold=True),
    )
    return Store(name, title, storage, low_c, high_c, bins)


STORES = {
    store.id: store
    for store in (
        _store("FRIDGE", "Refrigerator", Storage.COLD, 2, 10, "A"),
        _store("FRIDGE2", "Second refrigerator", Storage.COLD, 2, 10, "B"),
        _store("FREEZER", "Freezer", Storage.FROZEN, -25, -15, "F"),
        _store("SHELF", "Shelf", Storage.ROOM, 18, 28, "S"),
    )
}
POSITIONS = {
    position.id: position
    for position in (
        Position("1", "LINE1"),
        Position("2A", "DUAL"),
        Position("2B", "DUAL"),
        Position("3", "LINE3"),
        Position("H1", "HEAD", Holder.HEAD),
        Position("D1", "DOTS", Holder.DISPENSER),
        Position("D2", "DOTS2", Holder.DISPENSER),
    )
}
PRODUCTS = {
    product.id: product
    for product in (
        Product("BOARD-A", "Board A", (SAME,)),
        Product("BOARD-B", "Board B, leaded (Pb)", (LEADED,)),
    )
}
RULES = Rules(
    demo=False,
    best_choice=BestChoice.WARN,
    by_label=ByLabel.LEAD,
    label_pairing=Pairing.REMIND,
    work_order_required=False,
    settle_after_put_away=timedelta(minutes=10),
    undo_within=timedelta(minutes=5),
    bounce=timedelta(seconds=3),
    sign_of_life=_hours(2),
    restart_mark=timedelta(minutes=15),
    right_action=timedelta(minutes=15),
    short_left=timedelta(minutes=30),
    assumed_room_c=23,
    assumed_humidity=45,
)
PLACES = (
    PlaceSetting("FRIDGE", Place.FRIDGE, "Refrigerator", "FRIDGE", ()),
    PlaceSetting("FRIDGE2", Place.FRIDGE, "Second refrigerator", "FRIDGE2", ()),
    PlaceSetting("FREEZER", Place.FRIDGE, "Freezer", "FREEZER", ()),
    PlaceSetting("SHELF", Place.FRIDGE, "Shelf", "SHELF", ()),
    PlaceSetting("LINE1", Place.PRINTER, "Line 1", None, ("1",)),
    PlaceSetting("DUAL", Place.PRINTER, "Dual-lane line 2", None, ("2A", "2B"), label_printer=True),
    PlaceSetting("LINE3", Place.PRINTER, "Line 3", None, ("3",)),
    PlaceSetting("HEAD", Place.PRINTER, "Line with an enclosed head", None, ("H1",)),
    PlaceSetting("DOTS", Place.DISPENSER, "Dispenser", None, ("D1",)),
    PlaceSetting("DOTS2", Place.DISPENSER, "Second dispenser", None, ("D2",)),
    PlaceSetting("BENCH", Place.BENCH, "Preparation bench", None, ()),
    PlaceSetting("DESK", Place.DESK, "Shift desk", None, ()),
)


def _people() -> tuple[Person, ...]:
    from argon2 import PasswordHasher  # noqa: PLC0415  # slow to load, and only the table itself needs it

    pin = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(PIN, salt=b"decision table")
    return (
        Person(OPERATOR, "Operator", (Role.OPERATOR,), None),
        Person(LEAD, "Shift lead", (Role.OPERATOR, Role.LEAD), pin),
        Person(ENGINEER, "Engineer", (Role.ENGINEER,), pin),
    )


@cache
def plant_site() -> Site:
    """The whole imagined site."""
    return Site(
        name="Example plant",
        folder=Path(),
        zone=ZONE,
        station=1,
        plant=Plant(PASTES, KINDS, STORES, POSITIONS, PRODUCTS, RULES),
        specifications=SPECIFICATIONS,
        places=PLACES,
        home_place="FRIDGE",
        home_after=timedelta(minutes=1),
        people=_people(),
        shifts=(),
        label=LabelSetting("60x40", 203),
        templates={},
        work_order_pattern="(?P<order>WO[0-9]+)-(?P<product>[A-Z-]+)",
    )


def site_under(rules: Rules) -> Site:
    """The same site with other handling choices."""
    site = plant_site()
    return site if rules == RULES else replace(site, plant=replace(site.plant, rules=rules))
