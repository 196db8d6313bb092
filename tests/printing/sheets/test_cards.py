"""Cards on paper: both readers read each of them, one at a time, and the station takes what they say."""

from dataclasses import replace
from datetime import UTC, datetime
from itertools import combinations
from math import dist
from pathlib import Path

import pytest
from PIL import Image

from station.bootstrap import DEMO_KEYS
from station.care.words import Card
from station.labels.fitting import CodeMark, TextMark
from station.labels.plaincodes import KnownTexts, card_text, set_up_text
from station.labels.reading import NotRead, read
from station.labels.sheet_fit import SheetPage, reach
from station.labels.sheet_paper import A4, DPI, LETTER, PAPERS, Paper, card_cells
from station.labels.symbol import QUIET_MODULES
from station.printing.sheets.drawing import draw_page
from station.printing.sheets.of_site import cards_pdf, codes_of, pages_of
from station.services.reading import Reader
from station.services.site import Site
from station.settings.load import load
from tests.printing.sheets.paper import codes_with_places, ink, page_sizes, printed, same_dots, second_reader

SITE = load(Path(__file__).parents[3] / "demo_config")
KNOWN = Reader(SITE, DEMO_KEYS).known
MADE = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
# our own choice: so far apart that a reader held over one code sees no other
APART_MM = 80
Printed = tuple[Paper, list[Image.Image]]
papers = pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)


def cards(paper: Paper, site: Site = SITE, known: KnownTexts = KNOWN) -> tuple[SheetPage, ...]:
    return pages_of(codes_of(site, known), paper, site)


@pytest.fixture(scope="module", params=PAPERS.values(), ids=list(PAPERS))
def out_of_the_printer(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """All the site's cards on paper."""
    return request.param, printed(cards_pdf(SITE, KNOWN, request.param, MADE), tmp_path_factory.mktemp("cards"))


def test_every_card_is_read_by_two_readers_and_taken_by_the_station(out_of_the_printer: Printed) -> None:
    found: list[str] = []
    for page in out_of_the_printer[1]:
        codes = codes_with_places(page)
        assert {text: second_reader(page, at) for text, at in codes.items()} == {text: text for text in codes}
        assert all(dist(one, other) >= APART_MM for one, other in combinations(codes.values(), 2))
        found += codes
    assert sorted(found) == sorted((*KNOWN.meaning, set_up_text()))
    assert not [text for text in found if isinstance(read(text, DEMO_KEYS, KNOWN), NotRead)]


def test_nothing_is_printed_where_a_printer_can_not(out_of_the_printer: Printed) -> None:
    # 10 mm: common practice for office printers, no source
    paper, pages = out_of_the_printer
    for page in pages:
        left, top, right, bottom = ink(page)
        assert left >= 9.9
        assert top >= 9.9
        assert right <= paper.width_mm - 9.9
        assert bottom <= paper.height_mm - 9.9


def test_every_dot_comes_out_black_or_white_as_it_was_drawn(out_of_the_printer: Printed) -> None:
    paper, pages = out_of_the_printer
    drawn = cards(paper)
    assert len(pages) == len(drawn)
    assert all(same_dots(page, draw_page(plan)) for page, plan in zip(pages, drawn, strict=True))


@pytest.mark.parametrize(
    # ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: size A is 8 1/2 x 11 in; a point is 1/72 in
    ("paper", "points"),
    [(A4, (595.28, 841.89)), (LETTER, (612, 792))],
    ids=PAPERS,
)
def test_the_pages_are_the_size_of_the_paper(paper: Paper, points: tuple[float, float], tmp_path: Path) -> None:
    (size,) = page_sizes(cards_pdf(SITE, KNOWN, paper, MADE, ["badge", "place"]), tmp_path)
    width, _, height, _ = size.split()
    assert (float(width), float(height)) == pytest.approx(points, abs=0.25)


@papers
def test_modules_are_whole_dots_with_four_of_them_quiet_all_round(paper: Paper) -> None:
    # ISO/IEC 18004: a quiet zone of 4 modules on every side
    for page in cards(paper):
        image = draw_page(page).convert("L")
        for mark in (mark for mark in page.marks if isinstance(mark, CodeMark)):
            left, top, right, bottom = mark.square
            across = len(mark.modules) + 2 * QUIET_MODULES
            assert (right - left) % across == 0
            quiet = QUIET_MODULES * (right - left) // across
            symbol = image.crop(mark.square)
            symbol.paste(255, (quiet, quiet, right - left - quiet, bottom - top - quiet))
            assert symbol.getextrema() == (255, 255)
            # large enough for 0.85 mm a module, so that an office printer's spread does no harm (from memory)
            assert (right - left) / across * 25.4 / DPI >= 0.8


@papers
def test_each_sort_begins_on_a_sheet_of_its_own(paper: Paper) -> None:
    for page in cards(paper):
        assert len({text[:2] for text in page.codes}) == 1


def test_the_same_site_gives_the_same_file_every_time() -> None:
    assert cards_pdf(SITE, KNOWN, A4, MADE, ["badge"]) == cards_pdf(SITE, KNOWN, A4, MADE, ["badge"])


# ---------------------------------------------------------------------- the longest names settings allow


def longest(letters: str) -> Site:
    """60 characters for a title or name, 16 for an id: the most that settings take."""
    name = (letters * 60)[:60].strip()
    stores = {
        f"{'S' * 15}{number}": replace(
            store,
            id=f"{'S' * 15}{number}",
            title=name,
            bins=tuple(
                replace(bin_, id=f"{number}-{place}".ljust(16, "W"), hold=True, leaded=True)
                for place, bin_ in enumerate(store.bins)
            ),
        )
        for number, store in enumerate(SITE.plant.stores.values())
    }
    people = tuple(replace(person, name=name, id=person.id.ljust(16, "W")) for person in SITE.people)
    places = tuple(replace(place, title=name, id=place.id.ljust(16, "W")) for place in SITE.places)
    positions = {name.ljust(16, "W"): position for name, position in SITE.plant.positions.items()}
    plant = replace(SITE.plant, stores=stores, positions=positions)
    return replace(SITE, name=name, people=people, places=places, plant=plant)


@papers
@pytest.mark.parametrize("letters", ["W", "Wide hall number two, ", "Wwwwwwwwwwwwwwwwwwwwwwww "])
def test_the_longest_names_stay_on_their_cards_and_off_the_codes(letters: str, paper: Paper) -> None:
    site = longest(letters)
    pages = cards(paper, site, Reader(site, DEMO_KEYS).known)
    assert pages
    cells = card_cells(paper)
    for page in pages:
        squares = [mark.square for mark in page.marks if isinstance(mark, CodeMark)]
        for mark in (mark for mark in page.marks if isinstance(mark, TextMark)):
            left, top, right, bottom = reach(mark)
            assert not [
                square
                for square in squares
                if left < square[2] and square[0] < right and top < square[3] and square[1] < bottom
            ], mark.line.text
            in_foot = top >= cells[-1][3]
            assert in_foot or any(
                cell[0] <= left and right <= cell[2] and cell[1] <= top and bottom <= cell[3] for cell in cells
            ), mark.line.text


def test_a_card_says_its_name_its_text_and_what_it_does() -> None:
    (empty,) = [code for code in codes_of(SITE, KNOWN) if code.text == card_text(Card.EMPTY)]
    assert (empty.kind, empty.name) == ("Command card", "EMPTY")
    assert empty.does.endswith(".")
