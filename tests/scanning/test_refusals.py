"""A scan that can not be healed says what the PC did to it and how to mend that; never silence, never a guess."""

import pytest

from station.bootstrap import DEMO_KEYS
from station.care.scans import UnreadScan
from station.labels.plaincodes import set_up_text
from station.scanning.heard import HeardScan, candidates
from station.services.reading import Reader
from tests.care.bench import site_t

from .garbling import Garble
from .labels import labels

READER = Reader(site_t(), DEMO_KEYS)
LABEL = next(text for text, _ in labels(4, 2) if text.startswith("C1"))
TIME = next(text for text, _ in labels(4, 2) if text.startswith("V1"))
LAYOUT = "The scanner layout does not match this PC."


def refused(text: str, by_place: str | None = None) -> UnreadScan:
    scan = READER.read(candidates(HeardScan(text, by_place)))
    assert isinstance(scan, UnreadScan)
    return scan


@pytest.mark.parametrize(
    "text",
    [
        "T&)QèAà!é",  # T1-A7Q0/2 on a French PC
        "T1ßZ7-Y2",  # T1-Y7/Z2 on a German PC
        'A"B£C~D@',  # A@B#C|D" on a British PC
        "D&LOOKCZ",  # on a French PC, all of it in ASCII
        "SP1ÖJ7K2M9Ö20260315T0730Y",
    ],
)
def test_a_garbled_scan_names_the_layout_and_the_set_up_card_br_01(text: str) -> None:
    scan = refused(text)
    assert scan.sentence == LAYOUT
    assert "set-up card" in scan.mend


def test_caps_lock_is_named_where_letters_come_small_br_02() -> None:
    scan = refused(TIME[:20].lower())
    assert "Caps Lock" in scan.mend
    scan = refused("ěščřžýáíéabcdefgh")
    assert scan.sentence == LAYOUT
    assert scan.mend.startswith("Caps Lock seems to be on")
    assert scan.mend.endswith("scan the scanner set-up card once, then this code again.")


@pytest.mark.parametrize("text", ["1-47", "1 7 2 90", "17290488"])
def test_digits_alone_suggest_the_input_method_br_06(text: str) -> None:
    scan = refused(text)
    assert scan.sentence == "Only digits came through."
    assert "input method" in scan.mend


@pytest.mark.parametrize("text", ["Ｖ１Ｃ７Ｋ２", "ラベル17", "标签"])
def test_letters_an_input_method_changed_name_it_br_06(text: str) -> None:
    assert "input method" in refused(text).mend


@pytest.mark.parametrize("text", ["ÉÑÄÔ", "V1" + "É" * 36, TIME[:-1] + "Ê"])
def test_merged_dead_keys_are_refused_with_the_layout_named_br_93(text: str) -> None:
    assert refused(text).sentence == LAYOUT


@pytest.mark.parametrize("text", ["Kühlgut ß é", "Łukasz"])
def test_text_outside_ascii_is_nobodys_code_br_92(text: str) -> None:
    assert refused(text, text).sentence == LAYOUT


@pytest.mark.parametrize(
    "text", ["https://example.org/?a=1", '{"a": 1}', "ZZ12345", "HELLO WORLD", "lot 26-121", "ABC"]
)
def test_a_strangers_code_is_not_blamed_on_the_layout(text: str) -> None:
    scan = refused(text)
    assert scan.sentence.startswith("No code of this station begins like")
    assert "set-up card" not in scan.mend


def test_a_label_cut_short_says_so_rather_than_blame_the_layout_br_04_br_05() -> None:
    assert "of 38 characters" in refused(TIME[:30]).sentence
    assert "of 17 characters" in refused(LABEL[:9]).sentence


def test_a_set_up_card_among_the_days_scans_does_nothing() -> None:
    scan = refused(set_up_text())
    assert "came through right" in scan.sentence


def test_whether_a_scan_had_to_be_put_right_is_told_br_01_br_02() -> None:
    assert READER.heard(candidates(HeardScan(TIME, TIME)))[1] is False
    assert READER.heard(candidates(HeardScan(TIME.swapcase(), None)))[1] is True
    assert READER.heard(candidates(HeardScan(Garble("DE", "plain", "X11").of("ß" + TIME), TIME)))[1] is True
    assert READER.heard(candidates(HeardScan("T&)QèAà!é", None)))[1] is False
