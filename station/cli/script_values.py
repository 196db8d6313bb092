"""Checks what a rehearsal script tells its actions, before any is played: every fault with its line."""

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from enum import StrEnum

from station.care.cold_readings_rules import Mistake
from station.care.words import Boards, Card, Disposition, HoldReason, Limit, Settling, Word
from station.rehearsal import counts
from station.rehearsal.script import Step
from station.services.site import Site

# A check gives what is wrong with a value, or nothing.
Check = Callable[[object], str]


def script_faults(name: str, steps: tuple[Step, ...], site: Site) -> tuple[str, ...]:
    """Every fault of a script's values, as sentences with the script's name and the line."""
    return tuple(f"{name} line {step.line}: {fault}" for step in steps for fault in _step_faults(step, site))


def _step_faults(step: Step, site: Site) -> Iterator[str]:
    places = [place.id for place in site.places]
    if step.place is not None and step.place not in places:
        yield f'there is no place "{step.place}". Use one of: {", ".join(places)}.'
    check = SINGLE.get(step.action)
    if check is not None and (wrong := check(step.told)):
        yield f'"{step.action}" {wrong}.'
    if step.action in TABLES:
        yield from _table_faults(step.action, step.told)
    yield from _expectation_faults(step.expect)


def _table_faults(action: str, told: object) -> Iterator[str]:
    required, optional = TABLES[action]
    if not isinstance(told, dict):
        yield f'"{action}" must be an object with {", ".join(required)}.'
        return
    known = {**required, **optional}
    for key in sorted(set(told) - set(known)):
        yield f'"{action}" has no "{key}". Use: {", ".join(known)}.'
    for key in required:
        if key not in told:
            yield f'"{action}" needs "{key}".'
    for key, check in known.items():
        if key in told and (wrong := check(told[key])):
            yield f'"{key}" of "{action}" {wrong}.'


def _expectation_faults(expect: Mapping[str, object]) -> Iterator[str]:
    for key, check in EXPECTATIONS.items():
        if key in expect and (wrong := check(expect[key])):
            yield f'"{key}" of "expect" {wrong}.'


def _text(value: object) -> str:
    return "" if isinstance(value, str) and value else "must be a text"


def _any_text(value: object) -> str:
    return "" if isinstance(value, str) else "must be a text"


def _alarm(value: object) -> str:
    wanted = value if isinstance(value, list) else [value]
    right = all(isinstance(parts, dict) and parts and set(parts) <= ALARM_PARTS for parts in wanted)
    return "" if right else f"must be an object, or a list of them, with some of: {', '.join(sorted(ALARM_PARTS))}"


def _lots(value: object) -> str:
    parts = {"paste", "kind", "lot", "expires", "made", "count", "leaking", "as"}
    right = isinstance(value, list) and value and all(isinstance(lot, dict) and set(lot) <= parts for lot in value)
    return "" if right else f"must be a list of objects with some of: {', '.join(sorted(parts))}"


def _runs(value: object) -> str:
    right = isinstance(value, list) and value and all(_is_run(run) for run in value)
    return "" if right else "must be a list of pairs: a temperature or null, and how often it follows"


def _is_run(run: object) -> bool:
    if not isinstance(run, list) or len(run) != PAIR:
        return False
    celsius, count = run
    return (celsius is None or not _number(celsius)) and not _whole(count)


def _pin(value: object) -> str:
    return "" if isinstance(value, str) else 'must be a text such as "2020", not a number'


def _number(value: object) -> str:
    right = isinstance(value, int | float) and not isinstance(value, bool)
    return "" if right else "must be a number"


def _whole(value: object) -> str:
    right = isinstance(value, int) and not isinstance(value, bool) and value >= 0
    return "" if right else "must be a whole number"


def _length(value: object) -> str:
    return _number(value) or ("" if float(str(value)) >= 0 else "must not be negative")


def _flag(value: object) -> str:
    return "" if isinstance(value, bool) else "must be true or false"


def _texts(value: object) -> str:
    several = isinstance(value, list) and all(isinstance(entry, str) for entry in value)
    return "" if several or isinstance(value, str) else "must be a text or a list of texts"


def _day(value: object) -> str:
    try:
        date.fromisoformat(str(value))
    except ValueError:
        return 'must be a date such as "2027-03-31"'
    return ""


def _moment(value: object) -> str:
    try:
        datetime.fromisoformat(str(value))
    except ValueError:
        return 'must be a plant time such as "2026-11-06T08:00"'
    return ""


def _one_of(*allowed: str) -> Check:
    def check(value: object) -> str:
        return "" if value in allowed else f'can\'t be "{value}". Use one of: {", ".join(allowed)}'

    return check


def _word_of(words: type[StrEnum]) -> Check:
    return _one_of(*(word.value for word in words))


Checks = dict[str, Check]
ALARM_PARTS = frozenset({"subject", "limit", "since", "priority", "state", "sounds"})
WITHOUT_VALUE = ("restart", "tick")
PAIR = 2
SINGLE: Checks = {
    **dict.fromkeys(("scan", "label", "meet", "tag", "bin_tag", "store_tag", "badge", "order", "acknowledge"), _text),
    "card": _word_of(Card),
    "count": _one_of(*counts.DOES),
    "clock_step": _number,
    "sleep": _length,
}
PROOF: Checks = {"badge": _text, "pin": _pin}
TABLES: dict[str, tuple[Checks, Checks]] = {
    "receive": (
        {"paste": _text, "kind": _text},
        {
            "lot": _text,
            "expires": _day,
            "made": _day,
            "temperature": _number,
            "indicator": _one_of("measured", "not measured", "indicator tripped"),
            "arrived": _moment,
            "leaking": _flag,
        },
    ),
    "deliver": (
        {"lots": _lots},
        {
            "temperature": _number,
            "indicator": _one_of("measured", "not measured", "indicator tripped"),
            "arrived": _moment,
            "packs": _one_of("frozen", "melted", "none"),
            "box": _one_of("sound", "damaged", "wet"),
            "days": _whole,
            "logger": _text,
        },
    ),
    "clear": (
        {"subject": _text, "disposition": _word_of(Disposition), "reason": _text, "badge": _text, "pin": _pin},
        {"boards": _word_of(Boards), "document": _any_text},
    ),
    "release": (
        {"container": _text, "reason": _word_of(HoldReason), "badge": _text, "pin": _pin},
        {"note": _any_text},
    ),
    "extend": (
        {"container": _text, "limit": _word_of(Limit), "minutes": _number, "badge": _text, "pin": _pin},
        {"concession": _any_text},
    ),
    "hold_lot": ({"paste": _text, "lot": _text, "note": _any_text, **PROOF}, {}),
    "release_lot": ({"paste": _text, "lot": _text, "note": _any_text, **PROOF}, {"document": _any_text}),
    "recertify_lot": (
        {"paste": _text, "lot": _text, "expires": _day, "document": _any_text, **PROOF},
        {"second_badge": _text, "second_pin": _pin},
    ),
    "take_out_late": ({"container": _text, "earliest": _moment, "latest": _moment, "reason": _any_text, **PROOF}, {}),
    "move_store": ({"store": _text, "to": _text, "since": _moment, "reason": _any_text, **PROOF}, {}),
    "store_out": ({"store": _text, "since": _moment, "reason": _any_text, **PROOF}, {}),
    "correct": (
        {"container": _text, "reason": _any_text, **PROOF},
        {
            "paste": _text,
            "kind": _text,
            "lot": _any_text,
            "expires": _day,
            "arrived": _moment,
            "temperature": _number,
        },
    ),
    "take_back": ({"reason": _any_text, **PROOF}, {"container": _text, "position": _text}),
    "readings_back": (
        {"store": _text, "file": _text, "mistake": _word_of(Mistake), "reason": _any_text, **PROOF},
        {},
    ),
    "excursions_seen": ({"store": _text, "note": _any_text, **PROOF}, {}),
    "minutes_back": ({"container": _text, "reason": _any_text, **PROOF}, {}),
    "choose_version": ({"container": _text, "version": _whole, "reason": _any_text, **PROOF}, {}),
    "settle_difference": ({"container": _text, "how": _word_of(Settling), "note": _any_text}, PROOF),
    "room": ({"temperature": _number, "humidity": _number}, {}),
    "readings": (
        {"store": _text, "from": _moment, "celsius": _runs},
        {"step": _number, "file": _text, "sensor": _text},
    ),
    "display": ({"store": _text, "celsius": _number}, {}),
    "confirm_clock": ({"badge": _text, "pin": _pin}, {}),
}
EXPECTATIONS: Checks = {
    "verdict": _word_of(Word),
    "code": _text,
    "says": _texts,
    "alarms": _whole,
    "alarm": _alarm,
    "facts": lambda value: _texts(value) if isinstance(value, list) else "must be a list of texts",
    "refused": _flag,
}
