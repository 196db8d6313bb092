"""pastes.toml out of what is in force, and drafts out of a pastes.toml: the same reader for a file and for a form."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from station.care.floor import Floor
from station.care.spec_drafts import DraftTold, draft_fault, is_in_force
from station.care.specification import Paste
from station.settings.faults import SettingsFault, SettingsRefused
from station.settings.parts import Entry, Parts, PasteEntry
from station.settings.paste_file import read_pastes
from station.settings.source import read_text
from station.settings.specification_toml import paste_table, product_table, toml_text
from station.settings.table import Table
from station.settings.unique import check_unique

HEADER = """\
# The pastes and their handling limits as they are in force at {site}, station {station}.
# What each key means is said in the pastes.toml of the demo settings.

"""
PRODUCTS_HEADER = """\
# What work orders build, and the pastes in force for it at {site}, station {station}.

"""
_FIXED = ("number", "alloy", "storage")
_KEPT = (
    "title",
    "part_number",
    "flux_class",
    "powder_type",
    "incoming_test",
    "least_shelf_months",
    "minimum_stock",
    "price_per_kg",
    "maker_codes",
)
FORM = "what was typed"


@dataclass(frozen=True, slots=True)
class ReadSpecifications:
    """What a file comes to: drafts to be written, pastes it changes nothing of, or every fault and then no draft.

    `notes` say what the file has otherwise and a draft does not carry.
    """

    drafts: tuple[DraftTold, ...]
    unchanged: tuple[str, ...]
    notes: tuple[str, ...]
    faults: tuple[SettingsFault, ...]


def write_specifications(floor: Floor, pastes: Sequence[str] = (), site: str = "this site", station: int = 0) -> str:
    """pastes.toml of what is in force for these pastes, or for all; KeyError for one that is not there."""
    wanted = tuple(pastes) or tuple(floor.plant.pastes)
    tables = [paste_table(floor.plant.pastes[name], floor.specification(name)) for name in wanted]
    return HEADER.format(site=site, station=station or "of the desk") + toml_text(tables)


def write_products(floor: Floor, site: str = "this site", station: int = 0) -> str:
    """products.toml of what is in force; lists of single orders have no place in it."""
    tables = [product_table(product) for product in floor.plant.products.values()]
    return PRODUCTS_HEADER.format(site=site, station=station or "of the desk") + toml_text(tables, "product")


def read_specifications(text: str | bytes, floor: Floor, name: str = "pastes.toml") -> ReadSpecifications:
    """Everything a pastes.toml would change here, or everything that is wrong with it; nothing is recorded."""
    source = read_text(name, text if isinstance(text, bytes) else text.encode())
    if isinstance(source, SettingsFault):
        return ReadSpecifications((), (), (), (source,))
    faults: list[SettingsFault] = []
    entries = read_pastes(Table(source, source.values, faults))
    check_unique(Parts(pastes=entries))
    for entry in entries:
        for kind in entry.item.bought_in:
            entry.table.reference("bought_in", kind, list(floor.plant.kinds), "container kind")
        _agrees(entry, floor)
    if not faults:
        faults.extend(_against_the_rules(entries, floor, name))
    if faults:
        return ReadSpecifications((), (), (), tuple(sorted(faults, key=lambda fault: fault.line or 0)))
    changed = [entry for entry in entries if not is_unchanged(entry, floor)]
    same = tuple(entry.item.paste.id for entry in entries if is_unchanged(entry, floor))
    return ReadSpecifications(tuple(_draft(entry, floor) for entry in changed), same, tuple(_notes(entries, floor)), ())


def is_unchanged(entry: Entry[PasteEntry], floor: Floor) -> bool:
    """Whether an entry says what is approved and in force already."""
    return entry.item.paste.id in floor.plant.pastes and is_in_force(floor, entry.item.limits)


def _draft(entry: Entry[PasteEntry], floor: Floor) -> DraftTold:
    paste = entry.item.paste
    return DraftTold(entry.item.limits, None if paste.id in floor.plant.pastes else paste)


def _agrees(entry: Entry[PasteEntry], floor: Floor) -> None:
    """What a paste is here can't be changed by its limits: labels and jars in use say it."""
    told = entry.item.paste
    known = floor.plant.pastes.get(told.id, told)
    for key in _FIXED:
        here = getattr(known, key)
        if entry.table.ok(key) and getattr(told, key) != here:
            entry.table.fault(key, f"{told.id} has {here} here", "Give another paste another id")


def _against_the_rules(entries: list[Entry[PasteEntry]], floor: Floor, name: str) -> Iterator[SettingsFault]:
    for entry in entries:
        told = "" if is_unchanged(entry, floor) else draft_fault(floor, _draft(entry, floor))
        if told:
            reason, _, remedy = told.rstrip(".").partition(". ")
            line = entry.table.source.line_of(entry.table.path)
            yield SettingsFault(name, line, f"paste[{entry.item.paste.id}]", "", reason, None, remedy)


def _notes(entries: Iterable[Entry[PasteEntry]], floor: Floor) -> Iterator[str]:
    for entry in entries:
        told = entry.item.paste
        known = floor.plant.pastes.get(told.id, told)
        other = [key for key in _KEPT if getattr(told, key) != getattr(known, key)]
        if other:
            yield f"{told.id}: {', '.join(other)} stay as they are here; a draft carries limits only."


def read_draft(paste: Mapping[str, object], floor: Floor, explanation: str = "", replaces: str = "") -> DraftTold:
    """The draft that one `[[paste]]` table comes to, as a form has it; its version and approval are not asked for.

    Raises SettingsRefused with every fault; the `key` of each names the figure, see `fault_key`.
    """
    limits = paste.get("specification")
    inner = dict(limits) if isinstance(limits, Mapping) else {}
    inner.pop("approved_by", None)
    text = toml_text([{**paste, "specification": {**inner, "version": 1}}])
    found = read_specifications(text, floor, FORM)
    if found.faults:
        raise SettingsRefused(found.faults)
    if not found.drafts:
        reason, remedy = "these are the figures in force", "Change one, or leave it"
        raise SettingsRefused([SettingsFault(FORM, None, "", "", reason, None, remedy)])
    return replace(found.drafts[0], explanation=explanation, replaces=replaces)


def fault_key(fault: SettingsFault) -> str:
    """The figure or field a fault is about, as in pastes.toml: `open_life`, `conditioning.JAR-500`, `number`."""
    _, _, key = fault.key.partition("].")
    return key.removeprefix("specification.")


def table_of(floor: Floor, paste: Paste) -> dict[str, object]:
    """A paste with what is in force for it, as a form begins with it."""
    return paste_table(paste, floor.specification(paste.id))
