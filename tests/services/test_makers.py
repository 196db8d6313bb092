"""Makers' labels among what a station hears: after its own codes, by the plant's day, and never one of two."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS
from station.care.scans import CardScan, MakersLabelScan, Scan, UnreadScan, WorkOrderScan
from station.care.words import Card
from station.labels.makers.setting import MakersSetting
from station.labels.plaincodes import card_text
from station.scanning.heard import HeardScan, candidates
from station.services.reading import Reader
from station.services.site import Site
from station.settings.load import load

GTIN = "09501101530003"
MESSAGE = "[)>\x1e06\x1d1TA7\x1d14D20270228\x1e\x04"


@pytest.fixture(scope="module")
def site() -> Site:
    """The test plant."""
    return load(Path(__file__).parent.parent / "plant_t")


def read(site: Site, *texts: str, today: date = date(2026, 11, 25)) -> Scan:
    return Reader(site, DEMO_KEYS, lambda: today).read(texts)


def test_a_makers_label_is_heard_with_prefix_and_separators_in_place(site: Site) -> None:
    heard = HeardScan(f"]d201{GTIN}10L42A\x1d17270430", None)
    scan = read(site, *candidates(heard, whole=True))
    assert isinstance(scan, MakersLabelScan)
    assert (scan.label.lot, scan.label.expires) == ("L42A", date(2027, 4, 30))


def test_caps_lock_on_a_message_is_seen_through(site: Site) -> None:
    scan = read(site, MESSAGE.swapcase())
    assert isinstance(scan, MakersLabelScan)
    assert scan.label.lot == "A7"


def test_a_damaged_label_says_why_and_how_to_go_on(site: Site) -> None:
    scan = read(site, "[)>061TA714D20270228")
    assert isinstance(scan, UnreadScan)
    assert "separators were lost" in scan.sentence
    assert scan.mend


def test_two_digit_years_are_read_by_the_plants_own_day(site: Site) -> None:
    """GS1 General Specifications 7.12: what is 1977 today is 2077 next year."""
    found = [read(site, f"01{GTIN}17770101", today=date(year, 1, 1)) for year in (2026, 2027)]
    assert [scan.label.expires for scan in found if isinstance(scan, MakersLabelScan)] == [
        date(1977, 1, 1),
        date(2077, 1, 1),
    ]


def test_our_own_codes_and_work_orders_come_first(site: Site) -> None:
    """BR-74."""
    assert read(site, card_text(Card.LOOK)) == CardScan(Card.LOOK)
    assert isinstance(read(site, "WO8851-CTRL"), WorkOrderScan)
    assert isinstance(read(site, "301234567890"), UnreadScan)


def test_a_code_that_fits_the_work_orders_and_a_makers_pattern_is_neither(site: Site) -> None:
    wide = replace(site, makers=MakersSetting(plain_pattern="(?P<lot>.+)"))
    scan = read(wide, "WO8851-CTRL")
    assert isinstance(scan, UnreadScan)
    assert "work order or a maker's label" in scan.sentence


def test_without_a_day_no_makers_label_is_read(site: Site) -> None:
    assert isinstance(Reader(site, DEMO_KEYS).read((MESSAGE,)), UnreadScan)
