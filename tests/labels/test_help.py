"""What the help says of labels is what the program does."""

import re
import tomllib
from itertools import chain

import pytest

from station.care.words import Alloy
from station.labels.builtin import builtin_templates
from station.labels.fitting import RESOLUTIONS, check_template
from station.labels.language import LANGUAGES
from station.labels.layout import template_from_mapping
from station.labels.required import ALWAYS, LESSER, NEEDS, missing_items
from station.labels.resources import resource_path
from tests.labels.samples import widest, widest_filled

HELP = resource_path("help", "labels.md").read_text(encoding="utf-8")


def cells(row: str) -> list[str]:
    return [cell.strip() for cell in row.strip("|\n").split("|")]


def test_every_size_that_comes_with_the_program_is_named() -> None:
    assert set(re.findall(r"^\| `(\d+x\d+)` \|", HELP, re.MULTILINE)) == set(builtin_templates())


def test_the_table_of_what_must_be_shown_is_the_programs() -> None:
    section = HELP.split("## What a label must show")[1].split("`station")[0]
    heads, _, *rows = [cells(row) for row in section.splitlines() if row.startswith("|")]
    assert heads[1:] == [f"{width:g} x {height:g} mm and more" for width, height in list(NEEDS)[:2]] + ["smaller"]
    for needs, column in zip(NEEDS.values(), (1, 2, 3), strict=True):
        must = ", ".join(row[0] for row in rows if row[column] == "must")
        assert [need.name for need in needs if need.name not in must] == []
    lesser = ", ".join(row[0] for row in rows if row[3] != "must")
    assert [need.name for need in ALWAYS if need.name in lesser] == []
    assert [need.name for need in chain(LESSER) if need.name not in lesser] == []


def test_the_languages_are_named() -> None:
    section = HELP.split("## Language")[1].split("##")[0]
    assert set(re.findall(r"`(\w\w)`", section)) == set(LANGUAGES)


@pytest.mark.parametrize("alloy", Alloy)
def test_the_template_to_copy_is_complete_and_holds_the_longest_texts(alloy: Alloy) -> None:
    table = tomllib.loads(HELP.split("```toml\n")[1].split("```")[0])["template"]["SYRINGE"]
    template = template_from_mapping(table, "SYRINGE")
    assert missing_items(template, filled=True, tip_down=True) == ()
    said = [make(alloy, day) for make in (widest, widest_filled) for day in LANGUAGES["en"].check_days]
    assert check_template(template, said) == ()


def test_the_resolutions_are_the_programs() -> None:
    assert all(str(dpi) in HELP for dpi in RESOLUTIONS)


@pytest.mark.parametrize(
    "advice",
    ["resin ribbon", "Wipe dry first", "never on the lid", "Never over the maker's label", "upright", "direct thermal"],
)
def test_the_advice_that_keeps_a_label_readable_is_there(advice: str) -> None:
    assert advice in HELP


def test_it_links_nothing_and_names_no_maker() -> None:
    assert "http" not in HELP
    assert "](" not in HELP
