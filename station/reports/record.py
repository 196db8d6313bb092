"""The record itself as files: what an export and a digest need of its rows, wherever those were read from."""

from collections.abc import Sequence
from typing import Protocol


class Row(Protocol):
    """One row of a journal: `journal` in hex, `stored` the bytes its chain is computed over, `hash` in hex."""

    @property
    def journal(self) -> str:
        """The journal's number, in hex."""
        ...

    @property
    def seq(self) -> int:
        """Its number in the journal."""
        ...

    @property
    def tick(self) -> int:
        """Its place in the order of all."""
        ...

    @property
    def stored(self) -> bytes:
        """The bytes the chain is computed over."""
        ...

    @property
    def hash(self) -> str:
        """The chain hash, in hex."""
        ...


class Span(Protocol):
    """Rows of one journal that follow each other, at least one, and the chain hash before the first of them."""

    @property
    def journal(self) -> str:
        """The journal's number, in hex."""
        ...

    @property
    def before(self) -> str:
        """The chain hash before its first row."""
        ...

    @property
    def rows(self) -> Sequence[Row]:
        """The rows."""
        ...
