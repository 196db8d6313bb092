"""Laying out sheets: the paper, how text is made to fit, which cards there are, the figures of a down-station sheet."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import combinations
from math import dist
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.floor import Floor
from station.care.words import Card
from station.labels.faults import LabelFault
from station.labels.plaincodes import KnownTexts, TagKind, known_texts, tag_text
from station.labels.sheet_codes import DOES, SORTS, SheetCode, Titles, sheet_codes
from station.labels.sheet_fit import Words, set_words
from station.labels.sheet_limits import CAUTIONS, DEMO_DRAFT, DRAFT, LEADED, down_sheet
from station.labels.sheet_paper import A4, DPI, LETTER, PAPERS, card_cells, paper_named
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.site import Site
from station.settings.load import load

ROOT = Path(__file__).parents[2]
DEMO = load(ROOT / "demo_config")
WIDE = 1000
PLAIN = Words(4.0, 2.0, lines=2)
TITLES = Titles({"P1": "Robin Alder"}, {"F": "Refrigerator"}, {"DESK": "Shift desk"}, {"A1": "For what is on hold."})
KNOWN = known_texts(people=["P1"], positions=["2A"], bins=["A1"], stores=["F"], places=["DESK", "X"])


# ---------------------------------------------------------------------- paper


def test_the_papers_have_the_sizes_of_their_standards() -> None:
    # ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: size A is 8 1/2 x 11 in, of 25.4 mm each.
    assert (A4.width_mm, A4.height_mm) == (210, 297)
    assert (LETTER.width_mm, LETTER.height_mm) == pytest.approx((8.5 * 25.4, 11 * 25.4))


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_cards_do_not_overlap_and_their_middles_are_80_mm_apart(paper: object) -> None:
    cells = card_cells(paper)  # type: ignore[arg-type]
    middles = [((left + right) / 2, (top + bottom) / 2) for left, top, right, bottom in cells]
    assert min(dist(one, other) for one, other in combinations(middles, 2)) * 25.4 / DPI >= 80
    for one, other in combinations(cells, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_paper_is_known_by_its_name_and_others_are_refused() -> None:
    assert paper_named("letter") is LETTER
    with pytest.raises(LabelFault, match="no sheets for paper 'A5'; choose A4 or Letter"):
        paper_named("A5")


# ---------------------------------------------------------------------- text


def lines(text: str, words: Words = PLAIN, width: int = WIDE) -> list[str]:
    marks, wrong = set_words(text, words, 0, 0, width)
    assert not wrong
    return [mark.line.text for mark in marks]


def test_a_short_text_is_set_in_the_largest_size_on_one_line() -> None:
    (mark,), wrong = set_words("SN-4", PLAIN, 100, 50, 100 + WIDE)
    assert not wrong
    assert mark.line.capital == round(4.0 * DPI / 25.4)
    assert mark.x + mark.line.left == 100
    assert mark.baseline == 50 + mark.line.capital


def test_a_longer_one_goes_on_two_lines_and_only_then_gets_smaller() -> None:
    (first, second), _ = set_words("Refrigerator in the hall", PLAIN, 0, 0, 560)
    assert (first.line.text, second.line.text) == ("Refrigerator in the", "hall")
    assert first.line.capital == round(4.0 * DPI / 25.4)
    (first, second), _ = set_words("Refrigerator in the hall behind the office", PLAIN, 0, 0, 560)
    assert first.line.capital < round(4.0 * DPI / 25.4)


def test_a_word_is_cut_only_where_no_size_spares_it() -> None:
    narrow = 420
    assert lines("Refrigerator", width=narrow) == ["Refrigerator"]
    assert "".join(lines("Refrigeratorrefrigerator", width=narrow)) == "Refrigeratorrefrigerator"


def test_what_fits_in_no_way_is_a_fault_that_names_the_text_and_the_room() -> None:
    marks, wrong = set_words("Refrigerator " * 19, PLAIN, 0, 0, WIDE)
    assert marks == ()
    assert "does not fit into 85 mm on 2 line(s)" in wrong


@settings(max_examples=60, deadline=None)
@given(st.text("abcdefghij WMI.,-", min_size=1, max_size=80), st.integers(200, 1200))
def test_nothing_is_lost_and_nothing_stands_out_of_its_box(text: str, width: int) -> None:
    marks, wrong = set_words(text, Words(3.0, 1.5, lines=5, high_mm=12.0), 0, 0, width)
    if wrong:
        return
    assert "".join(mark.line.text for mark in marks).replace(" ", "") == text.replace(" ", "")
    for mark in marks:
        assert mark.x + mark.line.left >= 0
        assert mark.x + mark.line.right <= width
        assert mark.baseline <= 12.0 * DPI / 25.4 + 1


# ---------------------------------------------------------------------- cards


def cards(known: KnownTexts = KNOWN, *sorts: str) -> dict[str, SheetCode]:
    return {code.text: code for code in sheet_codes(known, TITLES, sorts)}


def test_every_command_card_says_what_it_does_in_one_sentence() -> None:
    assert set(DOES) == set(Card)
    assert all(said.endswith(".") and ". " not in said for said in DOES.values())


def test_there_is_a_card_for_every_text_the_site_knows_and_for_nothing_else() -> None:
    found = cards()
    assert set(KNOWN.meaning) < set(found)
    assert [code.name for text, code in found.items() if text not in KNOWN.meaning] == ["SCANNER SET-UP"]
    assert {code.sort for code in found.values()} == set(SORTS)


def test_only_some_sorts_may_be_wanted() -> None:
    assert {code.sort for code in cards(KNOWN, "badge", "bin").values()} == {"badge", "bin"}


@pytest.mark.parametrize(
    ("tag", "id_", "name"),
    [
        (TagKind.POSITION, "2A", "LINE 2A"),
        (TagKind.BIN, "A1", "BIN A1"),
        (TagKind.STORE, "F", "Refrigerator"),
        (TagKind.PLACE, "DESK", "Shift desk"),
        (TagKind.PLACE, "X", "X"),
    ],
)
def test_tags_are_named_as_people_call_the_thing(tag: TagKind, id_: str, name: str) -> None:
    assert cards()[tag_text(tag, id_)].name == name


def test_a_bins_tag_says_what_may_lie_in_it() -> None:
    assert cards()[tag_text(TagKind.BIN, "A1")].does.endswith("For what is on hold.")


# ---------------------------------------------------------------------- the figures of a down-station sheet


def floor_of(site: Site) -> Floor:
    clock = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
    station = build_station(site, MemoryJournal(), clock, DEMO_KEYS, NoPrinter())
    station.start("test")
    return station.floor()


def test_the_figures_are_those_of_the_specification() -> None:
    sheet = down_sheet(floor_of(DEMO), "SN-4", ("K1-001",))
    assert dict(sheet.warming)["jar 500 g, in its carton"] == "at least 10 h"
    lives = dict(sheet.lives)
    assert lives["closed, all time out of the cold"] == "at most 7 d"
    assert (lives["once opened"], lives["on the stencil"]) == ("at most 24 h", "at most 8 h")
    assert (lives["pause: wipe and knead"], lives["pause: replace the bead"]) == ("over 30 min", "over 1 h")
    temperatures = dict(sheet.temperatures)
    assert temperatures["arrival: hold"] == "over 37.8, under 0 °C"
    assert temperatures["do not open below"] == "19 °C"
    assert temperatures["Refrigerator, goods hall"] == "2 to 10 °C"
    assert sheet.numbers == ("K1-001",)
    assert "Wed 25 Nov 2026 10:00" in sheet.edition


def test_the_cautions_for_lead_stand_on_sheets_of_leaded_paste_only() -> None:
    floor = floor_of(DEMO)
    assert down_sheet(floor, "PB-1", ()).cautions == (LEADED, *CAUTIONS)
    assert down_sheet(floor, "SN-4", ()).cautions == CAUTIONS
    assert any("Never heat paste" in said for said in CAUTIONS)


def test_a_draft_is_no_leave_to_use_anything_but_in_a_demo() -> None:
    assert DEMO_DRAFT in down_sheet(floor_of(DEMO), "SN-4", ()).edition
    rules = replace(DEMO.plant.rules, demo=False)
    real = replace(DEMO, plant=replace(DEMO.plant, rules=rules))
    assert DRAFT in down_sheet(floor_of(real), "SN-4", ()).edition
    approved = tuple(replace(entry, approved_by="P30") for entry in DEMO.specifications)
    assert "approved by P30" in down_sheet(floor_of(replace(real, specifications=approved)), "SN-4", ()).edition


def test_frozen_paste_thaws_first_where_its_specification_says_so() -> None:
    floor = floor_of(load(ROOT / "tests" / "plant_f"))
    assert down_sheet(floor, "FZ-7", ()).warming[0] == ("first in the refrigerator", "12 h to 2 d")
    assert "Refrigerator" in dict(down_sheet(floor, "FZ-7", ()).temperatures)
    assert "Refrigerator" not in dict(down_sheet(floor, "FS-8", ()).temperatures)


def test_paste_kept_at_room_temperature_needs_no_warming_and_has_no_life_out_of_the_cold() -> None:
    sheet = down_sheet(floor_of(DEMO), "RT-3", ())
    assert {figure for _, figure in sheet.warming} == {"none"}
    assert not [what for what, _ in sheet.lives if "cold" in what]


def test_where_no_time_can_be_given_the_engineer_is_asked() -> None:
    limits = tuple(replace(entry, floor_c=60.0) for entry in DEMO.specifications)
    sheet = down_sheet(floor_of(replace(DEMO, specifications=limits)), "SN-4", ())
    assert {figure for _, figure in sheet.warming} == {"ask the process engineer"}


def test_an_enclosed_head_and_a_second_cold_cycle_are_said_where_allowed() -> None:
    limits = tuple(replace(entry, enclosed_life=timedelta(hours=20), cold_cycles=2) for entry in DEMO.specifications)
    lives = dict(down_sheet(floor_of(replace(DEMO, specifications=limits)), "SN-4", ()).lives)
    assert (lives["in an enclosed head"], lives["back into the cold"]) == ("at most 20 h", "ask the shift lead")
