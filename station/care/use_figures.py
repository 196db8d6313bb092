"""Whether paste was used inside its limits: what lay past one, for how long, and what was decided about the boards."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care.alarms import BEFORE_USE, OF_ONE_MOUNT
from station.care.ledger import Ledger
from station.care.pace import Pace, unhurried
from station.care.state import Alarm
from station.care.trace import Stay, stays

NOTHING = timedelta(0)


@dataclass(frozen=True, slots=True)
class Use:
    """One bead or mounting from its beginning to its end (None: it lies there still); instants are aware UTC."""

    key: str
    position: str
    paste: str
    since: datetime
    until: datetime | None
    stays: tuple[Stay, ...]


@dataclass(frozen=True, slots=True)
class Outside:
    """Boards may have been made past a limit `since` then, `until` the paste was off (None: it lies there still)."""

    alarm: Alarm
    use: Use
    since: datetime
    until: datetime | None

    @property
    def work_orders(self) -> tuple[str, ...]:
        """The work orders that ran meanwhile, each once."""
        during = (stay for stay in self.use.stays if stay.until is None or stay.until > self.since)
        return tuple(dict.fromkeys(stay.work_order for stay in during if stay.work_order is not None))


@dataclass(frozen=True, slots=True)
class InUse:
    """How many beads and mountings of one paste there were, and how many of them never lay past a limit."""

    paste: str
    uses: int
    inside: int
    longest_outside: timedelta

    @property
    def share(self) -> float:
        """The part that stayed inside, 0 to 1."""
        return self.inside / self.uses


def uses(ledger: Ledger, pace: Pace = unhurried) -> tuple[Use, ...]:
    """Every bead and mounting on record, in order of time."""
    groups: dict[str, list[Stay]] = {}
    for stay in stays(ledger, pace):
        groups.setdefault(stay.key, []).append(stay)
    return tuple(_use(key, group) for key, group in groups.items())


def _use(key: str, group: list[Stay]) -> Use:
    ends = [stay.until for stay in group if stay.until is not None]
    still = len(ends) < len(group)
    return Use(key, group[0].position, group[0].paste, group[0].since, None if still else max(ends), tuple(group))


def outside(ledger: Ledger, known: Iterable[Use]) -> tuple[Outside, ...]:
    """Every stretch in which boards may have been made past a limit, in order of time; `known` are all `uses`.

    For a bead from the limit until it was removed; for a container that was mounted when its limit passed, until it
    was taken off. What feeds a bead makes boards by its bead.
    """
    by_key, mounted = dict[str, Use](), dict[str, list[Use]]()
    for use in known:
        by_key[use.key] = use
        if use.stays[0].mounted:
            mounted.setdefault(use.stays[0].container, []).append(use)
    found = [
        stretch
        for alarm in ledger.alarms.values()
        for use in (*_bead(alarm, by_key), *mounted.get(alarm.subject, ()))
        for stretch in _stretch(alarm, use)
    ]
    return tuple(sorted(found, key=lambda entry: (entry.since, entry.alarm.id)))


def _bead(alarm: Alarm, by_key: dict[str, Use]) -> Iterable[Use]:
    use = by_key.get(alarm.id.split("/")[2])
    return (use,) if use is not None and use.position == alarm.subject else ()


def _stretch(alarm: Alarm, use: Use) -> Iterable[Outside]:
    if (alarm.subject == use.position or _mounted_past(alarm, use)) and (use.until is None or use.until > alarm.since):
        yield Outside(alarm, use, max(alarm.since, use.since), use.until)


def _mounted_past(alarm: Alarm, use: Use) -> bool:
    """Whether an alarm about a container is about this mounting of it."""
    if alarm.limit in BEFORE_USE:
        return False
    return use.key == alarm.id.split("/")[2] if alarm.limit in OF_ONE_MOUNT else use.since <= alarm.since


def in_use(found: Iterable[Use], past: Iterable[Outside], until: datetime) -> tuple[InUse, ...]:
    """By paste, in order of name; what lies there still counts up to `until`."""
    longest: dict[str, timedelta] = {}
    for entry in past:
        length = max(NOTHING, (entry.until or until) - entry.since)
        longest[entry.use.key] = max(length, longest.get(entry.use.key, NOTHING))
    groups: dict[str, list[Use]] = {}
    for use in found:
        groups.setdefault(use.paste, []).append(use)
    return tuple(
        InUse(
            paste,
            len(group),
            sum(use.key not in longest for use in group),
            max(longest.get(use.key, NOTHING) for use in group),
        )
        for paste, group in sorted(groups.items())
    )
