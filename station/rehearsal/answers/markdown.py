"""The few shapes of Markdown the page is made of."""

from collections.abc import Iterable


def table(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """A table; a cell that says the same as the one above it in the first column is left empty."""
    head = list(heads)
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    above = ""
    for first, *others in rows:
        shown = "" if first == above and others else first
        lines.append(f"| {' | '.join([shown, *others])} |")
        above = first
    return "\n".join(lines)
