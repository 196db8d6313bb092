"""pastes.toml and kinds.toml: the pastes with their handling limits, and what they are packed in."""

from dataclasses import replace
from datetime import timedelta

from station.care import spec_drafts
from station.care.specification import Band, Conditioning, FigureSource, Kind, Paste, Specification, Thaw
from station.care.specification_change import values
from station.care.words import Alloy, Shape, Storage
from station.settings import fields
from station.settings.fields import Field, nearest
from station.settings.makers_part import read_maker_codes
from station.settings.parts import Entry, PasteEntry
from station.settings.table import Table

HIGHEST_PASTE_NUMBER = spec_drafts.HIGHEST_PASTE_NUMBER
LONGEST_OPEN_LIFE = spec_drafts.LONGEST_OPEN_LIFE
LONGEST_CONDITIONING = spec_drafts.LONGEST_CONDITIONING
LONGEST_PART_NUMBER = 24
"""The least a built-in label has room for, on paste filled into another container."""
LONGEST_NOTE = 120

HOUR, DAY, NONE = timedelta(hours=1), timedelta(days=1), timedelta(0)
NOT_FOR_ROOM = "a paste kept at room temperature never goes into the cold, so this limit has no meaning for it"
NOT_FROZEN = "only frozen paste is thawed in a refrigerator"
_ALLOWED = fields.allowed(HOUR, LONGEST_OPEN_LIFE)
_MINIMUM = fields.duration(timedelta(minutes=5), LONGEST_CONDITIONING)


def read_kinds(root: Table) -> list[Entry[Kind]]:
    """The container kinds."""
    found = [Entry(_kind(table), table) for table in root.tables("kind")]
    root.close()
    return found


def _kind(table: Table) -> Kind:
    shape = table.read("shape", fields.choice(Shape))
    tip_down = table.read("tip_down", fields.flag())
    if table.ok("shape", "tip_down") and tip_down and shape is Shape.JAR:
        table.fault("tip_down", "a jar has no tip", "Write false")
    kind = Kind(
        id=table.read("id", fields.identifier()),
        shape=shape,
        net_mass_g=table.read("net_mass", fields.grams(1, 5_000)),
        boxed=table.read("boxed", fields.flag()),
        time_constant=table.read("time_constant", fields.duration(timedelta(minutes=1), DAY)),
        dead_time=table.read("dead_time", fields.duration(NONE, timedelta(hours=6))),
        estimate=table.read("figures", fields.one_of(("estimate", "measured"))) == "estimate",
        tip_down=tip_down,
        title=table.read("title", fields.text(40)),
    )
    table.close()
    return kind


def read_pastes(root: Table) -> list[Entry[PasteEntry]]:
    """The pastes, each with its specification. Near rules are the site's and are added later."""
    found = [Entry(_paste_entry(table), table) for table in root.tables("paste")]
    root.close()
    return found


def _paste_entry(table: Table) -> PasteEntry:
    paste = Paste(
        id=table.read("id", fields.identifier()),
        number=table.read("number", fields.whole(0, HIGHEST_PASTE_NUMBER)),
        title=table.read("title", fields.text(40)),
        part_number=table.read("part_number", fields.text(LONGEST_PART_NUMBER)),
        alloy=table.read("alloy", fields.choice(Alloy)),
        flux_class=table.read("flux_class", fields.text(20)),
        powder_type=table.read("powder_type", fields.text(20)),
        storage=table.read("storage", fields.choice(Storage)),
        incoming_test=table.read_optional("incoming_test", fields.flag()) or False,
        least_shelf_months=table.read_optional("least_shelf_at_receipt", fields.some_months()),
        minimum_stock=table.read_optional("minimum_stock", fields.whole(0, 9_999)) or 0,
        price_per_kg=table.read_optional("price_per_kg", fields.whole(1, 1_000_000)),
    )
    bought_in = table.read("bought_in", fields.several(fields.identifier()))
    paste = replace(paste, maker_codes=read_maker_codes(table, bought_in))
    cold = None if not table.ok("storage") else paste.storage is not Storage.ROOM
    frozen = table.ok("storage") and paste.storage is Storage.FROZEN
    limits = _specification(table.table("specification"), paste.id, bought_in, cold, frozen)
    table.close()
    return PasteEntry(paste, bought_in, limits)


def _specification(
    table: Table, paste: str, bought_in: tuple[str, ...], cold: bool | None, frozen: bool
) -> Specification:
    """The limits of one paste; `cold` is None where its storage class is not known for a fault."""

    def span(key: str, least: timedelta, most: timedelta, step: timedelta = fields.MINUTE) -> timedelta:
        return table.read(key, fields.duration(least, most, step))

    def cold_span(key: str, least: timedelta, most: timedelta) -> timedelta:
        return span(key, least, most) if _applies(table, key, cold) else NONE

    cycles = table.read("cold_cycles", fields.whole(1, 9)) if _applies(table, "cold_cycles", cold) else 0
    found = Specification(
        paste=paste,
        version=table.read("version", fields.whole(1, 9_999)),
        approved_by=table.read_optional("approved_by", fields.identifier()),
        data_sheet=table.read_optional("data_sheet", fields.text()) or "",
        page=table.read_optional("page", fields.text(20)) or "",
        to_cold=cold_span("to_cold", timedelta(minutes=10), 7 * DAY),
        arrival_warn_above_c=table.read("arrival_warn_above", fields.celsius(-60, 60)),
        arrival_hold_above_c=table.read("arrival_hold_above", fields.celsius(-60, 60)),
        arrival_hold_below_c=table.read("arrival_hold_below", fields.celsius(-90, 40)),
        shelf_months=table.read("shelf_life", fields.shelf_months()),
        conditioning=_conditioning(table, bought_in, cold),
        floor_c=table.read("floor", fields.celsius(5, 35)),
        room_life=cold_span("room_life", HOUR, 364 * DAY),
        open_life=span("open_life", HOUR, LONGEST_OPEN_LIFE, HOUR),
        stencil_life=span("stencil_life", timedelta(minutes=15), 7 * DAY),
        pause_knead=span("pause_knead", timedelta(minutes=1), DAY),
        pause_replace=span("pause_replace", timedelta(minutes=1), 3 * DAY),
        cold_cycles=cycles,
        open_extension=span("open_extension", NONE, LONGEST_OPEN_LIFE, HOUR),
        room_extension=cold_span("room_extension", NONE, 90 * DAY),
        stencil_time_counts_as_open=table.read("stencil_time_counts_as_open", fields.flag()),
        return_within=_return_within(table, cycles),
        thaw=_thaw(table, frozen),
        printing_room_c=_band(table, "printing_room", fields.celsius(5, 40)),
        printing_humidity=_band(table, "printing_humidity", fields.percent(0, 100)),
        mixings=table.read("mixings", fields.whole(0, 9)),
        decanted_life=table.read("decanted_life", _ALLOWED),
        used_paste_life=table.read("used_paste_life", _ALLOWED),
        enclosed_life=table.read("enclosed_life", _ALLOWED),
        near=(),
    )
    found = replace(found, sources=_sources(table, found))
    _compare(table, found)
    table.close()
    return found


def _sources(table: Table, limits: Specification) -> tuple[FigureSource, ...]:
    """Where single figures stand, if elsewhere than the rest; may be left out."""
    if "sources" not in table:
        return ()
    every = table.every("sources")
    for key in every:
        if key not in values(limits):
            outer, remedy = table.table("sources"), "Use the name of a figure as it is written above"
            outer.fault(key, "no figure has this name", remedy, nearest(key, values(limits)))
    return tuple(_source(key, inner) for key, inner in every.items())


def _source(key: str, table: Table) -> FigureSource:
    source = FigureSource(
        key=key,
        data_sheet=table.read("data_sheet", fields.text()),
        page=table.read("page", fields.text(20)),
        note=table.read_optional("note", fields.text(LONGEST_NOTE)) or "",
    )
    table.close()
    return source


def _return_within(table: Table, cycles: int) -> timedelta | None:
    """The most time out of the cold before another cold cycle; only where there may be another."""
    if cycles > 1:
        return table.read("return_within", fields.duration(timedelta(minutes=1), DAY))
    table.refuse("return_within", "cold_cycles allows no return to the cold")
    return None


def _thaw(table: Table, frozen: bool) -> Thaw | None:
    """The step of frozen paste through a refrigerator."""
    if not frozen:
        table.refuse("thaw_at_least", NOT_FROZEN)
        table.refuse("thaw_at_most", NOT_FROZEN)
        return None
    at_least = table.read("thaw_at_least", fields.duration(NONE, 7 * DAY))
    at_most = table.read("thaw_at_most", fields.duration(NONE, 30 * DAY))
    if table.ok("thaw_at_least", "thaw_at_most") and at_least > at_most:
        table.fault("thaw_at_most", "it is less than thaw_at_least", "Check thaw_at_least and thaw_at_most")
    return Thaw(at_least, at_most) if at_most else None


def _band(table: Table, key: str, part: Field[float]) -> Band:
    """A range given by its two ends."""
    band = Band(table.read(f"{key}_from", part), table.read(f"{key}_to", part))
    if table.ok(f"{key}_from", f"{key}_to") and band.low > band.high:
        table.fault(f"{key}_from", f"it is more than {key}_to", "Make it the smaller one")
    return band


def _applies(table: Table, key: str, cold: bool | None) -> bool:
    """Whether a limit of cold paste is to be read; a fault where it is written for a paste never kept cold."""
    if cold is False:
        table.refuse(key, NOT_FOR_ROOM)
    return cold is True or (cold is None and key in table)


def _conditioning(table: Table, bought_in: tuple[str, ...], cold: bool | None) -> tuple[Conditioning, ...]:
    """The supplier's minimum for every kind the paste is bought in; none to wait for where it is never cold."""
    if not _applies(table, "conditioning", cold):
        return tuple(Conditioning(kind, NONE) for kind in bought_in)
    inner = table.table("conditioning")
    found = tuple(Conditioning(kind, inner.read(kind, _MINIMUM)) for kind in bought_in)
    if bought_in:
        inner.close()
    return found


def _compare(table: Table, limits: Specification) -> None:
    """Figures of one specification that contradict each other."""

    def faulty(wrong: bool, key: str, other: str, reason: str) -> None:
        if table.ok(key, other) and key in table and other in table and wrong:
            table.fault(key, reason, f"Check {key} and {other}")

    faulty(limits.pause_knead > limits.pause_replace, "pause_knead", "pause_replace", "it is over pause_replace")
    faulty(
        limits.arrival_warn_above_c > limits.arrival_hold_above_c,
        "arrival_warn_above",
        "arrival_hold_above",
        "the warning would come after the hold",
    )
    faulty(
        limits.arrival_hold_below_c >= limits.arrival_warn_above_c,
        "arrival_hold_below",
        "arrival_warn_above",
        "no arrival temperature would be right",
    )
    faulty(
        limits.open_life + limits.open_extension > LONGEST_OPEN_LIFE,
        "open_extension",
        "open_life",
        "with open_life it comes to more than the 255 h a label can carry",
    )
    longest = max((entry.minimum for entry in limits.conditioning), default=NONE)
    faulty(longest >= limits.room_life, "room_life", "conditioning", "it is over before the paste is ready")
    _draft(table, limits)


def _draft(table: Table, limits: Specification) -> None:
    """An approval says which edition and page it approves, in a demo too."""
    for key, value in (("data_sheet", limits.data_sheet), ("page", limits.page)):
        if limits.approved_by is not None and not value and table.ok(key):
            table.fault(key, "approved_by is given, but not what was approved", "Add the edition and page")
