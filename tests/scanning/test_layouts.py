"""Undoing a wrong layout from the text alone; the tables against xkb-data, the vectors made from it."""

import shutil
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from station.scanning import layouts
from station.scanning.heard import HeardScan, choose
from station.scanning.layouts import LAYOUTS, healed, swap_case
from station.scanning.places import MAIN_PLACES, US_SHIFTED, US_UNSHIFTED

from .xkb import written_by_place

XKB_NAME = {"DE": "de", "FR": "fr", "UK": "gb", "ES": "es", "IT": "it", "CH": "ch"}
LOT = "SP1:J7K2M9:20260315T0730Z"
DIGITS_AND_CAPITALS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
COMMON_45 = DIGITS_AND_CAPITALS + " $%*+-./:"  # the alphanumeric set of ISO/IEC 18004


def garbled(layout: str, text: str) -> str | None:
    """What a PC with `layout` makes of a US scanner's `text`; None where a dead key takes part."""
    plain, shifted = layouts._WRITTEN[layout]
    written = dict(zip(US_UNSHIFTED + US_SHIFTED, plain + shifted, strict=True)) | {" ": " "}
    got = "".join(written[character] for character in text)
    return None if "\0" in got else got


def texts(got: str) -> list[str]:
    return [candidate.text for candidate in healed(got)]


@pytest.mark.skipif(not shutil.which("xkbcomp"), reason="needs xkbcomp (package x11-xkb-utils)")
@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_tables_are_those_of_xkb_data(layout: str, tmp_path: Path) -> None:
    published = written_by_place(XKB_NAME[layout], tmp_path)
    plain, shifted = layouts._WRITTEN[layout]
    ours = {place: (a.strip("\0"), b.strip("\0")) for place, a, b in zip(MAIN_PLACES, plain, shifted, strict=True)}
    assert ours == {place: published[place] for place in MAIN_PLACES}


@pytest.mark.parametrize(
    ("layout", "meant", "got"),
    [
        ("DE", LOT, "SP1ÖJ7K2M9Ö20260315T0730Y"),
        ("FR", LOT, 'SP&MJèKé?çMéàé-à"&(Tàè"àW'),
        ("ES", LOT, "SP1ÑJ7K2M9Ñ20260315T0730Z"),
        ("IT", LOT, "SP1çJ7K2M9ç20260315T0730Z"),
        ("CH", LOT, "SP1éJ7K2M9é20260315T0730Y"),
        ("FR", "HTTPS://X/A-1", "HTTPSM!!X!Q)&"),
        ("ES", "HTTPS://X/A-1", "HTTPSÑ--X-A'1"),
        ("FR", "ZY-0123456789", "WY)à&é\"'(-è_ç"),
        ("DE", "ZY-0123456789", "YZß0123456789"),
        ("FR", "T1-A7Q0/2", "T&)QèAà!é"),
        ("DE", "T1-Y7/Z2", "T1ßZ7-Y2"),
        ("UK", 'A@B#C|D"', 'A"B£C~D@'),
    ],
)
def test_what_a_foreign_pc_made_of_a_us_scan_is_undone_br_01(layout: str, meant: str, got: str) -> None:
    """BR-01. Garbled by the key tables of xkb-data, which the test above reads afresh."""
    assert garbled(layout, meant) == got
    assert meant in texts(got)


@given(st.sampled_from(LAYOUTS), st.text(COMMON_45, min_size=1, max_size=40))
def test_every_text_without_dead_keys_comes_back(layout: str, meant: str) -> None:
    got = garbled(layout, meant)
    if got is not None:
        assert meant in {got, *texts(got)}


@given(st.sampled_from(LAYOUTS), st.text(DIGITS_AND_CAPITALS, min_size=1, max_size=40))
def test_caps_lock_on_top_comes_back_br_02(layout: str, meant: str) -> None:
    """BR-02. X11 and Windows swap letters; French Windows shifts every key (from memory)."""
    got = garbled(layout, meant)
    assert got is not None
    assert meant in {swap_case(got), *texts(swap_case(got))}
    plain, shifted = layouts._WRITTEN[layout]
    locked = dict(zip(US_UNSHIFTED + US_SHIFTED, shifted + plain, strict=True))
    shouted = "".join(locked[character] for character in meant)
    assert meant in {shouted, *texts(shouted)}


@given(st.sampled_from(LAYOUTS), st.text(DIGITS_AND_CAPITALS, min_size=1, max_size=40))
def test_capitals_lost_with_shift_come_back_br_03(layout: str, meant: str) -> None:
    got = garbled(layout, meant.lower())
    assert got is not None
    assert meant in {got, *texts(got)}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_separators_damaged_by_a_lost_shift_stay_damaged_br_03(layout: str) -> None:
    """BR-03: `:` without Shift is the key of `;`. It is not made up for, so the reader refuses the text."""
    got = garbled(layout, "c7;k2-m9")
    assert got is not None
    assert "C7;K2-M9" in texts(got) or got == "c7;k2-m9"
    assert "C7:K2_M9" not in texts(got)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_undoing_never_maps_two_characters_to_one(layout: str) -> None:
    for table in (layouts._PLAIN[layout], layouts._SHIFT_LOCKED[layout]):
        assert len(set(table.values())) == len(table)


def test_a_character_two_keys_write_is_not_undone() -> None:
    assert layouts._undoing(("abb", "ABC"), ("xyz", "XYZ")) == {" ": " ", "a": "x", "A": "X", "B": "Y", "C": "Z"}


def test_merged_dead_keys_are_not_undone_br_93() -> None:
    assert texts("ÉÑÄÔ") == []


def test_separators_pass_through_untouched() -> None:
    assert "01\x1d10YZ" in texts("01\x1d10ZY")


def test_the_layout_that_explains_a_text_is_named() -> None:
    named = {candidate.text: candidate.layout for candidate in healed("WY)à&é\"'(-è_ç")}
    assert named["ZY-0123456789"] == "FR"


def test_nothing_is_offered_twice_and_never_the_text_itself() -> None:
    for got in ("SP1ÖJ7K2M9", "ABC", "abc", "", "Y"):
        assert len(set(texts(got))) == len(texts(got))
        assert got not in texts(got)


def test_swapping_case_never_changes_the_length() -> None:
    """`ß` has no single capital letter in Unicode's default case mapping, but a key writes it."""
    assert swap_case("aBß9ẞé") == "Abß9ßÉ"


@given(st.sampled_from(LAYOUTS), st.text(DIGITS_AND_CAPITALS, min_size=17, max_size=37), st.booleans())
def test_the_check_character_never_accepts_a_wrong_candidate_silently(layout: str, body: str, lower: bool) -> None:
    """ISO/IEC 7064 MOD 37,36 by python-stdnum. Alone it may accept two candidates: then none is chosen."""
    meant = body + mod_37_36.calc_check_digit(body)
    got = garbled(layout, meant.lower() if lower else meant)
    assert got is not None
    choice = choose(HeardScan(got, None), lambda text: text if mod_37_36.is_valid(text) else None)
    assert meant in choice.readings
    assert choice.reading in (meant, None)
