"""The stations of the table of answers go different ways: what one hears, no other one knows."""

from dataclasses import is_dataclass
from enum import Enum

from station.rehearsal.answers.hands import NOW, Hands, NoPaper

NEVER_CHANGE = (Enum, NoPaper)


def frozen(thing: object) -> bool:
    parameters = getattr(thing, "__dataclass_params__", None)
    return is_dataclass(thing) and parameters is not None and bool(parameters.frozen)


def changing(thing: object, path: str, seen: dict[int, str]) -> dict[int, str]:
    """By identity, where each thing that may change is found in this one: tables, lists, sets and own objects."""
    if id(thing) in seen:
        return seen
    ours = type(thing).__module__.startswith("station.") and not frozen(thing) and not isinstance(thing, NEVER_CHANGE)
    if not (ours or isinstance(thing, dict | list | set)):
        return seen
    seen[id(thing)] = path
    if ours:
        inside = {f".{name}": value for name, value in vars(thing).items()} if hasattr(thing, "__dict__") else {}
    elif isinstance(thing, dict):
        inside = {f"[{key}]": value for key, value in thing.items()}
    elif isinstance(thing, list | set):
        inside = {f"({place})": value for place, value in enumerate(thing)}
    for name, value in inside.items():
        changing(value, path + name, seen)
    return seen


def test_nothing_that_changes_is_shared_with_a_copy() -> None:
    hands = Hands().play(["2d !receive it ", "1d FRIDGE it", "1h !store-warm FRIDGE"])
    copy = hands.copy(NOW)
    ours, theirs = changing(hands.station, "station", {}), changing(copy.station, "station", {})
    assert len(ours) > 20
    assert {path for found, path in ours.items() if found in theirs} == set()
