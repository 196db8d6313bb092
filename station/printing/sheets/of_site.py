"""The sheets of one site: all its cards, badges and tags."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from station.care.specification import Bin
from station.care.words import Alloy
from station.labels.plaincodes import KnownTexts
from station.labels.sheet_cards import card_pages
from station.labels.sheet_codes import SORTS, SheetCode, Titles, all_sorts, sheet_codes
from station.labels.sheet_fit import SheetPage
from station.labels.sheet_paper import Paper
from station.printing.sheets.drawing import sheets_pdf
from station.services.site import Site


def codes_of(
    site: Site, known: KnownTexts, sorts: Iterable[str] = (), people: Mapping[str, str] | None = None
) -> tuple[SheetCode, ...]:
    """A card for every text the site's reader knows, of these `sorts` or of all.

    `people` are names by badge, of those who came since the settings were written.
    """
    titles = titles_of(site)
    return sheet_codes(known, replace(titles, people={**titles.people, **(people or {})}), sorts)


def pages_of(codes: Iterable[SheetCode], paper: Paper, site: Site) -> tuple[SheetPage, ...]:
    """Sheets of cards; each sort begins on a sheet of its own. LabelFault "layout" for a name that is too long."""
    return tuple(page for _, found in all_sorts(codes) for page in card_pages(found, paper, site.name))


def titles_of(site: Site) -> Titles:
    """How this site calls its people, stores and places."""
    return Titles(
        people={person.id: person.name for person in site.people},
        stores={store.id: store.title for store in site.plant.stores.values()},
        places={place.id: place.title for place in site.places},
        bin_notes={
            bin_.id: " ".join(_notes(bin_, store.title)) for store in site.plant.stores.values() for bin_ in store.bins
        },
    )


def _notes(bin_: Bin, store: str) -> Iterator[str]:
    yield f"It is in: {store}."
    if bin_.leaded:
        yield f"For {Alloy.SN_PB.shout} only."
    if bin_.hold:
        yield "For what is on hold."


WITHOUT_BADGES = tuple(sort for sort in SORTS if sort != "badge")


def cards_pdf(
    site: Site,
    known: KnownTexts,
    paper: Paper,
    made_at: datetime,
    sorts: Iterable[str] = (),
    people: Mapping[str, str] | None = None,
) -> bytes:
    """All cards, badges and tags of a site, or those of these `sorts`. LabelFault where a name is too long."""
    pages = pages_of(codes_of(site, known, sorts, people), paper, site)
    return sheets_pdf(pages, f"Cards and tags of {site.name}", made_at)
