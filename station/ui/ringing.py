"""Which alarm sounds at this station, when none does although some are open, and what passed while it was off."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from station.care import after_restore, alarms
from station.care.facts import AlarmRaised
from station.care.floor import Floor
from station.care.saying import spot
from station.care.words import Priority
from station.services.shift_calendar import is_closed, next_start
from station.services.site import Site
from station.ui import wording
from station.ui.view_models import BannerModel, Tone

STILL_THERE = timedelta(hours=1)
MOST_NAMED = 4
AFTER_RESTORE = "What to do: shift desk, More, Day and closing, Day list."
WHERE_MISSED = "The list, with true times: shift desk, More, Day and closing, After time off."


def ringing(floor: Floor) -> Priority | None:
    """The most urgent priority that wants to be heard, None where nothing does."""
    found = (seen.priority for alarm, seen in alarms.open_alarms(floor) if alarms.sounding(floor, alarm))
    return next(found, None)


def nobody_there(site: Site, floor: Floor, last_act: datetime) -> bool:
    """Closed by the shift calendar, and nobody did anything here for an hour: who works all the same hears it.

    A clock in doubt says nothing about the calendar.
    """
    idle = floor.now - last_act
    at_work = timedelta(0) <= idle < STILL_THERE or floor.ledger.clock.trusted_until is not None
    return not at_work and is_closed(site.shifts, site.zone, floor.now)


def silence(site: Site, floor: Floor, last_act: datetime) -> BannerModel | None:
    """That alarms make no sound, and until when, while it is so."""
    opens = next_start(site.shifts, floor.zone, floor.now) if nobody_there(site, floor, last_act) else None
    if opens is None or ringing(floor) is None:
        return None
    text = f"No shift is on: alarms make no sound until {wording.day_and_time(opens, floor.zone)}."
    return BannerModel(text, "They stay open with their true times. Any scan here makes them sound.", Tone.NEAR)


def standing(site: Site, floor: Floor, last_act: datetime) -> dict[str, BannerModel | None]:
    """What stands for as long as it is so, by what it is about."""
    restored = after_restore.standing(floor)
    banner = BannerModel(restored, AFTER_RESTORE, Tone.NEAR) if restored else None
    return {"silence": silence(site, floor, last_act), "restored": banner}


def settings_banner(floor: Floor, trouble: str) -> BannerModel | None:
    """What is wrong with the settings; a restore, told at the start too, has a banner of its own."""
    rest = trouble.removeprefix(after_restore.said(floor)).strip()
    return BannerModel("An older version of the limits was not used.", rest, Tone.NEAR) if rest else None


def missed_banner(site: Site, missed: Sequence[AlarmRaised]) -> BannerModel:
    """One summary of what fell due while the station was off, the longest overdue first."""
    said = [
        f"{spot(raised.subject).replace('-', ' ')} {wording.day_and_time(raised.since, site.zone)}"
        for raised in missed[:MOST_NAMED]
    ]
    more = f" and {len(missed) - MOST_NAMED} more" if len(missed) > MOST_NAMED else ""
    limits = "limit" if len(missed) == 1 else "limits"
    text = f"{len(missed)} {limits} passed while this station was off: {', '.join(said)}{more}."
    return BannerModel(text, WHERE_MISSED, Tone.PAST)
