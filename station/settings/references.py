"""Names that stand for something set up elsewhere: each must exist, and be of the right sort."""

from collections.abc import Callable, Iterable
from typing import TypeVar

from station.care.words import Role
from station.settings.parts import Entry, Header, Parts, PasteEntry

T = TypeVar("T")


def check_references(parts: Parts) -> None:
    """A fault for every name nothing answers to.

    Where the names that do exist can't all be told, for a fault of their own, nothing is held against others.
    """
    kinds = _ids(parts.kinds, lambda kind: (kind.id,))
    pastes = _ids(parts.pastes, lambda entry: (entry.paste.id,))
    for paste in parts.pastes or ():
        for kind in paste.item.bought_in:
            paste.table.reference("bought_in", kind, kinds, "container kind")
        _approval(paste, parts)
    for product in parts.products or ():
        for name in product.item.pastes:
            product.table.reference("pastes", name, pastes, "paste")
    _places(parts)
    if parts.header is not None:
        _header(parts.header, parts)


def _ids(entries: list[Entry[T]] | None, names: Callable[[T], Iterable[str]]) -> list[str] | None:
    """The ids of all entries; None where a file or an id can't be read."""
    if entries is None or not all(entry.table.ok("id", "positions") for entry in entries):
        return None
    return [name for entry in entries for name in names(entry.item)]


def _approval(entry: Entry[PasteEntry], parts: Parts) -> None:
    approver = entry.item.limits.approved_by
    people = parts.people
    if approver is None or people is None or not all(person.table.ok("id", "roles") for person in people):
        return
    table = entry.table.table("specification")
    engineers = [person.item.id for person in people if Role.ENGINEER in person.item.roles]
    table.reference("approved_by", approver, engineers, "process engineer")


def _places(parts: Parts) -> None:
    stores = _ids(parts.stores, lambda store: (store.id,))
    positions = _ids(parts.lines, lambda line: (position.id for position in line))
    for place in parts.places or ():
        if place.item.store:
            place.table.reference("store", place.item.store, stores, "store")
        for position in place.item.positions:
            place.table.reference("positions", position, positions, "stencil position")


def _header(header: Header, parts: Parts) -> None:
    places = _ids(parts.places, lambda place: (place.id,))
    products = _ids(parts.products, lambda product: (product.id,))
    templates = list(parts.templates) if parts.templates is not None else None
    header.tables["home"].reference("place", header.home_place, places, "place")
    header.tables["label"].reference("template", header.label.template, templates, "label template")
    kinds = _ids(parts.kinds, lambda kind: (kind.id,))
    for rule, table in header.label_for:
        table.reference("template", rule.label.template, templates, "label template")
        for kind in rule.kinds:
            table.reference("kinds", kind, kinds, "container kind")
        for place in rule.places:
            table.reference("places", place, places, "place")
    if header.example_product is not None:
        order = header.tables["work_order"]
        order.reference("example", header.example_product, products, "product")
