"""GS1 element strings as makers print them, whole, damaged and without their separators."""

from datetime import date

import pytest
from stdnum import ean

from station.care.makers_label import Carrier, Extra
from station.labels.makers.gs1_ids import good_check_digit, known
from tests.labels.makers.samples import GTIN, asked, damage, label, outcome


def test_lot_expiry_and_serial_stand_in_their_fields() -> None:
    """BR-71: with its separator the lot ends where it ends."""
    found = label(f"01{GTIN}10L42A~1727043021S9")
    assert (found.carrier, found.lot, found.expires, found.serial) == (Carrier.GS1, "L42A", date(2027, 4, 30), "S9")
    assert found.items == (("gtin", GTIN),)
    assert not found.questions


@pytest.mark.parametrize("prefix", ["]C1", "]d2", "]Q3", "~", "]C1~", "]e0"])
def test_what_the_scanner_puts_in_front_changes_nothing(prefix: str) -> None:
    assert label(f"{prefix}01{GTIN}10L42A~17270430").lot == "L42A"


def test_a_lost_separator_is_asked_and_neither_lot_nor_expiry_is_filled_in() -> None:
    """BR-71: not silently a lot of 16 characters without expiry."""
    found = label(f"01{GTIN}10L42A1727043021S9")
    assert (found.lot, found.expires, found.serial) == ("", None, "")
    assert asked(found) == {
        "lot": ("L42A", "L42A1727043021S9"),
        "expires": ("2027-04-30",),
        "serial": ("S9",),
    }
    assert "separator may be missing" in found.questions[0].sentence


def test_a_swallowed_date_makes_a_lot_too_long_and_is_still_asked() -> None:
    found = label(f"01{GTIN}10LOT-00042-A1726083017270430")
    assert asked(found)["lot"][0] == "LOT-00042-A"


def test_a_lot_that_only_looks_dated_is_not_asked_when_that_date_stands_elsewhere() -> None:
    found = label(f"01{GTIN}1727043010A17270430")
    assert (found.lot, found.questions) == ("A17270430", ())


@pytest.mark.parametrize("lot", ["A17991399", "A17600101", "L42A21S9", "17270430"])
def test_a_lot_that_holds_no_plausible_date_behind_its_first_sign_is_a_lot(lot: str) -> None:
    found = label(f"01{GTIN}10{lot}")
    assert (found.lot, found.questions) == (lot, ())


def test_what_is_not_known_is_kept_as_it_came() -> None:
    """BR-73."""
    found = label(f"01{GTIN}1727043010L42A~38X7~21S9")
    assert found.unknown == ("38X7",)
    assert (found.lot, found.expires, found.serial) == ("L42A", date(2027, 4, 30), "S9")


def test_other_dates_are_kept_apart_from_made_and_expiry() -> None:
    found = label(f"01{GTIN}112608301326083115270331")
    assert (found.made, found.expires) == (date(2026, 8, 30), None)
    assert found.extras == (Extra("13", "date: packed", "2026-08-31"), Extra("15", "date: best before", "2027-03-31"))


def test_a_best_before_date_without_an_expiry_is_asked_and_never_taken() -> None:
    """AI 15 is a date of quality, AI 17 one of safety (GS1 General Specifications 3.4.4 and 3.4.7, from memory)."""
    found = label(f"01{GTIN}1527033110L42A")
    assert found.expires is None
    assert asked(found) == {"expires": ("2027-03-31",)}
    assert "best-before date (15) and no expiry" in found.questions[0].sentence
    assert found.besides == ("date: best before 2027-03-31",)


@pytest.mark.parametrize("expiry", ["17270430", "70032704302359"])
def test_beside_an_expiry_nobody_is_asked_about_it(expiry: str) -> None:
    found = label(f"01{GTIN}15270331{expiry}")
    assert (found.expires, found.questions) == (date(2027, 4, 30), ())


def test_a_lot_that_may_have_swallowed_the_expiry_is_asked_once_for_it() -> None:
    found = label(f"01{GTIN}1527033110L42A17270430")
    assert [question.field for question in found.questions] == ["lot", "expires"]


def test_two_expiry_dates_are_asked() -> None:
    found = label(f"01{GTIN}1727043017270531")
    assert found.expires is None
    assert asked(found) == {"expires": ("2027-04-30", "2027-05-31")}


def test_mass_count_and_package() -> None:
    package = "09501101530000001"
    package += str(ean.calc_check_digit(package))
    found = label(f"00{package}02{GTIN}3712~3103000500")
    assert (found.package, found.quantity, found.net_mass_g) == (package, "12", 500.0)
    assert label(f"01{GTIN}3200000002").net_mass_g == pytest.approx(907.185)


def test_an_expiry_with_a_time_is_asked_because_whole_days_are_counted() -> None:
    found = label(f"01{GTIN}70032704301000")
    assert found.expires is None
    assert asked(found) == {"expires": ("2027-04-29", "2027-04-30")}
    assert label(f"01{GTIN}70032704302359").expires == date(2027, 4, 30)
    assert label(f"01{GTIN}70032704309999").expires == date(2027, 4, 30)


def test_made_to_the_hour_is_a_day_and_the_hour_is_kept() -> None:
    found = label(f"01{GTIN}800826083014")
    assert found.made == date(2026, 8, 30)
    assert found.extras == (Extra("8008", "made, with the time", "26083014"),)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("]C1010950110153000417270430", "check digit"),
        (f"01{GTIN}17270431", "no such day"),
        (f"01{GTIN}17271300", "no such day"),
        (f"01{GTIN}172704", "not whole"),
        (f"01{GTIN}17 70430", "not whole"),
        (f"01{GTIN}8008260301", "not whole"),
        (f"01{GTIN}10{'L' * 21}", "not whole"),
        (f"01{GTIN}70032704302460", "no such time"),
        ("]Q3010950110153", "not whole"),
    ],
)
def test_what_cannot_be_right_is_refused_with_the_reason(text: str, said: str) -> None:
    """BR-72; the hour of 8008 is mandatory (GS1 General Specifications)."""
    assert said in damage(text)


@pytest.mark.parametrize("text", ["301234567890", "1712345678", "10ABC", "0109501101530004", "01095011015300", "HELLO"])
def test_a_plain_number_is_not_taken_for_gs1(text: str) -> None:
    """BR-74: without symbology only a good check digit at the start decides."""
    assert outcome(text) is None


@pytest.mark.parametrize("number", [GTIN, "09501101530004", "04006381333931", "00012345678905", "00012345678906"])
def test_check_digits_are_those_of_another_reader(number: str) -> None:
    """python-stdnum."""
    assert good_check_digit(number) == ean.is_valid(number)


def test_a_gs1_symbol_with_nothing_known_in_it_is_no_label() -> None:
    """BR-74: the scanner's prefix alone proves nothing."""
    assert outcome("]C1PZ1P12..4") is None


def test_no_identifier_begins_like_another() -> None:
    codes = known()
    assert not [(one, other) for one in codes for other in codes if one != other and other.startswith(one)]


def test_an_item_number_alone_from_a_retail_code() -> None:
    assert label("]E09501101530003").items == (("gtin", GTIN),)
