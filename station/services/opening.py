"""The settings become facts: specifications and people, written once and again only when they change."""

import hashlib
from collections.abc import Iterator
from dataclasses import replace

from station.care import facts as f
from station.care import versions
from station.care.ledger import Ledger
from station.care.specification import Specification
from station.services.ports import JournalRefusal
from station.services.site import Person, Site


def digest(specification: Specification) -> str:
    """A name for the whole content of a specification: the same content, the same name."""
    return hashlib.sha256(repr(specification).encode()).hexdigest()[:16]


def opening_bodies(site: Site, ledger: Ledger) -> Iterator[f.Body]:
    """The facts that make the ledger agree with the settings."""
    changed = [entry for entry in in_force(site, ledger) if ledger.specifications.get(entry.paste) != entry]
    for specification in changed:
        yield f.SpecificationSet(specification, digest(specification))
    yield from versions.tightened(ledger, site.plant.positions, in_force(site, ledger))
    yield from _people(site, ledger)


def _people(site: Site, ledger: Ledger) -> Iterator[f.PersonSet]:
    """Who changed in the settings since they were written down last; what a person changed at the desk stands."""
    for person in site.people:
        told = _told(site, person)
        if ledger.seeded.get(person.id) != told:
            yield told
    listed = {person.id for person in site.people}
    for seeded in ledger.seeded.values():
        if seeded.person not in listed and not seeded.left:
            yield replace(seeded, pin=None, left=True)


def refuse_demo_on_record(site: Site, ledger: Ledger) -> None:
    """JournalRefusal where a demo's settings, with PINs everybody knows, are given to the record of a real site."""
    if site.plant.rules.demo and any(seeded.pin is not None for seeded in ledger.seeded.values()):
        raise JournalRefusal(
            "demo-on-record",
            "These settings are a demo's, and this record has real people in it. "
            "Name the station's own settings with --config, or another data folder with --data.",
        )


def in_force(site: Site, ledger: Ledger) -> tuple[Specification, ...]:
    """The specifications that hold: those of the settings, unless the record has a later version already."""
    return tuple(_later(ledger.specifications.get(entry.paste), entry) for entry in site.specifications)


def _later(known: Specification | None, entry: Specification) -> Specification:
    return known if known is not None and known.version > entry.version else entry


def outdated(site: Site, ledger: Ledger) -> str:
    """What to say where the settings are behind the record; nothing where they are not."""
    behind = [
        f"{entry.paste} version {entry.version} (in force is version {ledger.specifications[entry.paste].version})"
        for entry in site.specifications
        if _later(ledger.specifications.get(entry.paste), entry) is not entry
    ]
    if not behind:
        return ""
    return f"The settings of this station are out of date: {', '.join(behind)}. Ask the process engineer to mend them."


def _told(site: Site, person: Person) -> f.PersonSet:
    pin = _kept_pin(site, person)
    return f.PersonSet(person.id, person.name, person.roles, pin, left=False, training_until=person.training_until)


def _kept_pin(site: Site, person: Person) -> str | None:
    """The hash goes into the record; a demo's plain PIN never does."""
    return None if site.plant.rules.demo else person.pin
