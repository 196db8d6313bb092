"""What a time label must show, by its size: the smaller it is, the more lesser items it may leave out.

DISCARD BY, EARLIEST USE, the last three digits, the mark for lead and the paste stand on every one. A time in parts
must show its zone too, or nobody could tell the two hours apart when the clocks go back.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from station.labels.content import FIELD_NAMES
from station.labels.layout import Template, TextItem, is_drawn

FILLED_ONLY = frozenset({"hazards", "hazards_brief", "part_number"})


@dataclass(frozen=True, slots=True)
class Need:
    """One thing a label must show: any one set of the fields in `by` does, each under its own condition.

    `of` tells on which labels: "every", those of paste "filled" here, or "others"; `tip` needs it only at a site
    that stores some container with its tip down.
    """

    name: str
    by: tuple[frozenset[str], ...]
    of: str = "every"
    tip: bool = False


def _by(*sets: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(fields.split()) for fields in sets)


ALWAYS = (
    Need("the paste", _by("paste")),
    Need("the last three digits", _by("last_three")),
    Need("LEADED (Pb)", _by("alloy_loud")),
    Need("EARLIEST USE", _by("earliest_use", "earliest_use_brief", "earliest_day earliest_clock earliest_zone")),
    Need("DISCARD BY", _by("discard_by", "discard_day discard_clock discard_zone")),
    Need("HAZARDS", _by("hazards", "hazards_brief"), of="filled"),
    Need("TIP DOWN", _by("tip"), tip=True),
)
LESSER = (
    Need("the container kind", _by("kind")),
    Need("the alloy family", _by("alloy_plain")),
    Need("THAW START", _by("thaw_start", "thaw_start_brief")),
    Need("the limit that governs", _by("governing", "governing_full")),
    Need("ONCE OPENED", _by("open_life"), of="others"),
    Need("when it was opened", _by("opened"), of="others"),
    Need("the lot", _by("lot")),
    Need("the container", _by("container")),
    Need("the print number", _by("print_number")),
    Need("who", _by("who")),
    Need("the part number", _by("part_number"), of="filled"),
)
NEEDS: dict[tuple[float, float], tuple[Need, ...]] = {
    (60.0, 40.0): (*ALWAYS, *LESSER),
    (50.0, 25.0): (*ALWAYS, *LESSER),
    (40.0, 20.0): ALWAYS,
}
"""By the least width and height in millimetres, largest first; a label smaller than all needs what the last needs."""


def needs_of(template: Template) -> tuple[Need, ...]:
    """What a label of this size must show."""
    fitting = (
        needs for (width, height), needs in NEEDS.items() if template.width_mm >= width and template.height_mm >= height
    )
    return next(fitting, ALWAYS)


def missing_items(template: Template, *, filled: bool, tip_down: bool) -> tuple[str, ...]:
    """A sentence for each item the label lacks. `filled`: paste may be filled into other containers at this site;
    `tip_down`: some container is stored so."""
    size = f"{template.width_mm:g} x {template.height_mm:g} mm"
    return tuple(
        f"The label of {size} must show {need.name}: add a text item with {_choices(need)}{_always(need)}."
        for need in needs_of(template)
        if (filled or need.of != "filled") and (tip_down or not need.tip) and not _shown(template, need)
    )


def _choices(need: Need) -> str:
    sets = (" and ".join(f"{{{name}}}" for name in FIELD_NAMES if name in fields) for fields in need.by)
    return ", or ".join(sets)


def _always(need: Need) -> str:
    return {"every": " that no condition hides", "others": "", "filled": " for paste filled here"}[need.of]


def _shown(template: Template, need: Need) -> bool:
    """Whether it stands on every label that needs it, with whatever others have text at the same time."""
    return all(any(fields <= shown for fields in need.by) for shown in _drawn(template, need))


def _drawn(template: Template, need: Need) -> Iterator[frozenset[str]]:
    """The fields drawn on each sort of label: filled here or not, loud or plain, with or without a tip."""
    own = next(iter(need.by))
    for filled, absent in product((True, False), ("", "alloy_loud", "alloy_plain", "tip")):
        if need.of == ("others" if filled else "filled") or absent in own:
            continue
        gone = {absent} if filled else {absent, *FILLED_ONLY}
        values = {name: "" if name in gone else "x" for name in FIELD_NAMES}
        yield frozenset(
            name
            for item in template.items
            if isinstance(item, TextItem) and is_drawn(item, values)
            for name in item.field_names
        )
