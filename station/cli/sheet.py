"""`station sheet FILE.pdf`: cards, badges and tags of a site, or the sheets for working while a station is down."""

from argparse import Namespace

from station.bootstrap import DEMO_KEYS, JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.cli.restored import refuse_unstarted
from station.cli.saying import YES, say
from station.clock import SystemClock
from station.journal.store import Journal
from station.labels.sheet_codes import SORTS
from station.labels.sheet_paper import Paper, paper_named
from station.printing.sheets.of_site import cards_pdf
from station.printing.sheets.of_station import down_station_pdf
from station.printing.sheets.writing import write_whole
from station.services.opening import opening_bodies
from station.services.outcome import Refusal
from station.services.reading import Reader
from station.services.site import Site
from station.settings.load import load


def run(told: Namespace) -> int:
    """Write the sheets; nothing is written, and no number spent, where anything does not fit."""
    paper = paper_named(told.paper)
    _refuse_wrong_words(told)
    site = load(told.config)
    data = _down(site, paper, told) if told.down else _cards(site, paper, told)
    write_whole(told.file, data)
    say(f"done: {told.file}, {paper.name}. Print it at 100 %, not fitted to the page.")
    return YES


def _refuse_wrong_words(told: Namespace) -> None:
    if told.file.suffix.lower() != ".pdf":
        raise Refusal("not-pdf", f"{told.file} does not end with .pdf, and may be a file you still need. Name a PDF.")
    wrong = [sort for sort in told.only if sort not in SORTS]
    if wrong:
        raise Refusal("unknown-sort", f"There are no cards of sort {wrong[0]!r}; choose from {', '.join(SORTS)}.")
    if told.down and told.only:
        raise Refusal("cards-or-down", "--only is for cards. Leave it out, or leave out --down.")


def _cards(site: Site, paper: Paper, told: Namespace) -> bytes:
    # what the plain texts mean hangs on no key
    known = Reader(site, DEMO_KEYS).known
    return cards_pdf(site, known, paper, SystemClock().read().wall, told.only)


def _down(site: Site, paper: Paper, told: Namespace) -> bytes:
    """Reserves in the journal of the station, which must not be running: there the shift desk prints them."""
    if told.by is not None and told.by not in {person.id for person in site.people}:
        raise Refusal("unknown-badge", f"Nobody here has badge {told.by!r}. Give the id from people.toml.")
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        refuse_unstarted(journal)
        station = build_station(site, journal, SystemClock(), keys, NoPrinter(), journal.own)
        if any(True for _ in opening_bodies(site, station.ledger)):
            raise Refusal(
                "settings-newer",
                "The settings are not yet what the station works by. Start it once with them, then print the sheets.",
            )
        return down_station_pdf(station, paper, told.by, told.paste)
