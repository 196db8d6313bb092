"""Folding a table: what is answered alike stands together."""

from collections.abc import Iterable, Mapping

Groups = list[tuple[str, list[str]]]
"""An answer, and everything that is answered so."""


def grouped(mapping: Mapping[str, str]) -> Groups:
    """The other way round: each answer once, in the order they first come up."""
    found: dict[str, list[str]] = {}
    for name, answer in mapping.items():
        found.setdefault(answer, []).append(name)
    return list(found.items())


def ands(names: Iterable[str]) -> str:
    """`a; b; c`: names have commas of their own."""
    return "; ".join(names)


def with_rest(groups: Groups, rest: str) -> Groups:
    """The same with the largest group called `rest` and told last, where that is shorter."""
    largest = max(groups, key=lambda group: len(group[1]))
    if len(groups) == 1 or len(largest[1]) < 3:
        return groups
    return [*(group for group in groups if group is not largest), (largest[0], [rest])]
