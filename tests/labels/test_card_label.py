"""A single card, badge or tag on any label a station has: the words fit, and the code reads back as what it says."""

from dataclasses import replace
from pathlib import Path

import pytest
import zxingcpp

from station.labels.card_label import Stock, card_label, plan_card
from station.labels.faults import LabelFault
from station.labels.fitting import CodeMark
from station.labels.plaincodes import TagKind, badge_text, known_texts, tag_text
from station.labels.sheet_codes import SET_UP, SheetCode, Titles, sheet_codes
from station.labels.symbol import LEAST_DOTS, QUIET_MODULES
from station.settings.load import load

DEMO = load(Path(__file__).parents[2] / "demo_config")
LONGEST_ID = "W" * 16
"""As many characters as an id may have, of the widest letter."""
TITLE = "Preparation bench of the second hall, up"
"""As many characters as a title may have."""
STOCKS = [Stock(*size, dpi) for size in ((60, 40), (50, 25), (40, 20)) for dpi in (203, 300, 600)]
KNOWN = known_texts(people=["P12"], positions=["2A"], bins=["A1"], stores=["F"], places=["DESK"])
CODES = sheet_codes(KNOWN, Titles({"P12": TITLE}, {"F": TITLE}, {"DESK": TITLE}, {"A1": f"It is in: {TITLE}."}))
WIDEST = (
    SheetCode("badge", "Badge", TITLE, badge_text(LONGEST_ID), "Signs this person in."),
    SheetCode("position", "Position tag", f"POSITION {LONGEST_ID}", tag_text(TagKind.POSITION, LONGEST_ID), "Says."),
    SheetCode("bin", "Bin tag", f"BIN {LONGEST_ID}", tag_text(TagKind.BIN, LONGEST_ID), "Names this bin."),
)


def read(code: SheetCode, stock: Stock) -> str:
    """The text of the one code on the label."""
    (found,) = zxingcpp.read_barcodes(card_label(code, stock).convert("L"))
    return found.text


def module_dots(code: SheetCode, stock: Stock) -> float:
    """How many dots a module of the code has, its quiet zone told apart."""
    (mark,) = [mark for mark in plan_card(code, stock).marks if isinstance(mark, CodeMark)]
    return (mark.square[2] - mark.square[0]) / (len(mark.modules) + 2 * QUIET_MODULES)


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: f"{stock.width_mm}x{stock.height_mm} {stock.dpi}")
def test_every_card_and_tag_fits_every_built_in_size_and_reads_back_br_17_br_20(stock: Stock) -> None:
    for code in (*CODES, *WIDEST):
        if code is SET_UP and stock.height_mm < 25:
            continue
        assert read(code, stock) == code.text
        assert module_dots(code, stock) == int(module_dots(code, stock)) >= LEAST_DOTS


def test_the_set_up_card_is_too_large_for_a_flag_and_it_is_said() -> None:
    """41 modules with their quiet zone, four dots each, are 20.5 mm at 203 dots per inch."""
    with pytest.raises(LabelFault, match="SCANNER SET-UP does not fit a label of 40 x 20 mm"):
        card_label(SET_UP, Stock(40, 20, 203))


def test_the_quiet_zone_stays_white_beside_the_longest_name_br_20() -> None:
    image = card_label(WIDEST[0], Stock(40, 20, 203))
    (found,) = zxingcpp.read_barcodes(image.convert("L"))
    left = found.position.top_left.x
    quiet = image.crop((left - 4 * LEAST_DOTS, 0, left, image.height)).convert("L")
    assert quiet.getextrema() == (255, 255)


def test_a_name_for_which_there_is_no_room_is_told_and_nothing_is_made() -> None:
    with pytest.raises(LabelFault, match="does not fit into"):
        card_label(replace(WIDEST[0], name="long " * 40), Stock(40, 20, 203))


def test_what_a_card_does_is_left_out_rather_than_its_name_shortened() -> None:
    code = replace(WIDEST[0], does="says much " * 30)
    assert read(code, Stock(60, 40, 203)) == code.text


def test_a_label_of_another_size_is_laid_out_too() -> None:
    assert read(CODES[0], Stock(70, 30, 300)) == CODES[0].text
    with pytest.raises(LabelFault):
        card_label(CODES[0], Stock(20, 10, 203))
