"""The tag of a bin or a store: after a container at its door it corrects the bin, elsewhere it shows what lies there.

No time of a container changes by it: where it lies inside its store says nothing of how cold it was.
"""

from station.care import facts as f
from station.care.answers import about, plain
from station.care.context import Context
from station.care.floor import Floor
from station.care.fridge import bin_suits
from station.care.scans import BinScan, StoreScan
from station.care.specification import Bin, Store
from station.care.state import Container
from station.care.verdict import Armed, Decision
from station.care.words import Place, Word

MOST_NAMED = 8
FOR_A_DOOR = "Scan the container at the door of its store first, then the tag of the bin it lies in."


def bin_scan(floor: Floor, context: Context, scan: BinScan) -> Decision:
    """What the tag of a bin comes to."""
    found = next(
        ((store, bin_) for store in floor.plant.stores.values() for bin_ in store.bins if bin_.id == scan.bin), None
    )
    if found is None:
        return _not_here(f"bin {scan.bin}")
    store, bin_ = found
    if context.here.kind is Place.DESK:
        return _contents(f"bin {bin_.id}", store, [one for one in _inside(floor, store) if one.bin == bin_.id])
    armed = context.armed_at(floor.now)
    container = floor.container(armed.container) if armed is not None and armed.container else None
    if container is None or container.store is None or container.store != context.here.store:
        return _alone(f"bin {bin_.id} of {store.title}")
    return _corrected(floor, container, store, bin_)


def store_scan(floor: Floor, context: Context, scan: StoreScan) -> Decision:
    """What the tag of a store comes to."""
    store = floor.plant.stores.get(scan.store)
    if store is None:
        return _not_here(f"store {scan.store}")
    if context.here.kind is Place.DESK:
        return _contents(store.title, store, _inside(floor, store))
    return _alone(store.title)


def _inside(floor: Floor, store: Store) -> list[Container]:
    return sorted((one for one in floor.alive() if one.store == store.id), key=lambda one: one.id)


def _contents(name: str, store: Store, found: list[Container]) -> Decision:
    named = ", ".join(one.spoken for one in found[:MOST_NAMED])
    more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
    why = f"In {name}: {named}{more}." if found else f"Nothing is recorded in {name}."
    headline = f"{len(found)} IN {name.upper()}"
    return Decision(
        plain(Word.DONE, "contents", headline, why, f"{store.title}. Looked at only; nothing was recorded.")
    )


def _not_here(name: str) -> Decision:
    why = f"There is no {name} in this plant."
    return Decision(plain(Word.STOP, "tag-unknown", "TAG NOT KNOWN", why, "Use a tag printed by this station."))


def _alone(name: str) -> Decision:
    why = f"This is the tag of {name}. At the shift desk it shows what lies there."
    return Decision(plain(Word.WAIT, "tag-alone", "TAG OF A STORE", why, FOR_A_DOOR))


def _corrected(floor: Floor, container: Container, store: Store, bin_: Bin) -> Decision:
    """The bin a container lies in, as a person found it; STOP with the reason where it must not lie there."""
    armed = Armed(at=floor.now, container=container.id)
    if container.store == store.id and container.bin == bin_.id:
        why = f"{container.spoken} is recorded in this bin. Nothing was recorded twice."
        return Decision(about(floor, container, Word.DONE, "bin-same", f"BIN {bin_.id}", why, "Go on."), armed=armed)
    why_not = _against(floor, container, store, bin_)
    if why_not:
        todo = f"Put it in bin {container.bin}, as recorded."
        verdict = about(floor, container, Word.STOP, "bin-refused", f"NOT IN BIN {bin_.id}", why_not, todo)
        refused = f.ScanRefused(container.id, container.store or "", "bin-refused", bin_.id)
        return Decision(verdict, (refused,), armed=armed)
    why = f"{container.spoken} is recorded in bin {bin_.id} now, not in {container.bin}. Its times stay."
    verdict = about(floor, container, Word.DONE, "bin-changed", f"BIN {bin_.id}", why, f"Put it in bin {bin_.id}.")
    return Decision(verdict, (f.BinChanged(container.id, store.id, bin_.id, container.bin or ""),), armed=armed)


def _against(floor: Floor, container: Container, store: Store, bin_: Bin) -> str:
    """Why it must not lie there; nothing where it may."""
    if container.store != store.id:
        return f"Bin {bin_.id} belongs to {store.title}, and {container.spoken} is recorded in another store."
    leaded = floor.paste(container).alloy.leaded
    if bin_suits(bin_, container.held, leaded):
        full = sum(one.bin == bin_.id for one in _inside(floor, store)) >= bin_.capacity
        return f"Bin {bin_.id} is full: it takes {bin_.capacity}." if full else ""
    if container.held:
        return f"{container.spoken} is on hold, and bin {bin_.id} is no hold bin."
    if bin_.hold:
        return f"Bin {bin_.id} is for what is on hold, and {container.spoken} is not."
    kind = "leaded (Pb)" if bin_.leaded else "lead-free"
    return f"Bin {bin_.id} is for {kind} paste, and {container.spoken} is {container.paste}."
