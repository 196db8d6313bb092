"""A work order at a printer: the position is set up for it, with the pastes approved for its product."""

from dataclasses import replace

from station.care import facts as f
from station.care.answers import plain
from station.care.arriving import must_come_off
from station.care.context import Context
from station.care.floor import Floor
from station.care.saying import opening, spot
from station.care.scans import WorkOrderScan
from station.care.specification import Product
from station.care.state import Mount
from station.care.verdict import Armed, Decision
from station.care.words import Card, Place, Word


def work_order_scan(floor: Floor, context: Context, scan: WorkOrderScan) -> Decision:
    """Set a position up. A bead of an approved paste may be carried over; another must come off first."""
    product = _product(floor, scan)
    if product is None:
        return _stop(
            "product-unknown",
            "PRODUCT NOT KNOWN",
            f"No paste is approved for product {scan.product}.",
            "Ask the process engineer to add the product and its pastes.",
        )
    if _list_elsewhere(floor, scan):
        return _stop(
            "product-unknown",
            "ORDER OF ANOTHER PRODUCT",
            f"{scan.order} has a paste list of its own, but not as an order of {scan.product}.",
            "Ask the process engineer which product it is.",
        )
    name = _position(floor, context)
    if name is None:
        return _stop(
            "which-position",
            "WHICH POSITION?",
            "A work order is set up at one position of a line.",
            "At the line scan the tag of the position, then the work order.",
        )
    position = floor.position(name)
    fact = f.PositionSetUp(name, scan.order, product.id, product.pastes)
    pastes = " or ".join(product.pastes)
    why = f"{opening(spot(name))} builds {scan.order} ({product.title}) with {pastes}."
    bead, mounted = position.bead, position.mounted
    asks: tuple[str, ...] = ()
    stops = must_come_off(floor, replace(position, pastes=()))  # the job it had is over
    if stops:
        todo, asks = f"{stops[0].why} {stops[0].todo}", (Card.DISMOUNT if mounted is not None else Card.REMOVE,)
    elif mounted is not None:
        todo, asks = _mounted(mounted, product)
    elif bead is None:
        todo = "Scan the paste container."
    elif bead.paste in product.pastes:
        todo = "The bead on it fits: scan CARRY OVER, or remove it."
        asks = (Card.CARRY_OVER, Card.REMOVE)
    else:
        todo = f"The {bead.paste} bead still on it does not fit: scrape it off, clean, record REMOVE and CLEANED."
        asks = (Card.REMOVE,)
    verdict = plain(Word.DONE, "set-up", scan.order, why, todo, name)
    new = replace(position, work_order=scan.order, product=product.id, pastes=product.pastes)
    for worst in must_come_off(floor, new)[:1]:  # it is set up all the same, but nothing may be printed with that
        verdict = replace(verdict, word=Word.STOP, code=worst.code, headline=worst.headline)
    return Decision(replace(verdict, asks=asks), (fact,), armed=Armed(at=floor.now, position=name))


def _product(floor: Floor, scan: WorkOrderScan) -> Product | None:
    """The product with the pastes approved for this order of it."""
    pastes = floor.approved_pastes(scan.product, scan.order)
    known = floor.plant.products.get(scan.product)
    return replace(known, pastes=pastes) if known is not None and pastes else None


def _list_elsewhere(floor: Floor, scan: WorkOrderScan) -> bool:
    """Whether the engineer gave this order a list as an order of some other product, and none of this one."""
    lists = floor.ledger.rulebook.lists.values()
    of = {told.product for told in lists if told.order == scan.order}
    return bool(of) and scan.product not in of


def _mounted(mounted: Mount, product: Product) -> tuple[str, tuple[str, ...]]:
    """What to do about the cartridge or syringe that is in the dispenser already."""
    name = mounted.container.replace("-", " ")
    if mounted.paste in product.pastes:
        return f"{name} on it fits: go on, or scan another.", ()
    return (
        f"{name} ({mounted.paste}) on it does not fit: take it off, clean, record DISMOUNT and CLEANED.",
        (Card.DISMOUNT,),
    )


def _position(floor: Floor, context: Context) -> str | None:
    if context.here.kind not in (Place.PRINTER, Place.DISPENSER):
        return None
    armed = context.armed_at(floor.now)
    if armed is not None and armed.position in context.here.positions:
        return armed.position
    return context.here.positions[0] if len(context.here.positions) == 1 else None


def _stop(code: str, headline: str, why: str, todo: str) -> Decision:
    return Decision(plain(Word.STOP, code, headline, why, todo))
