"""What stands on a label, as finished strings: names and times as a person reads them, and the code text."""

from dataclasses import dataclass, fields, replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from station.care.saying import MONTHS, WEEKDAYS, is_doubled
from station.care.words import Alloy, Limit
from station.labels.containercode import container_id
from station.labels.timecode import BITS, FRAME, HOUR, TimeLabel

WIDEST_DAY = "Mon 00 May"
TALLEST_DAY = "Wed 00 Aug"
LOUD = frozenset({Alloy.SN_PB, Alloy.SN_BI})
HAZARDS = "HAZARDS: MAKER'S LABEL BESIDE THIS"
HAZARDS_BRIEF = "HAZARDS BESIDE THIS"
WRITE_IN = "OPENED"
# as long as the other limits, which is all the room a small label has
SHORT = {Limit.DECANTED: "decanted", Limit.USED_PASTE: "used paste"}


@dataclass(frozen=True, slots=True)
class LabelContent:
    """Every string a template may use; empty ones are not drawn. `code` is the text in the QR code.

    Of `alloy_loud` and `alloy_plain` one is empty: loud families are printed white on black. The `_brief` times
    are the same instants without the year, for small labels; `discard_day` to `discard_zone` are discard-by in
    parts, so that day and clock can be set larger than the rest, and `earliest_day` to `earliest_zone` are
    earliest-use in parts, for labels without room for it in one line. `governing_full` is the whole name of the limit
    where `governing` is a short one. `write_in` has text where a person has yet to write when it was opened, `opened`
    where that is known. `hazards` and `part_number` have text only on the label of a container filled
    here, which lies beside a maker's label it never had: the number leads to the safety data sheet.
    """

    code: str
    paste: str
    kind: str
    alloy_loud: str
    alloy_plain: str
    last_three: str
    container: str
    thaw_start: str
    earliest_use: str
    discard_by: str
    discard_day: str
    discard_year: str
    discard_clock: str
    discard_zone: str
    thaw_start_brief: str
    earliest_use_brief: str
    governing: str
    open_life: str
    lot: str
    print_number: str
    who: str
    tip: str
    governing_full: str
    hazards: str
    part_number: str
    earliest_day: str = ""
    earliest_clock: str = ""
    earliest_zone: str = ""
    hazards_brief: str = ""
    write_in: str = ""
    opened: str = ""

    @property
    def has_times(self) -> bool:
        """True for a time label, False for the identity label of a container that was never out."""
        return bool(self.earliest_use)

    @property
    def values(self) -> dict[str, str]:
        """The strings by field name."""
        return {name: getattr(self, name) for name in FIELD_NAMES}


FIELD_NAMES: tuple[str, ...] = tuple(entry.name for entry in fields(LabelContent))


def content_for(
    label: TimeLabel,
    code: str,
    *,
    paste: str,
    kind: str,
    tip_down: bool,
    alloy: Alloy,
    lot: str,
    who: str,
    zone: ZoneInfo,
) -> LabelContent:
    """What the label of `label` says. `kind` is its title, such as `jar 500 g`; `zone` is the plant's.

    ValueError if the code says leaded and the alloy does not, or the reverse.
    """
    if label.leaded != alloy.leaded:
        raise ValueError(f"The code's leaded mark contradicts the alloy family {alloy.value}.")
    discard_by, earliest = label.discard_by.astimezone(zone), label.earliest_use.astimezone(zone)
    loud = alloy in LOUD
    return LabelContent(
        code=code,
        paste=paste,
        kind=kind,
        alloy_loud=alloy.shout if loud else "",
        alloy_plain="" if loud else plain_family(alloy),
        last_three=f"{label.counter % 1000:03d}",
        container=container_id(label.station, label.counter),
        thaw_start=time_text(label.thaw_start, zone),
        earliest_use=time_text(label.earliest_use, zone),
        discard_by=time_text(label.discard_by, zone),
        discard_day=day_text(discard_by),
        discard_year=str(discard_by.year),
        discard_clock=clock_text(discard_by),
        discard_zone=zone_text(discard_by),
        thaw_start_brief=time_text(label.thaw_start, zone, year=False),
        earliest_use_brief=time_text(label.earliest_use, zone, year=False),
        governing=label.governing.value,
        open_life=f"{label.open_life // HOUR} h",
        lot=lot,
        print_number=str(label.print_number),
        who=who,
        tip="TIP DOWN" if tip_down else "",
        governing_full=label.governing.value,
        hazards="",
        part_number="",
        earliest_day=day_text(earliest),
        earliest_clock=clock_text(earliest),
        earliest_zone=zone_text(earliest),
        write_in=WRITE_IN,
    )


def of_filled(content: LabelContent, governing: Limit, part_number: str) -> LabelContent:
    """The same label for a container filled here: it is open from the start, and comes without a maker's label."""
    return replace(
        content,
        governing=SHORT.get(governing, governing.value),
        governing_full=governing.value,
        open_life="IS OPEN",
        hazards=HAZARDS,
        hazards_brief=HAZARDS_BRIEF,
        part_number=part_number,
        write_in="",
    )


def of_opened(content: LabelContent, opened_at: datetime, zone: ZoneInfo) -> LabelContent:
    """The same label for a container that is open: when it was opened stands where others have room to write it."""
    return replace(content, write_in="", opened=time_text(opened_at, zone))


def widest_content(
    *,
    paste: str,
    kind: str,
    alloy: Alloy,
    tip_down: bool,
    lot: str,
    who: str,
    zone_name: str = "CEST",
    day: str = WIDEST_DAY,
) -> LabelContent:
    """The widest label of these names, for checking a template: widest times in a doubled hour, highest numbers.

    `lot` and `who` are the longest the site allows. The code is as long as a real one, and means nothing. Check
    with `WIDEST_DAY` and with `TALLEST_DAY`, whose letters reach highest and lowest.
    """
    loud = alloy in LOUD
    return LabelContent(
        code="V1".ljust(FRAME.length, "0"),
        paste=paste,
        kind=kind,
        alloy_loud=alloy.shout if loud else "",
        alloy_plain="" if loud else plain_family(alloy),
        last_three="000",
        container=container_id((1 << BITS["station"]) - 1, (1 << BITS["counter"]) - 1),
        thaw_start=f"{day} 2026 02:00 {zone_name}",
        earliest_use=f"{day} 2026 02:00 {zone_name}",
        discard_by=f"{day} 2026 02:00 {zone_name}",
        discard_day=day,
        discard_year="2026",
        discard_clock="02:00",
        discard_zone=zone_name,
        thaw_start_brief=f"{day} 02:00 {zone_name}",
        earliest_use_brief=f"{day} 02:00 {zone_name}",
        governing=max((Limit.SHELF, Limit.ROOM, Limit.OPEN), key=len).value,
        open_life="255 h",
        lot=lot,
        print_number=str((1 << BITS["print"]) - 1),
        who=who,
        tip="TIP DOWN" if tip_down else "",
        governing_full=Limit.SHELF.value,
        hazards="",
        part_number="",
        earliest_day=day,
        earliest_clock="02:00",
        earliest_zone=zone_name,
        write_in=WRITE_IN,
    )


def plain_family(alloy: Alloy) -> str:
    """How a family is named that needs no shout: `LEAD-FREE Sn-Ag-Cu`, or `FLUX OR ADHESIVE`."""
    return alloy.shout if alloy is Alloy.NONE else f"LEAD-FREE {alloy.value}"


def time_text(instant: datetime, zone: ZoneInfo, *, year: bool = True) -> str:
    """`Tue 24 Nov 2026 17:36` in the plant's zone, with the zone's name where the clock shows that hour twice."""
    local = instant.astimezone(zone)
    parts = (day_text(local), str(local.year) if year else "", clock_text(local), zone_text(local))
    return " ".join(part for part in parts if part)


def day_text(local: datetime) -> str:
    """`Tue 24 Nov` of a zoned wall time."""
    return f"{WEEKDAYS[local.weekday()]} {local.day:02d} {MONTHS[local.month - 1]}"


def clock_text(local: datetime) -> str:
    """`17:36` of a zoned wall time."""
    return f"{local.hour:02d}:{local.minute:02d}"


def zone_text(local: datetime) -> str:
    """Which of the two it is, if this wall time occurs twice: `CET` or `CEST`, or `+03:00`; else empty."""
    return _zone_name(local) if is_doubled(local) else ""


def _zone_name(local: datetime) -> str:
    """The zone's short name; its offset where the name is none, or is the same before and after the change."""
    name = local.tzname() or ""
    if not name.isalpha() or name == local.replace(fold=1 - local.fold).tzname():
        return local.isoformat()[-6:]
    return name


# Each template of a site is checked with it, and it looks at every half hour of a year.
@lru_cache(maxsize=4)
def widest_zone_text(zone: ZoneInfo, year: int) -> str:
    """The longest text that tells doubled hours of a zone apart in `year`; empty where no hour comes twice."""
    start = datetime(year, 1, 1, tzinfo=UTC)
    half_hours = ((start + timedelta(minutes=30 * half)).astimezone(zone) for half in range(2 * 366 * 24))
    return max((zone_text(local) for local in half_hours), key=len)
