"""Figures of different files that must agree, and what a site needs before it may work."""

from datetime import timedelta

from station.care.conditioning import waiting
from station.care.specification import Bin, Kind, Specification
from station.care.words import Holder, Place, Role, Storage
from station.settings.fields import listed
from station.settings.parts import Entry, Header, Parts, PasteEntry
from station.settings.paste_file import LONGEST_CONDITIONING
from station.settings.people_file import plain_pin
from station.settings.quantities import written
from station.settings.table import Table


def check_agreement(parts: Parts) -> None:
    """A fault for everything that fits by itself but not with the rest."""
    for entry in parts.pastes or ():
        if parts.header is not None:
            _room_warm_enough(entry, parts.header)
        _has_a_bin(entry, parts)
        _becomes_ready(entry, parts)
    for product in parts.products or ():
        _one_metal(product.table, product.item.pastes, parts)
    _place_suits_holder(parts)
    _somebody_leads(parts)
    if parts.header is not None and parts.header.tables["site"].ok("demo") and not parts.header.rules.demo:
        _in_earnest(parts)


def _room_warm_enough(entry: Entry[PasteEntry], header: Header) -> None:
    table, room = entry.table.table("specification"), header.rules.assumed_room_c
    known = table.ok("floor") and header.tables["room_air"].ok("temperature")
    if known and entry.item.limits.floor_c > room:
        reason = f"the site's room air of {room:g} C is colder, so this paste would never be ready"
        table.fault("floor", reason, "Check floor here and room_air.temperature in site.toml")


def _has_a_bin(entry: Entry[PasteEntry], parts: Parts) -> None:
    """Somewhere to put the paste: a store of its class, with a bin for its metal."""
    paste = entry.item.paste
    if parts.stores is None or not entry.table.ok("storage", "alloy"):
        return
    if not all(_bins_known(store.table) for store in parts.stores):
        return
    metal = "leaded" if paste.alloy.leaded else "lead-free"
    # frozen paste that thaws in a refrigerator needs a bin there too
    for storage in (paste.storage, *((Storage.COLD,) if entry.item.limits.thaw is not None else ())):
        bins = [bin_ for store in parts.stores if store.item.storage is storage for bin_ in store.item.bins]
        if not any(_takes(bin_, paste.alloy.leaded) for bin_ in bins):
            reason = f"no {storage.value} store has a bin for {metal} paste"
            entry.table.fault("storage", reason, f'Add a bin for = "{metal}" in stores.toml')


def _bins_known(store: Table) -> bool:
    return store.ok("storage", "bins") and all(bin_.ok("for") for bin_ in store.tables("bins"))


def _takes(bin_: Bin, leaded: bool) -> bool:
    return not bin_.hold and bin_.leaded is leaded


def _becomes_ready(entry: Entry[PasteEntry], parts: Parts) -> None:
    """The whole conditioning time, warm-up of the kind included, ends within room life and fits on a label."""
    header, limits, paste = parts.header, entry.item.limits, entry.item.paste
    known = entry.table.ok("storage", "bought_in") and entry.table.table("specification").ok("room_life", "floor")
    if header is None or not known or paste.storage is Storage.ROOM:
        return
    stores = [store.item for store in parts.stores or () if store.item.storage is paste.storage]
    coldest = min((store.low_c for store in stores), default=0.0)
    for kind in parts.kinds or ():
        minimum = limits.minimum_for(kind.item.id)
        if minimum is None or not kind.table.ok("time_constant", "dead_time"):
            continue
        longest = _conditioning_time(kind.item, minimum, coldest, header, limits)
        if longest > minimum and (longest >= limits.room_life or longest > LONGEST_CONDITIONING):
            reason = f"{paste.id} would warm for {written(_whole_minutes(longest))}, longer than it may"
            kind.table.fault("time_constant", reason, "Check time_constant and dead_time")


def _whole_minutes(span: timedelta) -> timedelta:
    return span - span % timedelta(minutes=1)


def _conditioning_time(
    kind: Kind, minimum: timedelta, coldest_c: float, header: Header, limits: Specification
) -> timedelta:
    """The time in the site's room air; none where that air, too cold or too humid, is a fault of its own."""
    rules = header.rules
    if not header.tables["room_air"].ok("temperature", "humidity"):
        return timedelta(0)
    room_c, humidity = rules.assumed_room_c, rules.assumed_humidity
    return waiting(kind, minimum, coldest_c, room_c, humidity, limits.floor_c).longest


def _one_metal(table: Table, names: tuple[str, ...], parts: Parts) -> None:
    pastes = {entry.item.paste.id: entry for entry in parts.pastes or () if entry.table.ok("alloy")}
    metals = {pastes[name].item.paste.alloy.leaded for name in names if name in pastes}
    if len(metals) > 1:
        reason = "it names leaded (Pb) and lead-free pastes for one product"
        table.fault("pastes", reason, "Make two products of it: each is either leaded (Pb) or lead-free, never both")


def _place_suits_holder(parts: Parts) -> None:
    """A dispenser serves what holds a cartridge, a printer what holds a bead."""
    lines = parts.lines or ()
    if not all(line.table.ok("positions", "holds_paste_in") for line in lines):
        return
    holders = {position.id: position.holder for line in lines for position in line.item}
    for place in parts.places or ():
        for name in place.item.positions if place.table.ok("kind", "positions") else ():
            holder = holders.get(name)
            if holder is not None and (holder is Holder.DISPENSER) is not (place.item.kind is Place.DISPENSER):
                reason = f"{name} is held in a line's {holder.value}, which a {place.item.kind.value} does not serve"
                remedy = f'Check kind here and holds_paste_in of its line, such as "{Holder.DISPENSER.value}"'
                place.table.fault("positions", reason, remedy)


def _somebody_leads(parts: Parts) -> None:
    """Alarms are cleared and holds released by a shift lead only."""
    people = parts.people
    if not people or any(not entry.table.ok("roles") for entry in people):
        return
    if not any(Role.LEAD in entry.item.roles for entry in people):
        reason = f'nobody is "{Role.LEAD.value}", so no alarm could be cleared'
        people[0].table.fault("roles", reason, "Give somebody that role")


def _in_earnest(parts: Parts) -> None:
    """What only a demo may do: limits nobody approved, PINs anybody can read."""
    for entry in parts.pastes or ():
        table, limits = entry.table.table("specification"), entry.item.limits
        missing = [key for key in ("approved_by", "data_sheet", "page") if key not in table]
        if missing and limits.approved_by is None and table.values:
            reason = f"this specification is a draft, for a demo only: {listed(missing)} missing"
            remedy = "Let the process engineer approve it, by data sheet edition and page"
            table.fault(missing[0], reason, remedy)
    for person in parts.people or ():
        if plain_pin(person.item.pin) and person.table.ok("pin"):
            reason = "a PIN in plain digits is for demos only"
            person.table.fault("pin", reason, "Write its argon2id hash", secret=True)
