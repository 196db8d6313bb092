"""Invented labels the tests of this folder and of printing share."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from station.care.words import Alloy, Limit
from station.labels.content import WIDEST_DAY, LabelContent, content_for, of_filled, widest_content
from station.labels.keys import KeyRing
from station.labels.timecode import TimeLabel, pack

KEYS = KeyRing({0: b"a key for tests only", 3: b"another key for tests"}, current=0)
STRANGER = KeyRing({0: b"somebody else's key!"}, current=0)
ZONE = ZoneInfo("Europe/Berlin")
TUESDAY = datetime(2026, 11, 24, 13, 5, tzinfo=UTC)

LABEL = TimeLabel(
    station=7,
    counter=311,
    print_number=1,
    thaw_start=TUESDAY,
    earliest_use=TUESDAY + timedelta(hours=3, minutes=31),
    discard_by=TUESDAY + timedelta(days=7),
    open_life=timedelta(hours=24),
    paste_number=104,
    governing=Limit.ROOM,
    leaded=False,
    key_id=0,
)


def content(label: TimeLabel = LABEL, alloy: Alloy = Alloy.SN_AG_CU, *, tip_down: bool = True) -> LabelContent:
    """What an ordinary cartridge's label says."""
    leaded = replace(label, leaded=alloy.leaded)
    return content_for(
        leaded,
        pack(leaded, KEYS),
        paste="SN-4",
        kind="cartridge 600 g",
        alloy=alloy,
        tip_down=tip_down,
        lot="26-121",
        who="Robin Alder",
        zone=ZONE,
    )


def widest_filled(alloy: Alloy, day: str = WIDEST_DAY) -> LabelContent:
    """The longest label of paste filled into another container; a part number as long as the settings take one."""
    used = replace(widest(alloy, day), kind="used paste of K255 1048575 + 3")
    return of_filled(used, Limit.USED_PASTE, "HW-104-500/T6-CART-0600g")


def widest(alloy: Alloy, day: str = WIDEST_DAY) -> LabelContent:
    """The longest of everything the invented plant has."""
    return widest_content(
        paste="SN-4",
        kind="jar 500 g, in its carton",
        alloy=alloy,
        tip_down=True,
        lot="26-121-0815",
        who="Sascha Birch",
        day=day,
    )
