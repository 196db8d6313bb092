"""`station sheet FILE.pdf`: cards, badges and tags of a site, or the sheets for working while a station is down."""

from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager

from station.bootstrap import DEMO_KEYS, JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.cli.by_badge import proof_of, signed_in
from station.cli.one_code import chosen, give_out, refuse_wrong
from station.cli.restored import refuse_unstarted
from station.cli.saying import YES, say
from station.clock import SystemClock
from station.journal.store import Journal
from station.labels.plaincodes import badge_text, known_texts
from station.labels.sheet_codes import SORTS
from station.labels.sheet_paper import Paper, paper_named
from station.printing.sheets.of_site import WITHOUT_BADGES, cards_pdf, codes_of
from station.printing.sheets.of_station import badges_pdf, down_station_pdf
from station.printing.sheets.writing import write_whole
from station.services.badges import present, record_badges
from station.services.opening import opening_bodies
from station.services.outcome import Refusal
from station.services.reading import Reader
from station.services.site import Site
from station.services.station import Station
from station.settings.load import load

BADGE = "badge"


def run(told: Namespace) -> int:
    """Write the sheets; nothing is written, and no number spent, where anything does not fit."""
    paper = paper_named(told.paper)
    _refuse_wrong_words(told)
    site = load(told.config)
    if told.one is not None:
        return _one(site, told)
    make = _down if told.down else _badges if BADGE in told.only else _cards
    write_whole(told.file, make(site, paper, told))
    say(f"done: {told.file}, {paper.name}. Print it at 100 %, not fitted to the page.")
    if make is _cards and not told.only:
        say("Badges are not in it: a badge is a key. Print them with --only badge --by BADGE, or at the shift desk.")
    return YES


def _one(site: Site, told: Namespace) -> int:
    if BADGE not in told.only:
        codes = codes_of(site, Reader(site, DEMO_KEYS).known, told.only or WITHOUT_BADGES)
        return give_out(site, chosen(codes, told.one), told)
    with _station(site, told, "print the badge") as station:
        people = present(station)
        code = chosen(codes_of(site, known_texts(people=people), (BADGE,), people), told.one)
        proof = proof_of(station, told.by, "Printing a badge")
        before = station.head()
        try:
            record_badges(station, tuple(name for name in people if badge_text(name) == code.text), proof)
            return give_out(site, code, told)
        finally:
            if station.head() != before:
                station.stop("a badge was printed")


def _refuse_wrong_words(told: Namespace) -> None:
    if told.one is not None:
        refuse_wrong(told)
    elif told.on is not None or told.file is None:
        raise Refusal("no-file", "Name the PDF to write. --on is for a single code, with --one.")
    elif told.file.suffix.lower() != ".pdf":
        raise Refusal("not-pdf", f"{told.file} does not end with .pdf, and may be a file you still need. Name a PDF.")
    wrong = [sort for sort in told.only if sort not in SORTS]
    if wrong:
        raise Refusal("unknown-sort", f"There are no cards of sort {wrong[0]!r}; choose from {', '.join(SORTS)}.")
    if told.down and told.only:
        raise Refusal("cards-or-down", "--only is for cards. Leave it out, or leave out --down.")
    if BADGE in told.only and len(set(told.only)) > 1:
        raise Refusal("badges-alone", "Badges are printed by themselves. Leave out the other --only.")


def _cards(site: Site, paper: Paper, told: Namespace) -> bytes:
    # what the plain texts mean hangs on no key
    known = Reader(site, DEMO_KEYS).known
    return cards_pdf(site, known, paper, SystemClock().read().wall, told.only or WITHOUT_BADGES)


def _badges(site: Site, paper: Paper, told: Namespace) -> bytes:
    """Those of the station's record, since people come and go at its desk."""
    with _station(site, told, "print the badges") as station:
        proof = proof_of(station, told.by, "Printing badges")
        before = station.head()
        try:
            return badges_pdf(station, paper, proof)
        finally:
            if station.head() != before:
                station.stop("badges were printed")


def _down(site: Site, paper: Paper, told: Namespace) -> bytes:
    with _station(site, told, "print the sheets") as station:
        return down_station_pdf(station, paper, signed_in(station, told.by), told.paste)


@contextmanager
def _station(site: Site, told: Namespace, act: str) -> Iterator[Station]:
    """The station on its journal, which must not be in use: while it is, the shift desk prints."""
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        refuse_unstarted(journal)
        station = build_station(site, journal, SystemClock(), keys, NoPrinter(), journal.own)
        if any(True for _ in opening_bodies(site, station.ledger)):
            raise Refusal(
                "settings-newer",
                f"The settings are not yet what the station works by. Start it once with them, then {act}.",
            )
        yield station
