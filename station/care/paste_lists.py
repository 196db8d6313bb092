"""The pastes a product is built with, or one order of it, as the process engineer decides: leaded or lead-free."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from unicodedata import normalize

from station.care import facts as f
from station.care.floor import Floor
from station.care.list_story import to_replace
from station.care.saying import opening, spot
from station.care.spec_drafts import SpecificationRefused, refuse_other_than_engineer
from station.care.specification import Rules

MOST_TITLE, MOST_ORDER, MOST_NOTE = 40, 60, 300


@dataclass(frozen=True, slots=True)
class ListTold:
    """The pastes of a product, or of one `order` of it. None of them: the list is taken away.

    An order without a list of its own goes by that of its product; a product without a list is built with nothing.
    """

    product: str
    pastes: tuple[str, ...]
    title: str = ""
    order: str = ""
    note: str = ""


def list_faults(floor: Floor, told: ListTold) -> tuple[str, ...]:
    """Everything wrong with a list, each as a sentence that says how to mend it."""
    return tuple(_faults(floor, _tidy(told)))


def _tidy(told: ListTold) -> ListTold:
    """Names as a scan of the work order gives them: no spaces around them, each letter one character."""
    product, title, order = (normalize("NFC", text.strip()) for text in (told.product, told.title, told.order))
    return replace(told, product=product, title=title, order=order, note=told.note.strip())


def _faults(floor: Floor, told: ListTold) -> Iterator[str]:
    yield from _of_words(floor, told)
    unknown = [paste for paste in told.pastes if paste not in floor.plant.pastes]
    if unknown:
        yield f"There is no paste {unknown[0]} here. Choose among {', '.join(floor.plant.pastes)}."
    if len(set(told.pastes)) < len(told.pastes):
        yield "The same paste stands in it twice. Take one out."
    if len(floor.metals(told.pastes)) > 1:
        yield "It names leaded (Pb) and lead-free pastes; a product has either, never both. Make two products of it."
    if not told.pastes and _standing(floor, told) is None:
        yield "Choose at least one paste."
    if told.order and told.pastes:
        yield from _of_order(floor, told)


def _of_words(floor: Floor, told: ListTold) -> Iterator[str]:
    names = {
        "product": (told.product, MOST_ORDER),
        "title": (told.title, MOST_TITLE),
        "order": (told.order, MOST_ORDER),
    }
    if not told.product:
        yield "The product is missing. Type it as it stands in the work order's code."
    for name, (text, most) in names.items():
        if len(text) > most or not text.isprintable():
            yield f"The {name} is longer than {most} characters or more than one line. Shorten it."
    if len(told.note) > MOST_NOTE:
        yield f"The note has over {MOST_NOTE} characters. Shorten it."
    known = told.product in floor.plant.products or (told.product, "") in floor.ledger.rulebook.lists
    yield from _never_scanned(floor.rules, "product", "" if known else told.product)
    yield from _never_scanned(floor.rules, "order", told.order if told.pastes else "")


def _never_scanned(rules: Rules, part: str, text: str) -> Iterator[str]:
    """A name no work order of this site can carry: by the pattern for them, put into its example."""
    example = re.fullmatch(rules.order_pattern, rules.order_example)
    if not (text and text.isprintable() and rules.order_pattern and example is not None):
        return
    begins, ends = example.span(part)
    found = re.fullmatch(rules.order_pattern, f"{rules.order_example[:begins]}{text}{rules.order_example[ends:]}")
    if found is None or found[part] != text:
        yield f"No work order reads {text} for the {part}. Write it as it is scanned, such as {example[part]}."


def _standing(floor: Floor, told: ListTold) -> tuple[str, ...] | None:
    """The list that is there now; None where it is empty or there is none."""
    if told.order:
        own = floor.ledger.rulebook.lists.get((told.product, told.order))
        return own.pastes if own is not None else None
    return floor.approved_pastes(told.product, "") or None


def _of_order(floor: Floor, told: ListTold) -> Iterator[str]:
    """An order is one of a product, and never of another metal than that."""
    product = floor.plant.products.get(told.product)
    if product is None:
        yield f"There is no product {told.product}. Give the product its pastes first, then the order."
        return
    if floor.metals(told.pastes) - floor.metals(product.pastes):
        of, other = "leaded (Pb)", "lead-free"
        if True not in floor.metals(product.pastes):
            of, other = other, of
        yield f"{told.product} is built {of}; an order of it can't be {other}."


def set_list(floor: Floor, told: ListTold, by: str) -> f.PasteListSet:
    """The fact of a list. Raises SpecificationRefused with every fault."""
    refuse_other_than_engineer(floor, by)
    faults = list_faults(floor, told)
    if faults:
        raise SpecificationRefused(" ".join(faults))
    said = _tidy(told)
    known = floor.plant.products.get(said.product)
    title = said.title or (known.title if known is not None else said.product)
    replaces = to_replace(floor.ledger.rulebook.list_story(said.product, said.order))
    return f.PasteListSet(said.product, title, said.pastes, said.order, said.note, replaces)


def set_up_otherwise(floor: Floor) -> tuple[str, ...]:
    """A sentence for each position that still has paste on it which its job does not allow any more."""
    found = []
    for place, bead in floor.beads():
        if bead.paste in place.pastes and not floor.fits_job(place, bead.paste):
            found.append(f"{opening(spot(place.id))}: the {bead.paste} bead is not approved any more.")
    return tuple(found)
