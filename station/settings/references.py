"""Names that stand for something set up elsewhere: each must exist, and be of the right sort."""

from collections.abc import Iterable

from station.care.words import Role
from station.settings.parts import Entry, Header, Parts, PasteEntry


def check_references(parts: Parts) -> None:
    """A fault for every name nothing answers to. Files that could not be read are not held against others."""
    kinds = _ids(entry.item.id for entry in parts.kinds) if parts.kinds is not None else None
    pastes = _ids(entry.item.paste.id for entry in parts.pastes) if parts.pastes is not None else None
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


def _ids(names: Iterable[str]) -> list[str]:
    return [name for name in names if name]


def _approval(entry: Entry[PasteEntry], parts: Parts) -> None:
    approver = entry.item.limits.approved_by
    if approver is None or parts.people is None:
        return
    table = entry.table.table("specification")
    engineers = [person.item.id for person in parts.people if Role.ENGINEER in person.item.roles]
    table.reference("approved_by", approver, engineers, "process engineer")


def _places(parts: Parts) -> None:
    stores = _ids(entry.item.id for entry in parts.stores) if parts.stores is not None else None
    positions = None
    if parts.lines is not None:
        positions = [position.id for line in parts.lines for position in line.item]
    for place in parts.places or ():
        if place.item.store:
            place.table.reference("store", place.item.store, stores, "store")
        for position in place.item.positions:
            place.table.reference("positions", position, positions, "stencil position")


def _header(header: Header, parts: Parts) -> None:
    places = _ids(entry.item.id for entry in parts.places) if parts.places is not None else None
    products = _ids(entry.item.id for entry in parts.products) if parts.products is not None else None
    templates = list(parts.templates) if parts.templates is not None else None
    header.tables["home"].reference("place", header.home_place, places, "place")
    header.tables["label"].reference("template", header.label.template, templates, "label template")
    if header.example_product is not None:
        order = header.tables["work_order"]
        order.reference("example", header.example_product, products, "product")
