"""The settings become facts: specifications, paste lists and people, written once and again only when they change.

What a file says against the record never loosens anything by itself: a version the record has already keeps its
figures, what was approved at the desk stays beside a newer version of the file, figure by figure the stricter, until
one is approved there; and a list or a person decided at the desk stands until the file says something new.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from station.care import facts as f
from station.care import paste_story, versions
from station.care.ledger import Ledger
from station.care.list_story import PasteList, replaced_by_file
from station.care.people import called
from station.care.rulebook import ListKey
from station.care.spec_drafts import digest
from station.care.specification import Near, Paste, Specification
from station.care.specification_change import same_figures
from station.care.words import Limit
from station.services.ports import JournalRefusal
from station.services.site import Person, Site

DISAGREE = "was approved at two stations with different figures, neither knowing of the other"
AGAIN = "The process engineer decides them again (Paste lists)."


def opening_bodies(site: Site, ledger: Ledger) -> Iterator[f.Body]:
    """The facts that make the ledger agree with the settings."""
    standing = in_force(site, ledger)
    for entry in standing:
        paste = _paste_told(site, entry.paste, ledger)
        if paste is not None or _known(entry.paste, ledger) != entry:
            right = _set_right(paste, ledger) if paste is not None else ()
            yield f.SpecificationSet(
                entry, digest(entry), paste=paste, replaces=_replaced(entry, ledger), corrects=right
            )
    yield from versions.tightened(ledger, site.plant.positions, (_after(entry, ledger) for entry in standing))
    yield from _lists(site, ledger)
    yield from _people(site, ledger)


def _known(paste: str, ledger: Ledger) -> Specification | None:
    """What was put in force for a paste, as it was approved."""
    story = ledger.rulebook.told_of(paste)
    return story.in_force if story is not None else None


def _paste_told(site: Site, paste: str, ledger: Ledger) -> Paste | None:
    """The paste of the settings where they say another number, metal or storage than they said last."""
    listed = site.plant.pastes.get(paste)
    if listed is None or paste_story.settings_say(ledger.rulebook.pastes_told(paste), listed):
        return None
    return listed


def _set_right(paste: Paste, ledger: Ledger) -> tuple[str, ...]:
    """What the settings said before and this sets right: not what any paste of it came in by that is left."""
    alive = (one.received_key for one in ledger.containers.values() if one.paste == paste.id and one.ended is None)
    beads = (place.bead for place in ledger.positions.values() if place.bead is not None)
    lying = (bead.key for bead in beads if bead.paste == paste.id)
    last = max(map(ledger.order_of, (*alive, *lying)), default=None)
    return paste_story.to_correct(ledger.rulebook.pastes_told(paste.id), paste, last)


def _replaced(entry: Specification, ledger: Ledger) -> tuple[str, ...]:
    story = ledger.rulebook.told_of(entry.paste)
    return story.replaced_by_file(entry) if story is not None else ()


def _after(entry: Specification, ledger: Ledger) -> Specification:
    """What will hold once the settings have said it."""
    story = ledger.rulebook.told_of(entry.paste)
    return story.with_file(entry) if story is not None else entry


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
    others = (_known(paste, ledger) for paste in ledger.specifications if paste not in listed)
    return (*told, *(_prompted(known, near, ledger) for known in others if known is not None))


def _prompted(known: Specification, near: tuple[tuple[Limit, Near], ...], ledger: Ledger) -> Specification:
    """What holds, with the prompts of this site; where contents stand beside each other that would be one more."""
    return known if ledger.rulebook.disputed(known.paste) else replace(known, near=near)


def _standing(site: Site, entry: Specification, ledger: Ledger) -> Specification:
    """A newer version of the settings, else the record's with the prompts of this site.

    A version is what it was when it was put in force: with the same number the settings may still say where its
    figures stand and who approved it, but none of its figures. Where two people approve, it may say nothing of that:
    two can't be told from a file.
    """
    known, two_person = _known(entry.paste, ledger), site.plant.rules.two_person
    if known is None or (entry.version > known.version and not two_person):
        return entry
    if not two_person and _is_it(entry, known) and _says_more(entry, known, ledger):
        return entry
    return _prompted(known, entry.near, ledger)


def _is_it(entry: Specification, known: Specification) -> bool:
    return entry.version == known.version and same_figures(entry, known)


def _says_more(entry: Specification, known: Specification, ledger: Ledger) -> bool:
    """Whether the settings may say who approved it and where it stands: not against an engineer at the desk."""
    if ledger.rulebook.disputed(entry.paste):
        return False
    approval = ledger.rulebook.approval(entry.paste)
    by_hand = approval is not None and approval.by is not None
    return not by_hand and (entry.approved_by is not None or known.approved_by is None)


def outdated(site: Site, ledger: Ledger) -> str:
    """What to say where the settings and the record do not agree; nothing where they do."""
    behind = [entry for entry in site.specifications if _is_behind(entry, ledger)]
    told = [f"{entry} (in force is version {ledger.specifications[entry.paste].version})" for entry in behind]
    old = f"The settings of this station are out of date: {', '.join(told)}. Ask the process engineer to mend them."
    others = (_otherwise(site, entry, ledger) for entry in site.specifications)
    return " ".join(filter(None, [old if told else "", *others, *_alike(site, ledger), *_decided_apart(ledger)]))


def _is_behind(entry: Specification, ledger: Ledger) -> bool:
    """An older version than the one in force. One that an engineer has since replaced at the desk is no fault."""
    if entry.version >= ledger.specifications[entry.paste].version:
        return False
    was, approval = ledger.versions.get((entry.paste, entry.version)), ledger.rulebook.approval(entry.paste)
    by_hand = approval is not None and approval.by is not None
    return not (by_hand and was is not None and same_figures(was, entry))


def _otherwise(site: Site, entry: Specification, ledger: Ledger) -> str:
    """The settings' figures that were not taken over, and why."""
    known = _known(entry.paste, ledger) or entry
    approves = _is_it(entry, known) and entry.approved_by is not None and known.approved_by is None
    if site.plant.rules.two_person and (entry.version > known.version or approves):
        return (
            f"{entry} of pastes.toml is not in force: here a second engineer approves a new version. "
            "Read the file in at the desk and have it approved there."
        )
    disputed = ledger.rulebook.disputed(entry.paste)  # which is told for itself
    if entry.version == known.version and not (disputed or same_figures(entry, known)):
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
    who = called(ledger.people, before.by)
    names = {"file": ", ".join(told.pastes) or "no paste", "desk": ", ".join(before.pastes) or "no paste"}
    if ledger.rulebook.lists[told.product, ""].by is None:
        return (
            f"products.toml now says {names['file']} for {told.product}, and that holds; {who} had decided "
            f"{names['desk']} at the desk. Tell the process engineer."
        )
    return (
        f"products.toml says {names['file']} for {told.product}; {who} decided {names['desk']} at the desk, "
        "and that holds. Change it at the desk."
    )


def _decided_apart(ledger: Ledger) -> Iterator[str]:
    """What engineers decided where they had not heard of each other, until one decides it again."""
    book = ledger.rulebook
    for paste, limits in book.specifications.items():
        story = book.told_of(paste)
        if story is not None and story.disputed:
            older = " and ".join(str(version) for version in story.beside)
            how = f"does not take the place of version {older}" if older else DISAGREE
            yield (
                f"{limits} {how}: the stricter of each figure holds. "
                f"The process engineer approves a version {limits.version + 1}."
            )
        if book.metal_disputed(paste):
            told = "; ".join(dict.fromkeys(str(one) for one in paste_story.standing(book.pastes_told(paste))))
            yield (
                f"{paste} was told as two different pastes, and nothing of it is used: {told}. Mend pastes.toml. Where "
                "paste of it is here, end that first, then start the station anew."
            )
    for decided in book.lists.values():
        if decided.disputed:
            of = f"order {decided.order} of {decided.product}" if decided.order else decided.product
            left = ", ".join(decided.pastes) or "nothing"
            yield f"The pastes of {of} were decided twice, apart: {left} is what both allow. {AGAIN}"


def _alike(site: Site, ledger: Ledger) -> Iterator[str]:
    """Pastes of one number: a label names none of them then."""
    plant = ledger.rulebook.into(site.plant)
    for paste in plant.pastes.values():
        same = [other.id for other in plant.pastes.values() if other.number == paste.number and other.id != paste.id]
        if same:
            yield (
                f"{paste.id} and {same[0]} have the number {paste.number}. Use neither by its label. The process "
                "engineer gives one of them a number never used before in pastes.toml; then print its labels again."
            )


def _told(site: Site, person: Person) -> f.PersonSet:
    pin = _kept_pin(site, person)
    return f.PersonSet(person.id, person.name, person.roles, pin, left=False, training_until=person.training_until)


def _kept_pin(site: Site, person: Person) -> str | None:
    """The hash goes into the record; a demo's plain PIN never does."""
    return None if site.plant.rules.demo else person.pin
