"""A table of a settings file while it is read: hands out typed values and notes every fault with its place."""

from collections.abc import Collection, Mapping
from typing import TypeVar

from station.settings.faults import SettingsFault
from station.settings.fields import Field, listed, nearest, shown_value
from station.settings.locate import KeyPath
from station.settings.quantities import Unfit
from station.settings.source import Source

T = TypeVar("T")


class Table:
    """One table. Every key is either read or, at `close`, a fault: nothing written is left out without a word."""

    def __init__(
        self, source: Source, values: Mapping[str, object], faults: list[SettingsFault], path: KeyPath = ()
    ) -> None:
        """`faults` is the one list that all tables of all files add to."""
        self.source, self.values, self.path = source, values, path
        self._faults = faults
        self._known: set[str] = set()
        self._bad: set[str] = set()
        self._children: dict[str, list[Table]] = {}

    def __contains__(self, key: str) -> bool:
        """Whether the key is written in this table."""
        return key in self.values

    def ok(self, *keys: str) -> bool:
        """Whether these keys were read without a fault, so that they may be compared with others."""
        return not self._bad.intersection(keys)

    def read(self, key: str, field: Field[T]) -> T:
        """The value of a key that must be there; a fault and a stand-in where it is missing or unfit."""
        self._known.add(key)
        if key not in self.values:
            self.fault(key, "it is missing", f"Add it: {field.form}")
            return field.placeholder
        try:
            return field.parse(self.values[key])
        except Unfit as unfit:
            self.fault(key, unfit.reason, unfit.remedy, unfit.nearest, secret=field.secret)
            return field.placeholder

    def read_optional(self, key: str, field: Field[T]) -> T | None:
        """The value of a key that may be left out, None then."""
        self._known.add(key)
        return self.read(key, field) if key in self.values else None

    def refuse(self, key: str, reason: str) -> None:
        """A fault if a key is written that has no meaning in this table."""
        self._known.add(key)
        if key in self.values:
            self.fault(key, reason, "Take it out")

    def table(self, key: str) -> "Table":
        """The table under a key, the same one at each call; an empty one, and a fault, where there is none."""
        if key not in self._children:
            self._children[key] = [self._one(key)]
        return self._children[key][0]

    def _one(self, key: str) -> "Table":
        self._known.add(key)
        value = self.values.get(key)
        if isinstance(value, Mapping):
            return self._inner(value, key)
        why = "it is missing" if value is None else "this is no table"
        self.fault(key, why, f"Write a table [{self._header(key)}]")
        return _Silent(self.source, {}, self._faults, (*self.path, key))

    def tables(self, key: str) -> "list[Table]":
        """The tables of a list under a key, the same ones at each call; a fault where there is none."""
        if key not in self._children:
            self._children[key] = self._many(key)
        return self._children[key]

    def _many(self, key: str) -> "list[Table]":
        self._known.add(key)
        value = self.values.get(key)
        if not isinstance(value, list) or not value or not all(isinstance(item, Mapping) for item in value):
            why = "at least one is needed" if value in (None, []) else "this is no list of tables"
            self.fault(key, why, f"Write at least one table [[{self._header(key)}]]")
            return []
        return [self._inner(item, key, index) for index, item in enumerate(value)]

    def every(self, key: str) -> "dict[str, Table]":
        """The tables under a key whose names the site chooses."""
        outer = self.table(key)
        outer._known.update(outer.values)
        return {name: outer.table(name) for name in outer.values}

    def _inner(self, values: Mapping[str, object], *steps: str | int) -> "Table":
        return Table(self.source, values, self._faults, (*self.path, *steps))

    def _header(self, key: str) -> str:
        return ".".join(str(step) for step in (*self.path, key) if isinstance(step, str))

    def fault(
        self, key: str, reason: str, remedy: str, near: str | None = None, *, value: str = "", secret: bool = False
    ) -> None:
        """Note a fault of a key; `reason` and `remedy` are clauses without a full stop."""
        self._bad.add(key)
        path = (*self.path, key) if key else self.path
        written = value or (shown_value(self.values[key]) if key in self.values else "")
        hidden = "(not shown)" if secret and written else written
        self._note(path, hidden, reason, near, remedy)

    def reference(self, key: str, name: str, known: Collection[str] | None, what: str) -> None:
        """A fault if `name` is not among the known ids; `known` is None while their file can't be read.

        The key itself stays usable, for a list may name several unknown ids.
        """
        if known is None or name in known or not self.ok(key):
            return
        there = f"Use one of {listed(known)}, or add it" if known else "Add it: none is set up yet"
        reason = f'there is no {what} "{name}"'
        self._note((*self.path, key), shown_value(self.values[key]), reason, nearest(name, known), there)

    def _note(self, path: KeyPath, value: str, reason: str, near: str | None, remedy: str) -> None:
        source = self.source
        line, key = source.line_of(path), source.shown(path)
        self._faults.append(SettingsFault(source.file, line, key, value, reason, near, remedy))

    def close(self) -> None:
        """A fault for every key and table that nobody asked for."""
        for key in self.values:
            if key not in self._known:
                near = nearest(key, self._known)
                remedy = f"Correct the name or take it out; known here: {listed(sorted(self._known))}"
                self.fault(key, "no setting has this name", remedy, near)


class _Silent(Table):
    """Stands in for a table that is not there: that is one fault, not one for each key it should hold."""

    def _note(self, path: KeyPath, value: str, reason: str, near: str | None, remedy: str) -> None:
        """Note nothing."""
