"""The settings become facts: specifications, paste lists and people, written once and again only when they change.

What a file says against the record never loosens anything by itself: a version the record has already keeps its
figures, and a list or a person decided at the desk stands until the file says something other than it last said.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from station.care import facts as f
from station.care import versions
from station.care.ledger import Ledger
from station.care.list_story import PasteList, replaced_by_file
from station.care.rulebook import ListKey
from station.care.spec_drafts import digest
from station.care.specification import Specification
from station.care.specification_change import same_figures
from station.services.ports import JournalRefusal
from station.services.site import Person, Site


def opening_bodies(site: Site, ledger: Ledger) -> Iterator[f.Body]:
    """The facts that make the ledger agree with the settings."""
    standing = in_force(site, ledger)
    changed = [entry for entry in standing if ledger.specifications.get(entry.paste) != entry]
    for specification in changed:
        yield f.SpecificationSet(specification, digest(specification))
    yield from versions.tightened(ledger, site.plant.positions, standing)
    yield from _lists(site, ledger)
    yield from _people(site, ledger)


def _lists(site: Site, ledger: Ledger) -> Iterator[f.PasteListSet]:
    """The products that the settings have otherwise than they had them when this station looked last."""
    said = ledger.rulebook.lists_said
    for product in site.plant.products.values():
        before = said.get(product.id)
        if before is None or (before.title, before.pastes) != (product.title, product.pastes):
            yield _list_told(ledger, product.id, product.title, product.pastes)
    for gone in said.values():
        if gone.product not in site.plant.products and gone.pastes:
            yield _list_told(ledger, gone.product, gone.title, ())


def _list_told(ledger: Ledger, product: str, title: str, pastes: tuple[str, ...]) -> f.PasteListSet:
    replaces = replaced_by_file(ledger.rulebook.list_story(product), pastes)
    return f.PasteListSet(product, title, pastes, replaces=replaces)


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
    """The specifications that hold: those of the settings and of the record, as `_standing` has it."""
    listed = {entry.paste: entry for entry in site.specifications}
    near = site.specifications[0].near
    told = [_standing(site, entry, ledger) for entry in listed.values()]
    desk = [replace(known, near=near) for paste, known in ledger.specifications.items() if paste not in listed]
    return (*told, *desk)


def _standing(site: Site, entry: Specification, ledger: Ledger) -> Specification:
    """A newer version of the settings, else the record's with the prompts of this site.

    A version is what it was when it was put in force: with the same number the settings may still say where its
    figures stand and who approved it, but none of its figures.
    """
    known = ledger.specifications.get(entry.paste)
    if known is None or (entry.version > known.version and not _by_two(site, known)):
        return entry
    if entry.version == known.version and same_figures(entry, known) and _says_more(entry, known, ledger):
        return entry
    return replace(known, near=entry.near)


def _by_two(site: Site, known: Specification) -> bool:
    """Whether new versions are approved at the desk only: two people can't be told from a file."""
    return site.plant.rules.two_person and known.approved_by is not None


def _says_more(entry: Specification, known: Specification, ledger: Ledger) -> bool:
    """Whether the settings may say who approved it and where it stands: not against an engineer at the desk."""
    approval = ledger.rulebook.approval(entry.paste)
    by_hand = approval is not None and approval.by is not None
    return not by_hand and (entry.approved_by is not None or known.approved_by is None)


def outdated(site: Site, ledger: Ledger) -> str:
    """What to say where the settings and the record do not agree; nothing where they do."""
    behind = [entry for entry in site.specifications if _is_behind(entry, ledger)]
    told = [f"{entry} (in force is version {ledger.specifications[entry.paste].version})" for entry in behind]
    old = f"The settings of this station are out of date: {', '.join(told)}. Ask the process engineer to mend them."
    others = (_otherwise(site, entry, ledger.specifications[entry.paste]) for entry in site.specifications)
    return " ".join(filter(None, [old if told else "", *others, *_alike(site, ledger), *_decided_apart(ledger)]))


def _is_behind(entry: Specification, ledger: Ledger) -> bool:
    """An older version than the one in force. One that an engineer has since replaced at the desk is no fault."""
    if entry.version >= ledger.specifications[entry.paste].version:
        return False
    was, approval = ledger.versions.get((entry.paste, entry.version)), ledger.rulebook.approval(entry.paste)
    by_hand = approval is not None and approval.by is not None
    return not (by_hand and was is not None and same_figures(was, entry))


def _otherwise(site: Site, entry: Specification, known: Specification) -> str:
    """The settings' figures that were not taken over, and why."""
    if entry.version > known.version and _by_two(site, known):
        return (
            f"{entry} of pastes.toml is not in force: here a second engineer approves a new version. "
            "Read the file in at the desk and have it approved there."
        )
    if entry.version == known.version and not same_figures(entry, known):
        return (
            f"pastes.toml has other figures for {entry} than the record, whose figures hold. "
            "Raise the version in the file, or write a draft at the desk."
        )
    return ""


def lists_apart(before: Mapping[ListKey, PasteList], ledger: Ledger, facts: Iterable[f.Fact]) -> str:
    """What to say where the settings changed the pastes of a product that an engineer had decided at the desk.

    `before` are the lists as they held until these `facts` of the settings.
    """
    changed = (fact.body for fact in facts if isinstance(fact.body, f.PasteListSet))
    return " ".join(filter(None, (_apart(before.get((told.product, "")), ledger, told) for told in changed)))


def _apart(before: PasteList | None, ledger: Ledger, told: f.PasteListSet) -> str:
    if before is None or before.by is None or set(before.pastes) == set(told.pastes):
        return ""
    names = {"file": ", ".join(told.pastes) or "no paste", "desk": ", ".join(before.pastes) or "no paste"}
    if ledger.rulebook.lists[told.product, ""].by is None:
        return (
            f"products.toml now says {names['file']} for {told.product}, and that holds; {before.by} had decided "
            f"{names['desk']} at the desk. Tell the process engineer."
        )
    return (
        f"products.toml says {names['file']} for {told.product}; {before.by} decided {names['desk']} at the desk, "
        "and that holds. Change it at the desk."
    )


def _decided_apart(ledger: Ledger) -> Iterator[str]:
    """What engineers decided where they had not heard of each other, until one decides it again."""
    book = ledger.rulebook
    for paste, limits in book.specifications.items():
        if book.disputed(paste):
            yield (
                f"{limits} was approved with two contents, apart: the stricter of each figure holds. "
                f"The process engineer approves a version {limits.version + 1}."
            )
    for told in book.lists.values():
        if told.disputed:
            of = f"order {told.order} of {told.product}" if told.order else told.product
            left = ", ".join(told.pastes) or "nothing"
            yield f"The pastes of {of} were decided twice, apart: {left} is what both allow. Decide them again."


def _alike(site: Site, ledger: Ledger) -> Iterator[str]:
    """Pastes of one number: a label names none of them then."""
    plant = ledger.rulebook.into(site.plant)
    for paste in plant.pastes.values():
        same = [other.id for other in plant.pastes.values() if other.number == paste.number and other.id != paste.id]
        if same:
            yield f"{paste.id} and {same[0]} have the number {paste.number}, so no label tells them apart. Mend one."


def _told(site: Site, person: Person) -> f.PersonSet:
    pin = _kept_pin(site, person)
    return f.PersonSet(person.id, person.name, person.roles, pin, left=False, training_until=person.training_until)


def _kept_pin(site: Site, person: Person) -> str | None:
    """The hash goes into the record; a demo's plain PIN never does."""
    return None if site.plant.rules.demo else person.pin
