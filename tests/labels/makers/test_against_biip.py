"""The same element strings and links read by biip, an independent reader, with its clock held still."""

import datetime as dt
from collections.abc import Iterator
from unittest.mock import patch

import biip.gs1_element_strings
import pytest
from biip.gs1_application_identifiers import GS1ApplicationIdentifier
from biip.gs1_digital_link_uris import GS1DigitalLinkURI
from biip.gs1_messages import GS1Message
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.makers_label import MakersLabel
from station.labels.makers.gs1_ids import known
from tests.labels.makers.samples import GTIN, damage, keyed, label

EXAMPLES = (
    f"01{GTIN}10L42A~1727043021S9",
    f"01{GTIN}17270200",
    f"01{GTIN}17280200",
    f"01{GTIN}17271200",
    f"01{GTIN}1726083011260101",
    f"01{GTIN}3103000500",
    f"01{GTIN}3200000002",
    f"01{GTIN}3012~240X-1~241C-2~400O-3",
    f"01{GTIN}800826083014",
    f"01{GTIN}17750101",
    f"01{GTIN}17760101",
    f"01{GTIN}17770101",
    f"02{GTIN}3712~10A",
)


class HeldClock:
    """Stands in for `datetime` in biip: it reads the clock for the century itself."""

    UTC, date, timedelta = dt.UTC, dt.date, dt.timedelta

    class datetime(dt.datetime):  # noqa: N801  its name in biip
        """The one call biip makes for the clock."""

        year_now = 2026

        @classmethod
        def now(cls, tz: dt.tzinfo | None = None) -> "HeldClock.datetime":
            """The year held."""
            return cls(cls.year_now, 11, 25, tzinfo=tz)


@pytest.fixture(autouse=True, params=[2026, 2027])
def year(request: pytest.FixtureRequest) -> Iterator[int]:
    """The same examples in two years, between which 77 changes its century."""
    held = int(request.param)
    with patch.object(biip.gs1_element_strings, "dt", HeldClock), patch.object(HeldClock.datetime, "year_now", held):
        yield held


def compare(found: MakersLabel, elements: list[biip.gs1_element_strings.GS1ElementString]) -> None:
    by_code = {element.ai.ai: element for element in elements}
    values = {code: element.value for code, element in by_code.items()}
    assert found.lot == values.get("10", "")
    assert found.serial == values.get("21", "")
    assert found.order == values.get("400", "")
    codes = ("01", "02", "240", "241")
    assert {number for _, number in found.items} == {values[code] for code in codes if code in values}
    assert found.quantity == next((values[code] for code in ("30", "37") if code in values), "")
    for code, day in (("17", found.expires), ("11", found.made)):
        if code in by_code:
            assert day == by_code[code].date
    for code, element in by_code.items():
        if code.startswith(("310", "320")):
            grams = float(element.decimal or 0) * (1000 if code.startswith("310") else 453.59237)
            assert found.net_mass_g == pytest.approx(grams, abs=0.001)


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_reads_alike(text: str, year: int) -> None:
    found = label(text, today=dt.date(year, 11, 25))
    compare(found, GS1Message.parse(keyed(text)).element_strings)


def test_made_to_the_hour_is_the_same_day(year: int) -> None:
    text = f"01{GTIN}800826083014"
    element = GS1Message.parse(text).element_strings[1]
    assert element.datetime is not None
    assert label(text, today=dt.date(year, 11, 25)).made == element.datetime.date()


@pytest.mark.parametrize(
    "text",
    [f"01{GTIN}17270431", f"01{GTIN}17271300", f"01{GTIN}8008260301", f"01{GTIN}17000000"],
)
def test_both_refuse_the_same(text: str) -> None:
    with pytest.raises(biip.ParseError):
        GS1Message.parse(text)
    assert damage("]C1" + text)


def test_a_wrong_check_digit_is_refused_here_and_only_noted_there() -> None:
    text = "010950110153000417270430"
    assert GS1Message.parse(text).element_strings[0].gtin is None
    assert "check digit" in damage("]C1" + text)


def test_an_unknown_identifier_loses_all_there_and_nothing_here() -> None:
    """BR-73; this is why biip reads only in tests."""
    text = f"01{GTIN}1727043010L42A~38X7~21S9"
    with pytest.raises(biip.ParseError):
        GS1Message.parse(keyed(text))
    assert label(text).unknown == ("38X7",)


def test_a_link_reads_alike() -> None:
    text = f"https://example.org/01/{GTIN}/10/L42A/21/S9?17=270430"
    compare(label(text), GS1DigitalLinkURI.parse(text).element_strings)


def test_the_identifiers_have_the_lengths_and_separators_biip_has() -> None:
    for code, one in known().items():
        other = GS1ApplicationIdentifier.extract(code)
        assert other.ai == code
        assert one.fixed != other.separator_required, code


LOTS = st.text(alphabet="ABCXYZabc0123456789-/.", min_size=1, max_size=12)


@settings(max_examples=60, deadline=None)
@given(lot=LOTS, serial=LOTS, day=st.integers(0, 31), month=st.integers(1, 12), two=st.integers(0, 99))
def test_invented_labels_read_alike_or_not_at_all(lot: str, serial: str, day: int, month: int, two: int) -> None:
    text = f"01{GTIN}10{lot}~21{serial}~17{two:02}{month:02}{day:02}"
    today = dt.date(HeldClock.datetime.year_now, 11, 25)
    try:
        elements = GS1Message.parse(keyed(text)).element_strings
    except biip.ParseError:
        assert damage(text, today=today)
        return
    found = label(text, today=today)
    if not found.questions:
        compare(found, elements)
