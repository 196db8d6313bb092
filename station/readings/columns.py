"""A block of plain lines cut into columns at once: no empty line, all rows of one width, nothing hidden in quotes."""

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
        found = self.cells[column :: self.width]
        return [cell.replace('"', "") for cell in found] if '"' in found[0] else found

    def texts(self, wanted: Sequence[int]) -> list[str]:
        """The cells of a column; of several, each row's cells without their outer spaces, as one text."""
        if len(wanted) > 1:
            return list(map(" ".join, zip(*map(self._stripped, wanted), strict=True)))
        found = self.of(wanted[0])
        return [cell.removesuffix("\n") for cell in found] if wanted[0] == self.width - 1 else found

    def _stripped(self, column: int) -> list[str]:
        found = self.of(column)
        together = "".join(found)
        return found if together.split() == [together] else [cell.strip() for cell in found]


def columns(block: str, delimiter: str, needed: int) -> Columns | None:
    """The columns of whole lines; None where the csv module has to look at each row."""
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
    if '"' in lines and not all(_plainly_quoted(cells[column::width]) for column in range(width)):
        return None
    return Columns(cells, rows, width)


def _plainly_quoted(cells: Sequence[str]) -> bool:
    """Whether a column has quotation marks round every cell and nowhere else, or none at all.

    A cell with a delimiter or a line's end in it was cut in two, and no part has a mark at either end.
    """
    marks = "".join(cells).count('"')
    if not marks:
        return True
    bare = [cell.removesuffix("\n") for cell in cells]
    each = all(len(cell) > 1 and cell[0] == cell[-1] == '"' for cell in bare)
    return each and marks == 2 * len(cells)
