"""The down-station sheet on paper: a page a paste, all of it readable, and its numbers nobody else's."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.facts import NumbersReserved
from station.labels.faults import LabelFault
from station.labels.sheet_down import LABELS, down_pages
from station.labels.sheet_limits import down_sheet
from station.labels.sheet_paper import A4, PAPERS, Paper
from station.printing.sheets.drawing import draw_page
from station.printing.sheets.of_station import WIDEST, down_station_pdf
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.outcome import Refusal
from station.services.site import Site
from station.services.station import Station
from station.settings.load import load
from tests.printing.sheets.paper import ink, page_sizes, printed, same_dots, texts

ROOT = Path(__file__).parents[3]
papers = pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
plants = pytest.mark.parametrize("plant", ["demo_config", "tests/plant_f"])


def started(site: Site) -> Station:
    clock = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
    station = build_station(site, MemoryJournal(), clock, DEMO_KEYS, NoPrinter())
    station.start("test")
    return station


def at(plant: str) -> Station:
    return started(load(ROOT / plant))


@papers
@plants
def test_there_is_one_page_for_each_paste_with_nothing_in_its_margins(plant: str, paper: Paper, tmp_path: Path) -> None:
    station = at(plant)
    pages = printed(down_station_pdf(station, paper, "P20"), tmp_path)
    assert len(pages) == len(station.site.plant.pastes)
    for page in pages:
        left, top, right, bottom = ink(page)
        assert min(left, top) >= 9.9
        assert right <= paper.width_mm - 9.9
        assert bottom <= paper.height_mm - 9.9


@papers
def test_it_is_as_large_as_the_paper_and_comes_out_dot_for_dot(paper: Paper, tmp_path: Path) -> None:
    station = at("demo_config")
    pdf = down_station_pdf(station, paper, None, ["PB-1"])
    assert len(page_sizes(pdf, tmp_path)) == 1
    (page,) = printed(pdf, tmp_path)
    (drawn,) = down_pages([down_sheet(station.floor(), "PB-1", tuple(station.ledger.reserved))], paper)
    assert same_dots(page, draw_page(drawn))


def test_each_number_stands_on_a_row_and_on_a_label_of_one_sheet_only() -> None:
    station = at("demo_config")
    down_station_pdf(station, A4, "P20")
    spent = [fact.body for fact in station._journal.facts() if isinstance(fact.body, NumbersReserved)]
    numbers = [name for body in spent for name in body.numbers]
    assert len(set(numbers)) == len(numbers) == LABELS * len(station.site.plant.pastes)
    for body in spent:
        (page,) = down_pages([down_sheet(station.floor(), body.paste, body.numbers)], A4)
        said = texts(page)
        assert [said.count(name.replace("-", " ")) for name in body.numbers] == [2] * LABELS
        assert station.new_container() not in numbers


def test_a_sheet_says_what_paste_it_is_of_on_every_label_leaded_above_all() -> None:
    station = at("demo_config")
    (page,) = down_pages([down_sheet(station.floor(), "PB-1", station.reserve("PB-1", LABELS, None))], A4)
    assert texts(page).count("LEADED (Pb)") == 1 + LABELS
    assert texts(page).count("PB-1") == 1 + LABELS


@papers
@pytest.mark.parametrize("letters", ["W", "Wide hall number two, "])
def test_the_longest_names_of_settings_fit(letters: str, paper: Paper) -> None:
    """60 characters for a title, 24 for a part number, 16 for an id: the most that settings take."""
    name = (letters * 60)[:60].strip()
    site = load(ROOT / "demo_config")
    kinds = {key: replace(kind, title=name) for key, kind in site.plant.kinds.items()}
    stores = {key: replace(store, title=name) for key, store in site.plant.stores.items()}
    pastes = {
        key.ljust(16, "W"): replace(paste, id=key.ljust(16, "W"), title=name, part_number="W" * 24)
        for key, paste in site.plant.pastes.items()
    }
    limits = tuple(replace(entry, paste=entry.paste.ljust(16, "W")) for entry in site.specifications)
    plant = replace(site.plant, kinds=kinds, stores=stores, pastes=pastes, products={})
    station = started(replace(site, plant=plant, specifications=limits))
    floor = station.floor()
    pages = down_pages([down_sheet(floor, paste, (WIDEST,) * LABELS) for paste in pastes], paper)
    assert len(pages) == len(pastes)


def test_a_sheet_that_can_not_be_printed_spends_no_number() -> None:
    site = load(ROOT / "demo_config")
    kinds = {key: replace(kind, title="W" * 200) for key, kind in site.plant.kinds.items()}
    station = started(replace(site, plant=replace(site.plant, kinds=kinds)))
    with pytest.raises(LabelFault, match="does not fit"):
        down_station_pdf(station, A4, None)
    assert not station.ledger.reserved


def test_an_unknown_paste_is_refused_by_name() -> None:
    with pytest.raises(Refusal, match="no paste 'SN-5' in this plant; known are SN-4"):
        down_station_pdf(at("demo_config"), A4, None, ["SN-5"])
