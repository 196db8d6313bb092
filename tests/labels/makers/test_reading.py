"""One label from the many texts a scan may stand for; links and plain codes; never one of two."""

from datetime import date

import pytest

from station.care.makers_label import Carrier
from station.labels.makers.dates import DateForm
from station.labels.makers.setting import MakersSetting
from tests.labels.makers.samples import GTIN, MESSAGE, asked, damage, label, outcome

LINK = f"https://example.org/01/{GTIN}/10/L42a/21/S9?17=270430"
PLAIN = MakersSetting(
    plain_pattern=r"SP(?P<part>[A-Z0-9]+)/(?P<lot>[A-Z0-9]+)/(?P<expires>[0-9.]+)(?:/(?P<quantity>[0-9]+))?",
    plain_dates=DateForm.DAY_FIRST,
)


def test_a_link_says_the_same_as_an_element_string() -> None:
    found = label(LINK)
    assert found.carrier is Carrier.DIGITAL_LINK
    assert found.fields == {"lot": "L42a", "gtin": GTIN, "expires": "2027-04-30", "serial": "S9"}


@pytest.mark.parametrize(
    ("text", "lot"),
    [
        (f"https://example.org/some/stem/01/{GTIN}/10/A%2FB", "A/B"),
        ("https://example.org/01/9501101530003/10/L1", "L1"),
        (f"http://example.org/01/{GTIN}?10=L2&linkType=x", "L2"),
    ],
)
def test_links_of_other_shapes(text: str, lot: str) -> None:
    found = label(text)
    assert (found.lot, found.items) == (lot, (("gtin", GTIN),))


def test_what_a_link_says_beyond_the_standard_is_kept() -> None:
    assert label(f"https://example.org/01/{GTIN}/10?a=b").unknown == ("10", "a=b")


@pytest.mark.parametrize(
    ("dates", "asked_for"), [("15=270331", {"expires": ("2027-03-31",)}), ("15=270331&17=270430", {})]
)
def test_a_link_with_a_best_before_date_and_no_expiry_is_asked(dates: str, asked_for: dict[str, object]) -> None:
    assert asked(label(f"https://example.org/01/{GTIN}/10/L1?{dates}")) == asked_for


def test_a_link_with_a_wrong_number_is_refused_and_other_links_are_none_of_ours() -> None:
    assert "check digit" in damage("https://example.org/01/09501101530004/10/L1")
    for text in ("https://example.org/", "https://example.org/01/pages", "https://[", "http:", f"ftp://a/01/{GTIN}"):
        assert outcome(text) is None


def test_a_plain_code_is_read_by_the_sites_pattern() -> None:
    found = label("SPSAC305/L42A/30.04.2027", setting=PLAIN)
    assert found.carrier is Carrier.PLAIN
    assert found.fields == {"lot": "L42A", "maker's part": "SAC305", "expires": "2027-04-30"}
    assert "no such day" in damage("SPSAC305/L42A/31.04.2027", setting=PLAIN)
    assert outcome("SPSAC305", setting=PLAIN) is None
    assert outcome("SPSAC305/L42A/30.04.2027") is None


def test_caps_lock_is_seen_through_where_the_code_proves_its_case() -> None:
    assert label(MESSAGE.swapcase(), MESSAGE).lot == "A7Z0815"
    assert label(LINK.swapcase(), LINK).lot == "L42a"
    right = f"]C101{GTIN}10L42a"
    assert label(right.swapcase(), right).lot == "L42a"


def test_without_proof_of_case_the_text_as_it_came_counts() -> None:
    text = f"01{GTIN}10L42a"
    assert label(text, text.swapcase()).lot == "L42a"
    assert label(text.swapcase(), text).lot == "l42A"


def test_two_texts_of_different_letters_are_neither() -> None:
    assert "two ways" in damage(f"01{GTIN}10LY1", f"01{GTIN}10LZ1")


def test_the_reason_of_a_damaged_label_is_that_of_the_text_as_it_came() -> None:
    assert "no such day" in damage(f"01{GTIN}17270431", f"01{GTIN}17271300")
    assert label(f"01{GTIN}17270431", f"01{GTIN}17270430").expires == date(2027, 4, 30)


def test_separators_in_print_count_in_element_strings_too_where_the_site_says_so() -> None:
    text = f"]C101{GTIN}10L42A{{GS}}17270430"
    assert label(text, setting=MakersSetting(literal_separators=True)).lot == "L42A"
    assert "separators were lost" in damage(text)
