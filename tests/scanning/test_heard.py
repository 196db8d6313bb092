"""Which texts a scan may stand for, and the choice that never guesses."""

import pytest

from station.scanning.heard import HeardScan, candidates, choose, choose_among, split_prefix

LABEL = "V1C7K2M90ZXQ4T8B"


def known(text: str) -> str | None:
    """A reader of one known label."""
    return text if text == LABEL else None


def test_as_typed_comes_first_then_by_place_then_swapped_case() -> None:
    assert candidates(HeardScan("Aß", "A-")) == ("Aß", "A-", "aß", "a-")


def test_equal_candidates_are_tried_once() -> None:
    assert candidates(HeardScan("A1", "A1")) == ("A1", "a1")


def test_the_layout_tables_follow_only_without_key_places() -> None:
    assert "SP1:Z" in candidates(HeardScan("SP1ÖY", None))
    assert "SP1:Z" not in candidates(HeardScan("SP1ÖY", "SP1OZ"))


@pytest.mark.parametrize(
    "heard",
    [
        HeardScan(LABEL, LABEL),
        HeardScan(LABEL.swapcase(), LABEL),
        HeardScan(LABEL.swapcase(), None),
        HeardScan("garbled", LABEL),
        HeardScan(f"]Q1{LABEL}", f"]Q1{LABEL}"),
        HeardScan(f"+Q1{LABEL}", f"]Q1{LABEL}"),
        HeardScan(f"\x1d{LABEL}", None),
    ],
    ids=["plain", "caps", "caps, no places", "layout", "prefix", "prefix on a german pc", "leading separator"],
)
def test_the_label_is_found_whatever_the_keyboard_did_br_02_br_14(heard: HeardScan) -> None:
    choice = choose(heard, known)
    assert choice.reading == choice.text == LABEL
    assert not choice.is_ambiguous


def test_nothing_that_reads_is_no_reading() -> None:
    choice = choose(HeardScan("V1C7K2M9", "V1C7K2M9"), known)
    assert (choice.reading, choice.text, choice.is_ambiguous) == (None, None, False)


def test_two_different_readings_are_never_chosen_between() -> None:
    choice = choose(HeardScan("EMPTY", "REMOVE"), lambda text: text if text.isupper() else None)
    assert choice.readings == ("EMPTY", "REMOVE")
    assert (choice.reading, choice.text, choice.is_ambiguous) == (None, None, True)


def test_two_texts_with_one_reading_agree() -> None:
    choice = choose_among(["a1", "A1"], str.upper)
    assert (choice.reading, choice.text) == ("A1", "a1")


def test_readings_need_not_be_hashable() -> None:
    assert choose_among(["x", "X"], lambda text: [text.lower()]).reading == ["x"]


@pytest.mark.parametrize(
    ("text", "symbology", "data"),
    [
        ("]Q1ABC", "]Q1", "ABC"),
        ("]C101040123", "]C1", "01040123"),
        ("]d2\x1d0104", "]d2", "0104"),
        ("\x1d]Q3ABC", "]Q3", "ABC"),
        ("\x1dABC", None, "ABC"),
        ("ABC]Q1", None, "ABC]Q1"),
        ("]-1ABC", None, "]-1ABC"),
        ("01\x1d10", None, "01\x1d10"),
        ("", None, ""),
    ],
)
def test_symbology_prefixes_are_told_from_data_br_14(text: str, symbology: str | None, data: str) -> None:
    """BR-14. Identifiers as in ISO/IEC 15424: Q QR Code, C Code 128, d Data Matrix."""
    assert split_prefix(text) == (symbology, data)


def test_the_scan_names_its_symbology_from_the_reading_that_has_it_br_14() -> None:
    assert HeardScan("+Q1AB", "]Q1AB").symbology == "]Q1"
    assert HeardScan("]d2AB", None).symbology == "]d2"
    assert HeardScan("AB", "AB").symbology is None


def test_a_scan_of_blanks_and_separators_is_empty() -> None:
    assert HeardScan("  \x1d ", " ").is_empty
    assert HeardScan("", None).is_empty
    assert not HeardScan("", "`").is_empty
