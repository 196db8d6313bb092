"""Two contents of a specification beside each other: what differs, which is tighter, and the stricter of both.

The keys are those of pastes.toml. Where a specification says where its figures stand, and how soon they are prompted,
that is no figure: two contents may have the same figures and differ in it.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from station.care.moments import NOTHING
from station.care.specification import Band, Conditioning, Specification, Thaw

PER_KIND = "conditioning."
Choice = Callable[[Any, Any], Any]


@dataclass(frozen=True, slots=True)
class Change:
    """A figure that differs, by its key; None before for what was not there, None for "not allowed" or "as labelled".

    `tighter` says whether it allows less than before; None where neither does.
    """

    key: str
    before: object
    after: object
    tighter: bool | None


def _either(one: bool, other: bool) -> bool:
    return one or other


def _less_or_none(one: Any, other: Any) -> Any:
    """None is "not allowed" and stricter than any length of time."""
    return None if one is None or other is None else min(one, other)


def _fewer_months(one: int | None, other: int | None) -> int | None:
    """None is "as labelled": the label's date is asked for all the same, so months are the tighter figure."""
    return min((months for months in (one, other) if months is not None), default=None)


_PLAIN: dict[str, tuple[str, Choice]] = {
    "to_cold": ("to_cold", min),
    "shelf_life": ("shelf_months", _fewer_months),
    "arrival_warn_above": ("arrival_warn_above_c", min),
    "arrival_hold_above": ("arrival_hold_above_c", min),
    "arrival_hold_below": ("arrival_hold_below_c", max),
    "floor": ("floor_c", max),
    "room_life": ("room_life", min),
    "room_extension": ("room_extension", min),
    "cold_cycles": ("cold_cycles", min),
    "return_within": ("return_within", _less_or_none),
    "open_life": ("open_life", min),
    "open_extension": ("open_extension", min),
    "stencil_life": ("stencil_life", min),
    "stencil_time_counts_as_open": ("stencil_time_counts_as_open", _either),
    "pause_knead": ("pause_knead", min),
    "pause_replace": ("pause_replace", min),
    "enclosed_life": ("enclosed_life", _less_or_none),
    "mixings": ("mixings", min),
    "decanted_life": ("decanted_life", _less_or_none),
    "used_paste_life": ("used_paste_life", _less_or_none),
}
"""Figures that are one field: their key, the field, and which of two values allows less."""


def _ends(specification: Specification) -> dict[str, tuple[object, Choice]]:
    """Figures that are one end of something, each with the choice of the stricter one."""
    room, humidity, thaw = specification.printing_room_c, specification.printing_humidity, specification.thaw
    found: dict[str, tuple[object, Choice]] = {
        "printing_room_from": (room.low, max),
        "printing_room_to": (room.high, min),
        "printing_humidity_from": (humidity.low, max),
        "printing_humidity_to": (humidity.high, min),
    }
    if thaw is not None:
        found |= {"thaw_at_least": (thaw.at_least, max), "thaw_at_most": (thaw.at_most, min)}
    return found | {f"{PER_KIND}{entry.kind}": (entry.minimum, max) for entry in specification.conditioning}


def figures(specification: Specification) -> Specification:
    """The figures alone, to be compared: without version, approval, sources and prompts; kinds in one order."""
    kinds = tuple(sorted(specification.conditioning, key=lambda entry: entry.kind))
    bare = replace(specification, version=0, approved_by=None, data_sheet="", page="", near=(), sources=())
    return replace(bare, conditioning=kinds)


def same_figures(one: Specification, other: Specification) -> bool:
    """Whether two contents limit paste alike."""
    return figures(one) == figures(other)


def values(specification: Specification) -> dict[str, tuple[object, Choice]]:
    """Every figure by its key, each with the choice of the stricter of two values."""
    plain = {key: (getattr(specification, field), choice) for key, (field, choice) in _PLAIN.items()}
    return plain | _ends(specification)


def changes(before: Specification | None, after: Specification) -> tuple[Change, ...]:
    """The figures that differ; every one of them where there was no specification before."""
    old, new = values(before) if before is not None else {}, values(after)
    found = []
    for key in dict.fromkeys((*old, *new)):
        was, becomes = old.get(key), new.get(key)
        if was is not None and becomes is not None:
            if was[0] != becomes[0]:
                found.append(Change(key, was[0], becomes[0], _tighter(key, was[0], becomes[0], becomes[1])))
        else:
            found.append(Change(key, was and was[0], becomes and becomes[0], None))
    return tuple(found)


def _tighter(key: str, before: object, after: object, choice: Choice) -> bool | None:
    return None if key == "shelf_life" and None in (before, after) else choice(before, after) == after


def stricter(one: Specification, other: Specification) -> Specification:
    """Figure by figure the one that allows less, whichever comes first; all else as `other` has it.

    For two contents of one version that were approved where nobody heard of the other.
    """
    plain = {field: choice(getattr(one, field), getattr(other, field)) for field, choice in _PLAIN.values()}
    return replace(
        other,
        **plain,
        conditioning=_longest(one, other),
        thaw=_narrower(one.thaw, other.thaw),
        printing_room_c=_inside(one.printing_room_c, other.printing_room_c),
        printing_humidity=_inside(one.printing_humidity, other.printing_humidity),
    )


def _longest(one: Specification, other: Specification) -> tuple[Conditioning, ...]:
    kinds = sorted({entry.kind for entry in (*one.conditioning, *other.conditioning)})
    return tuple(
        Conditioning(kind, max(one.minimum_for(kind) or NOTHING, other.minimum_for(kind) or NOTHING)) for kind in kinds
    )


def _narrower(one: Thaw | None, other: Thaw | None) -> Thaw | None:
    if one is None or other is None:
        return one or other
    return Thaw(max(one.at_least, other.at_least), min(one.at_most, other.at_most))


def _inside(one: Band, other: Band) -> Band:
    return Band(max(one.low, other.low), min(one.high, other.high))
