"""A label that could not be printed one day is a fault of the settings today."""

import re
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from station.labels.builtin import builtin_templates
from station.labels.layout import TextItem
from station.services.site import Site
from station.settings import load
from station.settings.label_check import label_faults, longest_contents
from tests.settings.folders import Folder

ALL_SIZES = """
[template."60x40"]
built_in = "60x40"
[template."50x25"]
built_in = "50x25"
[template."40x20"]
built_in = "40x20"
"""


def site_of(folder: Folder, labels: str) -> Site:
    """The site of a folder with another labels.toml, and one template for all kinds."""
    settings = folder.path / "site.toml"
    rules = re.compile(r"\[\[label_for\]\]\n(?:.+\n)*")
    settings.write_text(rules.sub("", settings.read_text(encoding="utf-8")), encoding="utf-8")
    (folder.path / "labels.toml").write_text(labels, encoding="utf-8")
    return load(folder.path)


def own(left_out: str = "", moved: str = "", to_x_mm: float = 0.0) -> str:
    """The 60 x 40 label written out as a site's own, without the items whose text has `left_out` in it."""
    lines = ["[template.OWN]", "width_mm = 60.0", "height_mm = 40.0"]
    for item in builtin_templates()["60x40"].items:
        if isinstance(item, TextItem) and left_out and left_out in item.text:
            continue
        kind = type(item).__name__.removesuffix("Item").lower()
        given = {name: getattr(item, name) for name in item.__slots__}
        if isinstance(item, TextItem) and item.text == moved:
            given["x_mm"] = to_x_mm
        lines += ["[[template.OWN.items]]", f'kind = "{kind}"', *map(_line, given.items())]
    return "\n".join(lines)


def _line(pair: tuple[str, object]) -> str:
    key, value = pair
    return f"{key} = {str(value).lower()}" if isinstance(value, bool | float | int) else f'{key} = "{value}"'


def told(site: Site) -> list[str]:
    return [fault.sentence for fault in label_faults(site)]


@pytest.mark.parametrize("language", ["", 'language = "de"'])
def test_every_built_in_size_holds_the_longest_texts_of_the_demo(demo: Folder, language: str) -> None:
    assert told(site_of(demo, language + ALL_SIZES)) == []


def test_a_label_written_out_by_the_site_is_as_good(plant_t: Folder) -> None:
    assert told(site_of(plant_t.edit("site.toml", '"60x40"', '"OWN"'), own())) == []


@pytest.mark.parametrize(
    ("text", "item", "field"),
    [
        ("{hazards}", "HAZARDS", "{hazards}"),
        ("{discard_zone}", "DISCARD BY", "{discard_zone}"),
        ("{alloy_loud}", "LEADED (Pb)", "{alloy_loud}"),
        ("{last_three}", "the last three digits", "{last_three}"),
        ("limit: ", "the limit that governs", "{governing}"),
    ],
)
def test_an_item_that_is_missing_is_named_with_the_size(plant_t: Folder, text: str, item: str, field: str) -> None:
    (fault,) = label_faults(site_of(plant_t.edit("site.toml", '"60x40"', '"OWN"'), own(text)))
    assert (fault.file, fault.line, fault.key) == ("labels.toml", 1, "template.OWN")
    assert fault.reason == f"The label of 60 x 40 mm must show {item}"
    assert fault.remedy.startswith("Add a text item with")
    assert field in fault.remedy


def test_tip_down_is_asked_for_only_where_something_is_stored_so(plant_t: Folder, demo: Folder) -> None:
    for folder, expected in ((plant_t, []), (demo, ["TIP DOWN"])):
        site = site_of(folder.edit("site.toml", 'template = "60x40"', 'template = "OWN"'), own("{tip}"))
        assert [sentence.split("must show ")[1].split(". ")[0] for sentence in told(site)] == expected


def test_a_kind_with_a_title_too_long_for_the_label_is_a_fault_before_it_is_ever_received(plant_t: Folder) -> None:
    plant_t.edit("kinds.toml", '"jar 500 g"', '"WIDE MOUTH WORKSHOP JAR 500 GRAMS, BLUE"')
    sentences = told(load(plant_t.path))
    assert "'WIDE MOUTH WORKSHOP JAR 500 GRAMS, BLUE' needs" in sentences[0]
    assert "Correct the layout, or shorten the name in its own file." in sentences[0]


def test_a_letter_that_cannot_be_printed_is_told(plant_t: Folder) -> None:
    plant_t.edit("kinds.toml", '"jar 500 g"', '"słoik 500 g"')
    first, *_ = told(load(plant_t.path))
    assert "'słoik 500 g' has letters that the label's typeface lacks: ł." in first


def test_a_text_in_the_quiet_zone_is_refused(plant_t: Folder) -> None:
    """BR-20."""
    moved = own(moved="{last_three}", to_x_mm=31.0)
    sentences = told(site_of(plant_t.edit("site.toml", '"60x40"', '"OWN"'), moved))
    assert [sentence for sentence in sentences if "{last_three}" in sentence and "quiet zone" in sentence] == sentences
    assert sentences


def test_a_square_too_small_for_four_dots_a_module_is_refused(plant_t: Folder) -> None:
    """BR-17: 33 modules with their quiet zone, four dots each at 203 dpi, are 16.5 mm."""
    small = own().replace("side_mm = 17.0", "side_mm = 16.0")
    sentences = told(site_of(plant_t.edit("site.toml", '"60x40"', '"OWN"'), small))
    assert any(
        "The code needs 16.5 mm with its quiet zone at 203 dpi; its item has 16 mm" in said for said in sentences
    )


def test_a_stock_too_small_for_the_identity_label_is_refused(plant_t: Folder) -> None:
    labels = own().replace("height_mm = 40.0", "height_mm = 18.0", 1)
    sentences = told(site_of(plant_t.edit("site.toml", '"60x40"', '"OWN"'), labels))
    assert any("its identity label: " in sentence and "beyond it" in sentence for sentence in sentences)


def test_the_longest_texts_are_those_of_the_site(demo: Folder) -> None:
    site = load(demo.path)
    contents = longest_contents(site, "en")
    assert {content.paste for content in contents} == set(site.plant.pastes)
    assert "jar 500 g, in its carton" in {content.kind for content in contents}
    assert {content.discard_zone for content in contents} == {"CEST"}
    assert any(content.hazards for content in contents)
    assert any(content.opened for content in contents)
    assert max(len(content.who) for content in contents) == max(len(person.id) for person in site.people)


def test_a_site_without_a_doubled_hour_needs_no_room_for_a_zone(demo: Folder) -> None:
    site = replace(load(demo.path), zone=ZoneInfo("UTC"))
    assert {content.discard_zone for content in longest_contents(site, "en")} == {""}


@pytest.mark.parametrize(
    ("labels", "languages"),
    [
        ('[template."60x40"]\nbuilt_in = "60x40"', {None}),
        ('language = "de"\n[template."60x40"]\nbuilt_in = "60x40"', {"de"}),
        ('language = "de"\n[template."60x40"]\nbuilt_in = "60x40"\nlanguage = "en"', {"en"}),
    ],
)
def test_the_language_of_labels_is_set_for_all_or_for_one(
    plant_t: Folder, labels: str, languages: set[str | None]
) -> None:
    site = site_of(plant_t, labels)
    assert {template.get("language") for template in site.templates.values()} == languages


def test_a_language_nobody_translated_is_told_with_those_there_are(plant_t: Folder) -> None:
    (plant_t.path / "labels.toml").write_text('language = "dee"\n' + ALL_SIZES, encoding="utf-8")
    fault = plant_t.only_fault()
    assert (fault.file, fault.line, fault.key, fault.nearest) == ("labels.toml", 1, "language", "de")
    (plant_t.path / "labels.toml").write_text('[template."60x40"]\nbuilt_in = "60x40"\nlanguage = 7', encoding="utf-8")
    assert plant_t.only_fault().key == "template.60x40.language"


def test_a_fault_names_the_line_its_template_begins_at(demo: Folder) -> None:
    labels = '[template."60x40"]\nbuilt_in = "60x40"\n\n' + own("{paste}")
    (fault,) = label_faults(site_of(demo, labels))
    assert (fault.line, fault.file) == (4, "labels.toml")
