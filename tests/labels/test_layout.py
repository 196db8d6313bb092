"""A site's template is read whole: every fault at once, each with its place and the word that was meant."""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from station.care.saying import MONTHS, WEEKDAYS
from station.care.words import Alloy, Limit
from station.labels.builtin import LARGE, SMALL, builtin_templates, site_template
from station.labels.content import TALLEST_DAY, LabelContent, of_filled
from station.labels.fitting import check_template
from station.labels.layout import CodeItem, Template, TemplateFaults, TextItem, is_drawn, template_from_mapping
from station.labels.raster import render
from tests.labels.samples import content, widest, widest_filled

GOOD: dict[str, Any] = {
    "name": "mine",
    "width_mm": 40,
    "height_mm": 20,
    "items": [
        {"kind": "text", "text": "{paste}", "x_mm": 1, "y_mm": 2, "width_mm": 18, "cap_mm": 2},
        {"kind": "code", "x_mm": 22, "y_mm": 1, "side_mm": 17},
    ],
}


def changed(item: int | None = None, **values: object) -> dict[str, Any]:
    mapping = deepcopy(GOOD)
    (mapping if item is None else mapping["items"][item]).update(values)
    return mapping


def faults(mapping: dict[str, Any]) -> tuple[str, ...]:
    with pytest.raises(TemplateFaults) as caught:
        template_from_mapping(mapping, "mine")
    return caught.value.faults


def test_a_good_template_is_read() -> None:
    template = template_from_mapping(GOOD)
    assert (template.name, template.width_mm, template.height_mm) == ("mine", 40.0, 20.0)
    assert template.code == CodeItem(22, 1, 17)
    assert render(template, content(), 203).size == (319, 159)


@pytest.mark.parametrize(
    ("mapping", "fault"),
    [
        (changed(width_mm="wide"), "width_mm must be a number"),
        (changed(height_mm=900), "height_mm must be a number of millimetres from 10 to 200"),
        (changed(colour="red"), "knows no 'colour'"),
        (changed(items=[]), "at least one table"),
        (changed(items=["text"]), "Item 1 must be a table"),
        (changed(items=GOOD["items"][:1]), "exactly one item of kind code"),
        (changed(0, kind="word"), "kind 'word'; it must be one of text, code, box, arrow"),
        (changed(0, cap_mn=2), "knows no 'cap_mn'; did you mean cap_mm?"),
        (changed(0, text="{pasta}"), "knows no 'pasta'; did you mean paste?"),
        (changed(0, text="{paste"), "braces"),
        (changed(0, text=7), "text cannot be 7"),
        (changed(0, face="heavy"), "face must be one of regular, bold, mono"),
        (changed(0, align="middle"), "align must be one of left, centre, right"),
        (changed(0, inverted="yes"), "inverted cannot be 'yes'"),
        (changed(0, x_mm=-1), "x_mm must be millimetres"),
        (changed(0, x_mm=True), "x_mm must be millimetres"),
        (changed(0, cap_mm=0), "cap_mm must be millimetres, 0.1 to 200"),
        (changed(0, width_mm=float("inf")), "width_mm must be millimetres, 0.1 to 200"),
        (changed(0, y_mm=float("nan")), "y_mm must be millimetres, 0 to 200"),
        (changed(0, instead="{pasta}"), "knows no 'pasta'; did you mean paste?"),
        (changed(language="deutsch"), "language must be one of en, de, not 'deutsch'"),
        (changed(1, kind="arrow", width_mm=2, height_mm=2, when="tipp"), "knows no 'tipp'; did you mean tip?"),
    ],
)
def test_each_fault_is_named(mapping: dict[str, Any], fault: str) -> None:
    assert any(fault in sentence for sentence in faults(mapping)), faults(mapping)


def test_all_faults_come_at_once() -> None:
    mapping = changed(0, face="heavy", x_mm="left")
    del mapping["items"][1]["side_mm"]
    mapping["width_mm"] = 0
    assert len(faults(mapping)) == 4


def fit_faults(items: list[dict[str, object]], filled: LabelContent | None = None) -> str:
    template = template_from_mapping({**GOOD, "items": [GOOD["items"][1], *items]})
    return " ".join(check_template(template, [filled or content()], [203]))


def text(**values: object) -> dict[str, object]:
    return {"kind": "text", "text": "{paste}", "x_mm": 1, "y_mm": 2, "width_mm": 18, "cap_mm": 2, **values}


def box(x: float, y: float, line: float) -> dict[str, object]:
    return {"kind": "box", "x_mm": x, "y_mm": y, "width_mm": 20, "height_mm": 6, "line_mm": line}


def test_text_that_does_not_fit_is_an_error_and_never_an_ellipsis() -> None:
    said = fit_faults([text(width_mm=5)])
    assert "'SN-4' needs" in said
    assert "of the 5 mm" in said


def test_text_may_be_set_smaller_as_far_as_the_template_allows() -> None:
    assert fit_faults([text(width_mm=5, least_mm=1.2)]) == ""
    assert fit_faults([text(width_mm=5, least_mm=1.8)])


def test_a_least_height_over_the_height_is_no_height_of_its_own() -> None:
    assert fit_faults([text(cap_mm=1.5, least_mm=3.0)]) == ""


def test_what_may_be_too_long_may_have_something_said_instead() -> None:
    """A lot number cut short would be another lot number."""
    lot = text(text="lot {lot}", width_mm=15, cap_mm=1.25, instead="lot: see screen")
    long = replace(content(), lot="0815-4242-26-118-0815")
    assert "needs" in fit_faults([lot | {"instead": ""}], long)
    assert fit_faults([lot], long) == ""
    assert "'lot: see screen' needs" in fit_faults([lot | {"width_mm": 5}], long)


def test_overlaps_and_cut_edges_are_errors() -> None:
    quiet = "The text '{paste}' stands in the code at 22, 1 mm or its quiet zone, 4 modules of white all round."
    assert quiet in fit_faults([text(x_mm=18)])
    assert "The text '{paste}' and The text '{kind}' overlap." in fit_faults([text(), text(text="{kind}", y_mm=3)])
    assert "closer than 0.5 mm" in fit_faults([text(y_mm=0.2)])
    assert "closer than 0.5 mm" in fit_faults([text(y_mm=18.5)])


def test_an_outline_may_frame_a_text_and_a_filled_box_may_not() -> None:
    assert fit_faults([box(0.6, 1, 0.3), text()]) == ""
    assert "overlap" in fit_faults([box(0.6, 1, 0.0), text()])


def test_a_code_space_too_small_for_its_dots_is_an_error() -> None:
    """BR-17: refused before printing, with the reason."""
    template = template_from_mapping(changed(1, side_mm=15))
    assert "needs 16.5 mm with its quiet zone at 203 dpi" in " ".join(check_template(template, [content()], [203]))


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
@pytest.mark.parametrize("alloy", Alloy)
def test_built_in_templates_hold_the_widest_label_of_every_family(template: Template, alloy: Alloy) -> None:
    assert check_template(template, [widest(alloy), widest(alloy, TALLEST_DAY), content(alloy=alloy)]) == ()


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
@pytest.mark.parametrize("alloy", Alloy)
def test_built_in_templates_hold_the_widest_label_of_paste_filled_here(template: Template, alloy: Alloy) -> None:
    assert check_template(template, [widest_filled(alloy), widest_filled(alloy, TALLEST_DAY)]) == ()


def test_a_line_or_a_box_may_stand_only_where_another_field_has_text_or_none() -> None:
    part = text(text="part {part_number}", y_mm=8, cap_mm=1.3, when="hazards")
    lid, once = text(text="LID ON", y_mm=2, when="hazards"), text(text="OPENED", y_mm=2, unless="hazards")
    frame = box(0.6, 1, 0.0) | {"unless": "hazards"}
    filled = of_filled(content(), Limit.DECANTED, "HW-104-500")
    assert fit_faults([part, lid, once]) == ""
    assert fit_faults([part, lid, once], filled) == ""
    assert "overlap" in fit_faults([part, frame, once])
    assert fit_faults([part, lid, frame], filled) == ""
    assert "knows no 'hazard'; did you mean hazards?" in " ".join(faults(changed(0, unless="hazard")))


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
@pytest.mark.parametrize("filled", [True, False])
def test_a_label_of_filled_paste_has_hazards_where_others_have_room_to_write(template: Template, filled: bool) -> None:
    """What a container filled at work must show: 29 CFR 1910.1200(f)(6). It is open, so nobody writes OPENED on it."""
    said = of_filled(content(), Limit.DECANTED, "HW-104-500") if filled else content()
    drawn = [item for item in template.items if is_drawn(item, said.values)]
    words = [line for item in drawn if isinstance(item, TextItem) and (line := item.filled(said.values))]
    small = template.name == "40x20"
    only_filled = {"OPEN: KEEP LID ON", "part HW-104-500", "HAZARDS: MAKER'S LABEL BESIDE THIS"}
    only_filled = {"HAZARDS BESIDE THIS"} if small else only_filled
    only_others = {"K7-311 no. 1"} if small else {"ONCE OPENED", "OPENED", "DISCARD"}
    assert only_filled & set(words) == (only_filled if filled else set())
    assert only_others & set(words) == (set() if filled else only_others)


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
def test_built_in_templates_hold_every_day_of_the_year(template: Template) -> None:
    days = [f"{weekday} 28 {month}" for weekday in WEEKDAYS for month in MONTHS]
    said = [
        replace(
            widest(Alloy.SN_PB),
            discard_day=day,
            thaw_start=f"{day} 2026 20:00",
            earliest_use=f"{day} 2026 20:00",
            thaw_start_brief=f"{day} 20:00",
            earliest_use_brief=f"{day} 20:00",
        )
        for day in days
    ]
    assert check_template(template, said, [203, 300]) == ()


@pytest.mark.parametrize("name", ["60x40", "50x25"])
def test_built_in_templates_say_everything_in_reading_order(name: str) -> None:
    template = builtin_templates()[name]
    names = [name for item in template.items if isinstance(item, TextItem) for name in item.field_names]
    words = " ".join(item.text for item in template.items if isinstance(item, TextItem))
    for needed in ("THAW START", "EARLIEST USE", "DISCARD BY", "ONCE OPENED", "OPENED", "DISCARD", "{governing"):
        assert needed in words
    order = ["paste", "kind", "last_three", "alloy_loud", "discard_day", "open_life"]
    assert [name for name in names if name in order] == order
    rest = "hazards part_number lot container print_number who tip discard_year discard_zone"
    assert set(rest.split()) <= set(names)


def test_a_flag_keeps_its_text_on_one_face_and_its_code_on_the_other() -> None:
    """40 x 20 mm, folded at 20 mm: nothing that a person reads for use runs over the fold."""
    flag = builtin_templates()["40x20"]
    texts = [item for item in flag.items if isinstance(item, TextItem)]
    left = [item for item in texts if item.x_mm < 20]
    assert flag.code.x_mm > 20
    assert all(item.x_mm + item.width_mm < 19.5 for item in left)
    words = "{paste} {last_three} {alloy_loud} EARLIEST USE {earliest_day} DISCARD BY {discard_day} {discard_clock}"
    assert set(words.replace("ST USE", "ST_USE").replace("RD BY", "RD_BY").split()) <= {
        item.text.replace(" ", "_") for item in left
    }


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
def test_discard_by_is_the_largest_text(template: Template) -> None:
    sizes = {item.text: item.cap_mm for item in template.items if isinstance(item, TextItem)}
    largest = max(sizes.values())
    assert {text for text, size in sizes.items() if size == largest} == {"{discard_day}", "{discard_clock}"}


@pytest.mark.parametrize("template", builtin_templates().values(), ids=lambda template: template.name)
def test_no_letter_is_smaller_than_ten_dots_of_a_203_dpi_printer(template: Template) -> None:
    """1.25 mm; ten dots is about the least a capital needs to keep its shape (from trying, no source)."""
    assert min(item.smallest_mm for item in template.items if isinstance(item, TextItem)) >= 1.25


def test_a_site_names_a_built_in_template_or_writes_its_own() -> None:
    assert site_template("jars", {"built_in": "60x40"}) == template_from_mapping(LARGE)
    assert site_template("50x25", {"built_in": "50x25"}) == template_from_mapping(SMALL)
    own = {key: value for key, value in GOOD.items() if key != "name"}
    assert site_template("flags", own).name == "flags"
