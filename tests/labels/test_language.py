"""A label in the language of the people who read it, whatever language the screen speaks."""

import re
from dataclasses import replace
from itertools import product

import pytest

from station.care.saying import MONTHS, WEEKDAYS
from station.care.words import Alloy, Limit
from station.labels.builtin import builtin_templates, site_template
from station.labels.content import LabelContent, of_filled
from station.labels.fitting import TextMark, check_template, plan
from station.labels.identity import identity_template
from station.labels.language import LANGUAGES, in_language, phrase
from station.labels.layout import Template, TextItem
from station.labels.lettering import set_line
from station.labels.raster import render
from tests.labels.samples import content, widest, widest_filled
from tests.labels.test_identity import content as identity

TEMPLATES = builtin_templates()
GERMAN = {name: replace(template, language="de") for name, template in TEMPLATES.items()}
OTHERS = [language for language in LANGUAGES if language != "en"]


def printed(template: Template, said: LabelContent) -> list[str]:
    """Every line on the label."""
    return [mark.line.text for mark in plan(template, said, 300).marks if isinstance(mark, TextMark)]


def test_a_german_label_says_its_times_in_german() -> None:
    lines = printed(GERMAN["60x40"], content())
    for line in ("ENTNAHME", "Di 24 Nov 2026 14:05", "VERW. AB", "Di 24 Nov 2026 17:36", "VERWENDBAR BIS", "Di 01 Dez"):
        assert line in lines
    assert {"Grenze: Zeit bei RT", "NACH ÖFFNEN", "BLEIFREI Sn-Ag-Cu", "SPITZE", "CHARGE 26-121"} <= set(lines)


def test_a_german_word_is_written_out_where_there_is_room_and_short_where_not() -> None:
    large = printed(GERMAN["60x40"], content(alloy=Alloy.NONE))
    assert {"VERWENDBAR BIS", "GEÖFFNET", "FLUSSMITTEL/KLEBER"} <= set(large)
    assert {"VERW. BIS", "GEÖFFN."} <= set(printed(GERMAN["50x25"], content()))
    assert {"VERW. AB", "SPITZE UNTEN"} <= set(printed(GERMAN["40x20"], content()))


def test_names_numbers_and_the_code_are_the_same_in_every_language() -> None:
    said, german = content(), in_language(content(), "de")
    for name in ("code", "paste", "kind", "container", "last_three", "who", "lot", "discard_clock", "print_number"):
        assert german.values[name] == said.values[name]


def test_lead_is_named_with_its_symbol_in_every_language() -> None:
    for language in LANGUAGES:
        assert "(Pb)" in in_language(content(alloy=Alloy.SN_PB), language).alloy_loud


def test_what_was_filled_here_is_said_in_german_too() -> None:
    said = of_filled(replace(content(), kind="decanted from K7 301 + 1"), Limit.DECANTED, "HW-104-500")
    lines = printed(GERMAN["60x40"], said)
    expected = {"umgefüllt aus K7 301 + 1", "GEFAHRENHINWEISE: HERSTELLERETIKETT DANEBEN", "OFFEN: DECKEL ZU"}
    assert expected <= set(lines)
    assert "GEFAHREN: DANEBEN" in printed(GERMAN["40x20"], said)


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", list(TEMPLATES))
def test_no_word_of_a_built_in_label_is_left_in_english(language: str, name: str) -> None:
    for template in (TEMPLATES[name], identity_template(TEMPLATES[name])):
        texts = [item for item in template.items if isinstance(item, TextItem)]
        written = {text for item in texts for text in (item.text, item.instead)}
        worded = {text for text in written if any(map(str.isalpha, re.sub(r"{\w+}", "", text)))}
        assert worded
        assert {text for text in worded if phrase(text, language) == text} == set()


@pytest.mark.parametrize("language", OTHERS)
def test_the_table_knows_every_day_and_every_value_a_label_can_show(language: str) -> None:
    table = LANGUAGES[language]
    assert set(table.days) == {*WEEKDAYS, *MONTHS}
    assert len(set(table.days.values())) == len(table.days)
    ends = (Limit.SHELF, Limit.ROOM, Limit.OPEN, Limit.DECANTED, Limit.USED_PASTE)
    said = [of_filled(content(alloy=alloy), limit, "") for alloy, limit in product(Alloy, ends)]
    for name in ("alloy_loud", "alloy_plain", "governing", "governing_full", "hazards", "hazards_brief", "tip"):
        for one in said:
            if one.values[name]:
                assert in_language(one, language).values[name] != one.values[name], one.values[name]


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_day_is_wider_or_taller_than_those_templates_are_checked_with(language: str) -> None:
    names = LANGUAGES[language].days
    days = [
        f"{names.get(weekday, weekday)} 00 {names.get(month, month)}" for weekday, month in product(WEEKDAYS, MONTHS)
    ]
    checked = [" ".join(names.get(word, word) for word in day.split()) for day in LANGUAGES[language].check_days]
    for capital in range(10, 60, 7):
        lines = [set_line(day, "bold", capital) for day in days]
        assert max(line.width for line in lines) <= set_line(checked[0], "bold", capital).width + 1
        reach = [set_line(day, "bold", capital) for day in checked]
        assert min(line.top for line in lines) == min(line.top for line in reach)
        assert max(line.bottom for line in lines) == max(line.bottom for line in reach)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", list(TEMPLATES))
@pytest.mark.parametrize("alloy", Alloy)
def test_the_longest_texts_fit_in_every_language(language: str, name: str, alloy: Alloy) -> None:
    template = replace(TEMPLATES[name], language=language)
    said = [make(alloy, day) for make in (widest, widest_filled) for day in LANGUAGES[language].check_days]
    opened = [replace(one, write_in="", opened=one.discard_by) for one in said if not one.hazards]
    assert check_template(template, [*said, *opened]) == ()
    long = replace(identity(alloy, tip_down=True, lot="0" * 30), container="K255-1048575")
    assert check_template(identity_template(template), [long]) == ()


@pytest.mark.parametrize("name", list(TEMPLATES))
def test_a_german_label_is_drawn_and_read_back(name: str) -> None:
    for dpi in (203, 300, 600):
        assert render(GERMAN[name], widest(Alloy.SN_PB), dpi) != render(TEMPLATES[name], widest(Alloy.SN_PB), dpi)


def test_a_site_chooses_the_language_of_a_built_in_label() -> None:
    assert site_template("jars", {"built_in": "60x40", "language": "de"}) == GERMAN["60x40"]
    assert identity_template(GERMAN["40x20"]).language == "de"


def test_what_the_table_does_not_know_stays_as_it_is() -> None:
    odd = replace(content(), kind="own words", governing_full="no such limit")
    assert in_language(odd, "de").kind == "own words"
    assert in_language(odd, "de").governing_full == "no such limit"
    assert phrase("MY OWN WORDS {lot}", "de") == "MY OWN WORDS {lot}"
