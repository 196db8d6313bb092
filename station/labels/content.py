"""What stands on a label, as finished strings: names and times as a person reads them, and the code text."""

from dataclasses import dataclass, fields
from datetime import datetime
from zoneinfo import ZoneInfo

from station.care.words import Alloy, Shape
from station.labels.containercode import container_id
from station.labels.timecode import HOUR, TimeLabel

# Written out because a system's locale may be anything, while a label reads the same everywhere.
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class LabelContent:
    """Every string a template may use; empty ones are not drawn. `code` is the text in the QR code.

    Of `alloy_loud` and `alloy_plain` one is empty: loud families are printed white on black. The `_brief` times
    are the same instants without the year, for small labels.
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
    thaw_start_brief: str
    earliest_use_brief: str
    governing: str
    open_life: str
    lot: str
    print_number: str
    who: str
    tip: str

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
    shape: Shape,
    alloy: Alloy,
    lot: str,
    who: str,
    zone: ZoneInfo,
) -> LabelContent:
    """What the label of `label` says. `kind` is shape and net mass, such as `jar 500 g`; `zone` is the plant's.

    ValueError if the code says leaded and the alloy does not, or the reverse.
    """
    if label.leaded != alloy.leaded:
        raise ValueError(f"The code's leaded mark contradicts the alloy family {alloy.value}.")
    loud = alloy in (Alloy.SN_PB, Alloy.SN_BI)
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
        thaw_start_brief=time_text(label.thaw_start, zone, year=False),
        earliest_use_brief=time_text(label.earliest_use, zone, year=False),
        governing=label.governing.value,
        open_life=f"{label.open_life // HOUR} h",
        lot=lot,
        print_number=str(label.print_number),
        who=who,
        tip="TIP DOWN" if shape is Shape.CARTRIDGE else "",
    )


def plain_family(alloy: Alloy) -> str:
    """How a family is named that needs no shout: `LEAD-FREE Sn-Ag-Cu`, or `NO METAL` for flux and adhesive."""
    return "NO METAL" if alloy is Alloy.NONE else f"LEAD-FREE {alloy.value}"


def time_text(instant: datetime, zone: ZoneInfo, *, year: bool = True) -> str:
    """`Tue 24 Nov 2026 17:36` in the plant's zone, with the zone's name where the clock shows that hour twice."""
    local = instant.astimezone(zone)
    text = f"{WEEKDAYS[local.weekday()]} {local.day:02d} {MONTHS[local.month - 1]}"
    if year:
        text += f" {local.year}"
    text += f" {local.hour:02d}:{local.minute:02d}"
    return f"{text} {local.tzname()}" if is_doubled(local) else text


def is_doubled(local: datetime) -> bool:
    """Whether this zoned wall time occurs twice, as in the hour when clocks go back."""
    return local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
