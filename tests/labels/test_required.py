"""What a label must show by its size, and that a template that hides it is refused by name."""

from dataclasses import replace

import pytest

from station.labels.builtin import builtin_templates
from station.labels.layout import Template, TextItem
from station.labels.required import ALWAYS, LESSER, missing_items, needs_of

TEMPLATES = builtin_templates()


def without(template: Template, *fields: str) -> Template:
    """The template without every item that shows one of these fields."""
    kept = [item for item in template.items if not (isinstance(item, TextItem) and set(item.field_names) & set(fields))]
    return replace(template, items=tuple(kept))


def hidden(template: Template, field: str, when: str = "", unless: str = "") -> Template:
    """The template with the items of this field under a condition."""
    items = [
        replace(item, when=when, unless=unless) if isinstance(item, TextItem) and field in item.field_names else item
        for item in template.items
    ]
    return replace(template, items=tuple(items))


@pytest.mark.parametrize("name", list(TEMPLATES))
def test_the_built_in_labels_lack_nothing(name: str) -> None:
    assert missing_items(TEMPLATES[name], filled=True, tip_down=True) == ()


@pytest.mark.parametrize("name", list(TEMPLATES))
@pytest.mark.parametrize(
    ("fields", "item"),
    [
        (("paste",), "the paste"),
        (("last_three",), "the last three digits"),
        (("alloy_loud",), "LEADED (Pb)"),
        (("earliest_use", "earliest_use_brief", "earliest_clock"), "EARLIEST USE"),
        (("discard_day",), "DISCARD BY"),
    ],
)
def test_no_label_is_too_small_for_what_people_must_not_miss(name: str, fields: tuple[str, ...], item: str) -> None:
    template = without(TEMPLATES[name], *fields)
    (told,) = missing_items(template, filled=True, tip_down=True)
    assert told.startswith(f"The label of {template.width_mm:g} x {template.height_mm:g} mm must show {item}: add")
    assert f"{{{fields[0]}}}" in told


def test_a_small_label_may_leave_out_what_a_large_one_may_not() -> None:
    lesser = ("kind", "alloy_plain", "open_life", "lot", "container", "who")
    assert missing_items(without(TEMPLATES["40x20"], *lesser), filled=True, tip_down=True) == ()
    told = " ".join(missing_items(without(TEMPLATES["50x25"], *lesser), filled=True, tip_down=True))
    for name in ("the container kind", "the alloy family", "ONCE OPENED", "the lot", "the container", "who"):
        assert f"must show {name}:" in told


@pytest.mark.parametrize(
    ("width", "height", "needs"),
    [
        (100, 50, (*ALWAYS, *LESSER)),
        (50, 25, (*ALWAYS, *LESSER)),
        (49.9, 25, ALWAYS),
        (60, 20, ALWAYS),
        (30, 20, ALWAYS),
    ],
)
def test_a_size_of_the_sites_own_counts_as_the_next_smaller(
    width: float, height: float, needs: tuple[object, ...]
) -> None:
    assert needs_of(replace(TEMPLATES["60x40"], width_mm=width, height_mm=height)) == needs


@pytest.mark.parametrize("field", ["earliest_zone", "discard_zone"])
def test_a_time_in_parts_needs_its_zone_for_the_hour_that_comes_twice(field: str) -> None:
    """BR-32: 02:30 on the night the clocks go back is two different times."""
    (told,) = missing_items(without(TEMPLATES["40x20"], field), filled=True, tip_down=True)
    assert f"{{{field}}}" in told


@pytest.mark.parametrize(
    ("field", "condition"),
    [
        ("paste", {"when": "hazards"}),
        ("paste", {"unless": "hazards"}),
        ("last_three", {"unless": "alloy_loud"}),
        ("alloy_loud", {"when": "tip"}),
        ("alloy_loud", {"when": "alloy_plain"}),
        ("discard_day", {"unless": "part_number"}),
    ],
)
def test_an_item_that_some_labels_hide_does_not_count(field: str, condition: dict[str, str]) -> None:
    (told,) = missing_items(hidden(TEMPLATES["60x40"], field, **condition), filled=True, tip_down=True)
    assert f"{{{field}}}" in told


def test_hazards_are_needed_where_paste_is_filled_into_other_containers() -> None:
    """29 CFR 1910.1200(f)(6): a container filled at work shows what is in it and its hazards."""
    bare = without(TEMPLATES["60x40"], "hazards", "part_number")
    told = missing_items(bare, filled=True, tip_down=True)
    assert [sentence.split(":")[0].rsplit(" ", 1)[1] for sentence in told] == ["HAZARDS", "number"]
    assert "{hazards}" in told[0]
    assert missing_items(bare, filled=False, tip_down=True) == ()


def test_tip_down_is_needed_where_something_is_stored_so() -> None:
    bare = without(TEMPLATES["60x40"], "tip")
    (told,) = missing_items(bare, filled=True, tip_down=True)
    assert "TIP DOWN" in told
    assert missing_items(bare, filled=True, tip_down=False) == ()
