"""Ids and numbers that must differ. Ids are compared without regard to case, as printed codes know none."""

from collections.abc import Iterable, Iterator

from station.settings.parts import Parts
from station.settings.table import Table

Named = tuple[str, Table, str, str]


def check_unique(parts: Parts) -> None:
    """A fault for every id, and every paste number, that an earlier entry has."""
    for entries in (parts.kinds, parts.pastes, parts.stores, parts.lines, parts.places):
        _check(_ids(entry.table for entry in entries or ()))
    _check(_ids(entry.table for entry in parts.instruments or ()))
    for others in (parts.people, parts.products):
        _check(_ids(entry.table for entry in others or ()))
    _check(_texts(entry.table, "name") for entry in parts.shifts or ())
    _check(_bins(parts))
    _check(_positions(parts))
    _check(_numbers(parts))
    _check(_maker_codes(parts))


def _check(named: Iterable[Named]) -> None:
    first: dict[str, tuple[str, Table, str]] = {}
    for written, table, key, what in named:
        if not written:
            continue
        name, earlier, _ = first.setdefault(written.casefold(), (written, table, key))
        if earlier is not table or name != written:
            line = earlier.source.line_of((*earlier.path, key))
            differs = "" if name == written else f' but for capitals, "{name}"'
            reason = f"this {what} is taken{differs} by line {line}"
            table.fault(key, reason, f"Give each its own {what}")


def _ids(tables: Iterable[Table]) -> Iterator[Named]:
    return (_texts(table, "id") for table in tables)


def _texts(table: Table, key: str) -> Named:
    """The text as written, so that an id refused for its small letters is compared all the same."""
    written = table.values.get(key)
    return (written if isinstance(written, str) else "", table, key, key)


def _bins(parts: Parts) -> Iterator[Named]:
    """Bins of all stores together: a bin's tag bears only the bin's own id."""
    for entry in parts.stores or ():
        yield from _ids(entry.table.tables("bins"))


def _positions(parts: Parts) -> Iterator[Named]:
    for entry in parts.lines or ():
        for position in entry.item:
            yield position.id, entry.table, "positions", f"position {position.id}"


def _maker_codes(parts: Parts) -> Iterator[Named]:
    """One number on a maker's label stands for one paste in one kind of container."""
    for entry in parts.pastes or ():
        for table in entry.table.tables("maker_codes") if "maker_codes" in entry.table else ():
            yield _texts(table, "code")


def _numbers(parts: Parts) -> Iterator[Named]:
    for entry in parts.pastes or ():
        if entry.table.ok("number"):
            yield str(entry.item.paste.number), entry.table, "number", "number"
