"""Zones of loggers' clocks."""

import zoneinfo
from datetime import UTC, datetime, timedelta, timezone

import pytest

from station.readings import zones
from station.readings.zones import ZoneUnknown, zone_of


@pytest.mark.parametrize(
    "name", ["Europe/Berlinn", "", "  ", "europe/berlin", "localtime", "CEST-ish", "../etc", "UTC+1 x"]
)
def test_a_zone_that_is_not_known_is_refused_and_never_means_local_time(name: str) -> None:
    """BR-40."""
    with pytest.raises(ZoneUnknown, match="Write one like"):
        zone_of(name)


def test_an_empty_zone_is_said_to_be_empty() -> None:
    """BR-40."""
    with pytest.raises(ZoneUnknown, match="The zone is empty"):
        zone_of("")


def test_without_a_zone_database_every_name_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """BR-40: the database was removed."""
    monkeypatch.setattr(zones, "available_timezones", set)
    with pytest.raises(ZoneUnknown):
        zone_of("Europe/Berlin")


def test_a_database_that_is_damaged_is_refused_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(key: str) -> zoneinfo.ZoneInfo:
        raise zoneinfo.ZoneInfoNotFoundError(key)

    monkeypatch.setattr(zones, "ZoneInfo", broken)
    with pytest.raises(ZoneUnknown):
        zone_of("Europe/Berlin")


@pytest.mark.parametrize(
    ("name", "hours"),
    [("UTC", 0), ("Z", 0), ("UTC+1", 1), ("UTC+01:00", 1), ("GMT-0330", -3.5), ("+05:30", 5.5), ("-8", -8)],
)
def test_fixed_offsets(name: str, hours: float) -> None:
    summer = datetime(2027, 7, 1, tzinfo=UTC).astimezone(zone_of(name))
    assert summer.utcoffset() == timedelta(hours=hours)


@pytest.mark.parametrize("name", ["UTC+15", "+01:75", "UTC-99"])
def test_no_place_is_that_far_away(name: str) -> None:
    with pytest.raises(ZoneUnknown, match="far from UTC"):
        zone_of(name)


@pytest.mark.parametrize(
    ("name", "hours"),
    [
        ("Europe/Berlin standard", 1),
        ("Europe/Berlin standard time", 1),
        ("America/New_York standard", -5),
        ("Australia/Sydney standard", 10),
        ("Europe/Dublin standard", 0),
        ("Asia/Kolkata standard", 5.5),
    ],
)
def test_standard_time_is_winter_time_all_year(name: str, hours: float) -> None:
    """Offsets as the zone database has them; in Ireland winter time is what loggers' menus call standard."""
    assert zone_of(name) == timezone(timedelta(hours=hours))
