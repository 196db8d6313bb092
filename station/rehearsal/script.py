"""Rehearsal scripts: one JSON object a line, each one thing that is done at a time, and what to expect of it.

All faults of a script are told at once, with their line, before anything is played.
"""

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

ACTIONS = (
    "receive",
    "deliver",
    "scan",
    "label",
    "meet",
    "tag",
    "bin_tag",
    "store_tag",
    "card",
    "badge",
    "order",
    "acknowledge",
    "clear",
    "release",
    "extend",
    "hold_lot",
    "release_lot",
    "recertify_lot",
    "take_out_late",
    "move_store",
    "store_out",
    "correct",
    "take_back",
    "choose_version",
    "readings_back",
    "excursions_seen",
    "minutes_back",
    "count",
    "settle_difference",
    "room",
    "readings",
    "display",
    "clock_step",
    "sleep",
    "confirm_clock",
    "restart",
    "tick",
)
OTHER_KEYS = ("at", "station", "place", "expect", "note", "as")
EXPECTATIONS = ("verdict", "code", "says", "alarms", "alarm", "facts", "refused")


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a script. `told` is the value of the action; its shape depends on the action."""

    line: int
    at: datetime
    place: str | None
    action: str
    told: object
    alias: str | None
    expect: dict[str, object]
    note: str
    station: str | None = None


class ScriptRefused(Exception):
    """The script can't be played; `faults` says each reason with its line."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def read_script(path: Path, zone: ZoneInfo) -> tuple[Step, ...]:
    """The steps of a script. Times without an offset are plant time; a time alone means the day before's day.

    Raises ScriptRefused with every fault.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as trouble:
        raise ScriptRefused((f"{path.name}: can't be read as UTF-8 text ({trouble}).",)) from trouble
    steps: list[Step] = []
    faults: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip() and not line.lstrip().startswith("#"):
            before = _shown_after(steps[-1]) if steps else None
            try:
                steps.append(_step(number, line, before, zone))
            except ValueError as fault:
                faults.append(f"{path.name} line {number}: {fault}")
    if not steps and not faults:
        faults.append(f"{path.name}: there is no step in it. Write one JSON object a line.")
    if faults:
        raise ScriptRefused(tuple(faults))
    return tuple(steps)


def _shown_after(step: Step) -> datetime:
    """What the clock shows after a step: some steps move it, and the next step's time is read off it."""
    moved = step.told if step.action in ("clock_step", "sleep") else 0
    return step.at + timedelta(minutes=moved) if isinstance(moved, int | float) else step.at


def _step(number: int, line: str, before: datetime | None, zone: ZoneInfo) -> Step:
    try:
        entry = json.loads(line)
    except json.JSONDecodeError as fault:
        raise ValueError(f"this is no JSON object ({fault}).") from fault
    if not isinstance(entry, dict):
        raise ValueError('each line must be one JSON object, like {"at": "06:00", "scan": "K1"}.')
    unknown = sorted(set(entry) - set(ACTIONS) - set(OTHER_KEYS))
    if unknown:
        raise ValueError(f"unknown key {unknown[0]!r}. Use one of: {', '.join((*OTHER_KEYS, *ACTIONS))}.")
    actions = [name for name in ACTIONS if name in entry]
    if len(actions) != 1:
        raise ValueError(f"exactly one action is needed, found {actions or 'none'}.")
    expect = entry.get("expect", {})
    if not isinstance(expect, dict) or set(expect) - set(EXPECTATIONS):
        raise ValueError(f'"expect" is an object with some of: {", ".join(EXPECTATIONS)}.')
    at = _instant(entry.get("at"), before, zone)
    if before is not None and at < before:
        raise ValueError(f'"at" goes back in time; the step before was at {before.astimezone(zone)}.')
    return Step(
        line=number,
        at=at,
        place=_text(entry, "place"),
        action=actions[0],
        told=entry[actions[0]],
        alias=_text(entry, "as"),
        expect=expect,
        note=_text(entry, "note") or "",
        station=_text(entry, "station"),
    )


def _text(entry: dict[str, object], key: str) -> str | None:
    value = entry.get(key)
    if value is not None and not isinstance(value, str):
        raise ValueError(f'"{key}" must be a text.')
    return value


def _instant(told: object, before: datetime | None, zone: ZoneInfo) -> datetime:
    if told is None:
        if before is None:
            raise ValueError('the first step needs "at", such as "2026-11-09T06:00:20".')
        return before
    if not isinstance(told, str):
        raise ValueError('"at" must be a text, such as "2026-11-09T06:00:20" or "06:03".')
    try:
        if "T" in told:
            moment = datetime.fromisoformat(told)
            return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC)
        clock = time.fromisoformat(told)
    except ValueError as fault:
        raise ValueError(f'"at" can\'t be read: {told!r}. Write "2026-11-09T06:00:20" or "06:03".') from fault
    if before is None:
        raise ValueError('the first step needs a date too, such as "2026-11-09T06:00:20".')
    day: date = before.astimezone(zone).date()
    return datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)
