"""A block of plain lines cut into columns at once: no quotation marks, no empty line, every row as wide as the rest."""

from collections.abc import Sequence
from dataclasses import dataclass

MOST_CHARACTERS = 131_072
"""The longest cell that the csv module takes by itself; a longer block might hold a longer cell."""


@dataclass(frozen=True, slots=True)
class Columns:
    """The cells of a block, row after row, each last one with the end of its line; `rows` and `width` of them."""

    cells: list[str]
    rows: int
    width: int

    def of(self, column: int) -> list[str]:
        """The cells of a column as they are looked up: the last column's with the ends of their lines."""
        return self.cells[column :: self.width]

    def texts(self, wanted: Sequence[int]) -> list[str]:
        """The cells of a column; of several, each row's cells without their outer spaces, as one text."""
        if len(wanted) > 1:
            return [" ".join(map(str.strip, row)) for row in zip(*map(self.of, wanted), strict=True)]
        found = self.of(wanted[0])
        return [cell.removesuffix("\n") for cell in found] if wanted[0] == self.width - 1 else found


def columns(block: str, delimiter: str, needed: int) -> Columns | None:
    """The columns of whole lines without quotation marks; None where the csv module has to look at each row."""
    if len(block) > MOST_CHARACTERS:
        return None
    if "\r" in block:
        if block.count("\r") != block.count("\r\n"):
            return None
        block = block.replace("\r\n", "\n")
    lines = block.removesuffix("\n")
    rows = lines.count("\n") + 1
    cells = lines.replace("\n", f"\n{delimiter}").split(delimiter)
    width, odd = divmod(len(cells), rows)
    if odd or width < needed or "".join(cells[width - 1 :: width]).count("\n") != rows - 1:
        return None
    return Columns(cells, rows, width)
