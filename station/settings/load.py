"""Reads a settings folder: a whole site without fault, or every fault of every file at once."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from station.care.specification import Plant, Specification
from station.services.site import Site
from station.settings.agreement import check_agreement
from station.settings.faults import SettingsFault, SettingsRefused
from station.settings.floor_file import read_lines, read_places, read_products, read_shifts
from station.settings.label_file import read_templates
from station.settings.parts import Header, Parts
from station.settings.paste_file import read_kinds, read_pastes
from station.settings.people_file import read_people
from station.settings.references import check_references
from station.settings.site_file import read_site
from station.settings.source import Source, read_source, stray_files
from station.settings.store_file import instruments_in, read_stores
from station.settings.table import Table
from station.settings.unique import check_unique

T = TypeVar("T")
FILES = (
    "site.toml",
    "places.toml",
    "stores.toml",
    "kinds.toml",
    "pastes.toml",
    "products.toml",
    "people.toml",
    "shifts.toml",
    "labels.toml",
)


def load(folder: Path) -> Site:
    """The site set up in `folder`. Raises SettingsRefused with all faults; nothing is filled in by default."""
    if not folder.is_dir():
        reason = "there is no such folder"
        fault = SettingsFault(str(folder), None, "", "", reason, None, "Give the folder that holds site.toml")
        raise SettingsRefused([fault])
    faults = stray_files(folder, FILES)
    parts = _read(folder, faults)
    check_unique(parts)
    check_references(parts)
    check_agreement(parts)
    if faults or parts.header is None:
        raise SettingsRefused(sorted(faults, key=_order))
    return _site(folder, parts, parts.header)


def _order(fault: SettingsFault) -> tuple[int, int]:
    rank = FILES.index(fault.file) if fault.file in FILES else len(FILES)
    return rank, fault.line or 0


def _read(folder: Path, faults: list[SettingsFault]) -> Parts:
    """Each file by itself; one that can't be read is one fault and leaves its part empty."""
    roots: dict[str, Table] = {}
    for file in FILES:
        source = read_source(folder, file, FILES)
        if isinstance(source, Source):
            roots[file] = Table(source, source.values, faults)
        else:
            faults.append(source)

    def part(file: str, read: Callable[[Table], T]) -> T | None:
        return read(roots[file]) if file in roots else None

    return Parts(
        header=part("site.toml", read_site),
        lines=part("places.toml", read_lines),
        places=part("places.toml", read_places),
        stores=part("stores.toml", read_stores),
        instruments=part("stores.toml", instruments_in),
        kinds=part("kinds.toml", read_kinds),
        pastes=part("pastes.toml", read_pastes),
        products=part("products.toml", read_products),
        people=part("people.toml", read_people),
        shifts=part("shifts.toml", read_shifts),
        templates=part("labels.toml", read_templates),
    )


def _site(folder: Path, parts: Parts, header: Header) -> Site:
    if header.zone is None:
        raise AssertionError("a site without its zone was not refused")
    return Site(
        name=header.name,
        folder=folder,
        zone=header.zone,
        station=header.station,
        plant=_plant(parts, header),
        specifications=_specifications(parts, header),
        places=tuple(entry.item for entry in parts.places or ()),
        home_place=header.home_place,
        home_after=header.home_after,
        people=tuple(entry.item for entry in parts.people or ()),
        shifts=tuple(entry.item for entry in parts.shifts or ()),
        label=header.label,
        label_for=tuple(rule for rule, _ in header.label_for),
        templates=parts.templates or {},
        work_order_pattern=header.pattern,
        scanner=header.scanner,
        makers=header.makers,
        currency=header.currency,
    )


def _plant(parts: Parts, header: Header) -> Plant:
    return Plant(
        pastes={entry.item.paste.id: entry.item.paste for entry in parts.pastes or ()},
        kinds={entry.item.id: entry.item for entry in parts.kinds or ()},
        stores={entry.item.id: entry.item for entry in parts.stores or ()},
        positions={position.id: position for line in parts.lines or () for position in line.item},
        products={entry.item.id: entry.item for entry in parts.products or ()},
        rules=header.rules,
        instruments={entry.item.id: entry.item for entry in parts.instruments or ()},
    )


def _specifications(parts: Parts, header: Header) -> tuple[Specification, ...]:
    near = tuple(header.near.items())
    return tuple(replace(entry.item.limits, near=near) for entry in parts.pastes or ())
