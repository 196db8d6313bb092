"""Each kind of fault by itself: one fault, at its line, with its key, its value, the reason and how to mend it."""

from typing import NamedTuple

import pytest

from station.settings import SettingsFault, render
from tests.settings.folders import Folder


class Case(NamedTuple):
    """One edit of a good folder and the fault it makes. Texts in `says` must all stand in the sentence."""

    file: str
    old: str
    new: str
    key: str
    says: tuple[str, ...]
    nearest: str | None = None


SPECIFICATION = "paste[SN-4].specification"
VALUES = [
    Case("pastes.toml", 'open_life = "24 h"', "open_life = 24", f"{SPECIFICATION}.open_life",
         ("= 24:", "a bare figure", '"4 h"', "in quotes")),
    Case("pastes.toml", 'open_life = "24 h"', 'open_life = "24"', f"{SPECIFICATION}.open_life",
         ('= "24"', "a figure without its unit", 'such as "7 d"')),
    Case("pastes.toml", 'open_life = "24 h"', 'open_life = "24 hours"', f"{SPECIFICATION}.open_life",
         ('"hours" is no unit', "d, h, min or s"), "h"),
    Case("pastes.toml", 'open_life = "24 h"', 'open_life = "256 h"', f"{SPECIFICATION}.open_life",
         ('"256 h"', "it is outside 1 h to 10 d 15 h", "Check the figure and its unit")),
    Case("pastes.toml", 'open_life = "24 h"', 'open_life = "90 min"', f"{SPECIFICATION}.open_life",
         ("whole number of steps of 1 h", "Round it")),
    Case("pastes.toml", 'stencil_life = "8 h"', 'stencil_life = "-8 h"', f"{SPECIFICATION}.stencil_life",
         ('"-8 h"', "can't be negative")),
    Case("pastes.toml", 'stencil_life = "8 h"', 'stencil_life = "800 h"', f"{SPECIFICATION}.stencil_life",
         ("outside 15 min to 7 d",)),
    Case("pastes.toml", 'stencil_life = "8 h"', 'stencil_life = "28830 s"', f"{SPECIFICATION}.stencil_life",
         ("whole number of steps of 1 min",)),
    Case("pastes.toml", 'JAR-500 = "3 h"', 'JAR-500 = "69 h"', f"{SPECIFICATION}.conditioning.JAR-500",
         ("outside 5 min to 2 d 20 h 15 min",)),
    Case("pastes.toml", '"37.8 C"', '"100 F"', f"{SPECIFICATION}.arrival_hold_above", ('Write "37.8 C"',)),
    Case("pastes.toml", '"37.8 C"', '"37,8 C"', f"{SPECIFICATION}.arrival_hold_above", ("Use a decimal point",)),
    Case("pastes.toml", 'floor = "19 C"', 'floor = "292 K"', f"{SPECIFICATION}.floor",
         ('"K" is not the unit',), "C"),
    Case("pastes.toml", 'floor = "19 C"', 'floor = "190 C"', f"{SPECIFICATION}.floor", ("outside 5 C to 35 C",)),
    Case("pastes.toml", '"as labelled"', '"6 month 1"', f"{SPECIFICATION}.shelf_life", ('"6 months"',)),
    Case("pastes.toml", '"as labelled"', '"99 months"', f"{SPECIFICATION}.shelf_life", ("1 months to 60 months",)),
    Case("pastes.toml", "cold_cycles = 1", "cold_cycles = 0", f"{SPECIFICATION}.cold_cycles", ("outside 1 to 9",)),
    Case("pastes.toml", "cold_cycles = 1", 'cold_cycles = "1"', f"{SPECIFICATION}.cold_cycles",
         ("no whole number", "without quotes")),
    Case("pastes.toml", "cold_cycles = 1", "cold_cycles = true", f"{SPECIFICATION}.cold_cycles",
         ("= true:", "no whole number")),
    Case("pastes.toml", "counts_as_open = true", 'counts_as_open = "yes"',
         f"{SPECIFICATION}.stencil_time_counts_as_open", ('"yes"', "true or false, without quotes")),
    Case("pastes.toml", "number = 4", "number = 1024", "paste[SN-4].number", ("outside 0 to 1023",)),
    Case("pastes.toml", '"Sn-Ag-Cu"', '"SnAgCu"', "paste[SN-4].alloy",
         ("no such choice", "one of Sn-Ag-Cu, Sn-Pb, Sn-Bi, none"), "Sn-Ag-Cu"),
    Case("pastes.toml", 'title = "SN-4"', 'title = " "', "paste[SN-4].title", ("it is empty",)),
    Case("pastes.toml", 'title = "SN-4"', f'title = "{"x" * 41}"', "paste[SN-4].title", ("longer than 40",)),
    Case("pastes.toml", 'flux_class = "ROL0"', "flux_class = []", "paste[SN-4].flux_class", ("= []", "no text")),
    Case("kinds.toml", '"500 g"', '"0.5 kg"', "kind[JAR-500].net_mass", ('"kg" is not the unit',), "g"),
    Case("kinds.toml", '"45 min"', '"2 d"', "kind[JAR-500].time_constant", ("outside 1 min to 1 d",)),
    Case("kinds.toml", '"estimate"', '"guess"', "kind[JAR-500].figures", ("estimate, measured",)),
    Case("kinds.toml", "tip_down = false", "tip_down = true", "kind[JAR-500].tip_down",
         ("a jar has no tip", "Write false")),
    Case("stores.toml", 'low = "5 C"', 'low = "10 C"', "store[FRIDGE].low", ("not below high, 10 C",)),
    Case("stores.toml", 'low = "5 C"', 'low = "-20 C"', "store[FRIDGE].low", ("outside -2 C to 15 C",)),
    Case("stores.toml", 'for = "leaded"', 'for = "leded"', "store[FRIDGE].bins[B1].for",
         ("lead-free, leaded, hold",), "leaded"),
    Case("stores.toml", "capacity = 50", "capacity = 0", "store[FRIDGE].bins[A1].capacity",
         ("outside 1 to 1000",)),
    Case("stores.toml", ', for = "hold" }', ', for = "lead-free" }', "store[FRIDGE].bins",
         ("[A1, B1, H1]", "no hold bin", 'exactly one bin for = "hold"')),
    Case("stores.toml", 'capacity = 50, for = "lead-free" }',
         'capacity = 50, for = "lead-free" }, {id = "H2", capacity = 1, for = "hold"}',
         "store[FRIDGE].bins", ("[H2, H1]", "2 hold bins")),
    Case("places.toml", '"fridge door"', '"fridge"', "place[FRIDGE].kind", ("no such choice",), "fridge door"),
    Case("places.toml", 'title = "Shift desk"', 'title = "Shift desk"\nstore = "FRIDGE"', "place[DESK].store",
         ("only a fridge door serves a store", "Take it out")),
    Case("places.toml", 'title = "Shift desk"', 'title = "Shift desk"\npositions = ["1"]', "place[DESK].positions",
         ("only a printer or a dispenser", "Take it out")),
    Case("places.toml", 'positions = ["1"]', "positions = []", "line[LINE1].positions", ("the list is empty",)),
    Case("shifts.toml", '"06:00"', '"6:00"', "shift[Day].starts", ('"6:00"', "no time of day", '"23:59"')),
    Case("shifts.toml", '"SU"]', '"SO"]', "shift[Day].days", ("MO, TU, WE",), "SU"),
    Case("shifts.toml", '"SU"]', '"MO"]', "shift[Day].days", ("stands in it twice",)),
    Case("shifts.toml", '["MO", "TU", "WE", "TH", "FR", "SA", "SU"]', '"MO"', "shift[Day].days", ("no list",)),
    Case("people.toml", '"operator"', '"lead"', "person[P12].roles", ("operator, shift lead",), "shift lead"),
    Case("labels.toml", 'built_in = "60x40"', 'built_in = "60x45"', "template.60x40.built_in",
         ("no such choice",), "60x40"),
    Case("site.toml", '"Europe/Berlin"', '"Europe/Berlinn"', "zone",
         ('"Europe/Berlinn"', "no such time zone"), "Europe/Berlin"),
    Case("site.toml", "station = 7", "station = 256", "station", ("outside 1 to 255",)),
    Case("site.toml", 'best_choice = "off"', 'best_choice = "of"', "handling.best_choice",
         ("warn, block, off",), "off"),
    Case("site.toml", 'bounce = "3 s"', 'bounce = "3 min"', "handling.bounce", ("outside 0 min to 30 s",)),
    Case("site.toml", 'humidity = "40 %"', 'humidity = "40"', "room_air.humidity", ("without its unit", "unit %")),
    Case("site.toml", 'humidity = "40 %"', 'humidity = "92 %"', "room_air.humidity", ("2 K above the dew point",)),
    Case("site.toml", 'at_least = "30 min"', 'at_least = "25 h"', "near.every.at_least", ("more than at_most",)),
    Case("site.toml", 'share = "20 %"', 'share = "0.2"', "near.every.share", ("without its unit",)),
    Case("site.toml", "[work_order]", 'open = "2 h"\n[work_order]', "near.open",
         ("already holds for all limits",)),
    Case("site.toml", "(?P<order>", "(?P<order>(", "work_order.pattern",
         ("no regular expression", "order and product")),
    Case("site.toml", "?P<product>", "?P<produkt>", "work_order.pattern", ("named group product is missing",)),
    Case("site.toml", '"WO3-POWER"', '"WO3 POWER"', "work_order.example", ("does not fit it",)),
    Case("site.toml", '"WO3-POWER"', '"WO3-A"', "work_order.example", ("told from typing",)),
    Case("site.toml", "dpi = 203", "dpi = 200", "label.dpi", ("= 200", "203, 300 or 600"), "203"),
    Case("site.toml", "dpi = 203", 'dpi = 203\nqueue = "line/1"', "label.queue",
         ("a queue name has no / or #", "as lpstat -e lists it")),
    Case("site.toml", "dpi = 203", 'dpi = 203\nqueue = "-d"', "label.queue", ("does not begin with -",)),
    Case("site.toml", "dpi = 203", 'dpi = 203\nqueue = ""', "label.queue", ("it is empty",)),
    Case("site.toml", "dpi = 203", 'taken_back_after = "2 s"\nqueue = "labels"\ndpi = 203', "label.taken_back_after",
         ("outside 10 s to 1 h",)),
    Case("site.toml", "dpi = 203", 'dpi = 203\ntaken_back_after = "2 min"', "label.taken_back_after",
         ("it counts only with a printer queue", "Add queue, or take this out")),
]  # fmt: skip
NAMES = [
    Case("products.toml", 'pastes = ["SN-4"]', 'pastes = ["SN-5"]', "product[CTRL].pastes",
         ('["SN-5"]', 'no paste "SN-5"', "Use one of SN-4, PB-1"), "SN-4"),
    Case("places.toml", 'store = "FRIDGE"', 'store = "FRIDGES"', "place[FRIDGE].store",
         ('no store "FRIDGES"',), "FRIDGE"),
    Case("places.toml", 'title = "Line 2"\npositions = ["2"]', 'title = "Line 2"\npositions = ["22"]',
         "place[LINE2].positions", ('no stencil position "22"', "1, 2, "), "2"),
    Case("site.toml", 'place = "FRIDGE"', 'place = "FRIGDE"', "home.place", ('no place "FRIGDE"',), "FRIDGE"),
    Case("site.toml", 'template = "60x40"', 'template = "60x45"', "label.template",
         ("no label template",), "60x40"),
    Case("site.toml", '"WO3-POWER"', '"WO3-POWR"', "work_order.example", ('no product "POWR"',), "POWER"),
    Case("pastes.toml", 'approved_by = "P30"', 'approved_by = "P20"', f"{SPECIFICATION}.approved_by",
         ('no process engineer "P20"', "Use one of P30"), "P30"),
    Case("pastes.toml", 'page = "1"\n', "", f"{SPECIFICATION}.page",
         ("approved_by is given, but not what was approved", "Add the edition and page")),
    Case("people.toml", '"shift lead"]', '"process engineer"]', "person[P12].roles",
         ('nobody is "shift lead"', "no alarm could be cleared")),
]  # fmt: skip


def check(case: Case, folder: Folder) -> SettingsFault:
    """The one fault of this case, with everything a person needs to mend it."""
    line_edited = (folder.path / case.file).read_text(encoding="utf-8").split(case.old)[0].count("\n") + 1
    fault = folder.edit(case.file, case.old, case.new).only_fault()
    assert fault.key == case.key
    assert fault.nearest == case.nearest
    assert fault.sentence.startswith(f"{case.file}, line ")
    assert case.key in fault.sentence
    assert fault.remedy in fault.sentence
    for text in case.says:
        assert text in fault.sentence
    if case.nearest:
        assert f'Did you mean "{case.nearest}"?' in fault.sentence
    assert fault.line is not None
    assert case.key.endswith(("bins", ".page", ".roles")) or fault.line - line_edited in (0, 1)
    return fault


@pytest.mark.parametrize("case", VALUES, ids=lambda case: f"{case.key} {case.new[:30]}")
def test_value_that_can_not_be(plant_t: Folder, case: Case) -> None:
    check(case, plant_t)


@pytest.mark.parametrize("case", NAMES, ids=lambda case: f"{case.key} {case.new[:30]}")
def test_name_that_nothing_answers_to(plant_t: Folder, case: Case) -> None:
    check(case, plant_t)


LIMITS = [
    'to_cold = "4 h"', 'arrival_warn_above = "25 C"', 'arrival_hold_above = "37.8 C"',
    'arrival_hold_below = "0 C"',
    'shelf_life = "as labelled"', 'floor = "19 C"', 'room_life = "7 d"', 'open_life = "24 h"',
    'stencil_life = "8 h"',
    'pause_knead = "30 min"', 'pause_replace = "60 min"', "cold_cycles = 1", 'open_extension = "12 h"',
    'room_extension = "0 h"', "stencil_time_counts_as_open = true", 'JAR-500 = "3 h"',
]  # fmt: skip


@pytest.mark.parametrize("limit", LIMITS)
def test_a_missing_limit_is_a_fault_and_never_a_default(plant_t: Folder, limit: str) -> None:
    fault = plant_t.edit("pastes.toml", f"{limit}\n", "").only_fault()
    key = limit.partition(" = ")[0]
    assert fault.key.endswith(f".{key}")
    assert (fault.value, fault.reason) == ("", "it is missing")
    assert "Add it: " in fault.sentence
    table = (plant_t.path / "pastes.toml").read_text().splitlines()[(fault.line or 0) - 1]
    assert table.startswith("[paste.specification")


@pytest.mark.parametrize("key", ["to_cold", "shelf", "room", "open", "stencil", "pause"])
def test_every_limit_needs_its_near_prompt(demo: Folder, key: str) -> None:
    lines = (demo.path / "site.toml").read_text().splitlines(keepends=True)
    (written,) = [line for line in lines if line.startswith(f"{key} = ")]
    assert demo.edit("site.toml", written, "").only_fault().key == f"near.{key}"


def test_a_kind_the_paste_is_bought_in_needs_its_conditioning_time(demo: Folder) -> None:
    demo.edit("pastes.toml", '"JAR-500-BOXED", "CARTRIDGE-600"]', '"JAR-500-BOXED", "CARTRIDGE-600", "SYRINGE-35"]')
    fault = demo.only_fault()
    assert fault.key == "paste[SN-4].specification.conditioning.SYRINGE-35"
    assert fault.reason == "it is missing"


def test_a_conditioning_time_of_a_kind_it_is_not_bought_in_is_a_fault(demo: Folder) -> None:
    fault = demo.edit("pastes.toml", 'JAR-500-BOXED = "10 h"', 'JAR-500-BOXED = "10 h"\nJAR-250 = "3 h"').only_fault()
    assert (fault.key, fault.reason) == (
        "paste[SN-4].specification.conditioning.JAR-250",
        "no setting has this name",
    )


@pytest.mark.parametrize(
    "limit",
    ['to_cold = "4 h"', 'room_life = "7 d"', "cold_cycles = 1", 'room_extension = "0 h"', "conditioning = {}"],
)
def test_limits_that_would_never_run_for_a_paste_never_kept_cold_are_refused(demo: Folder, limit: str) -> None:
    text = (demo.path / "pastes.toml").read_text(encoding="utf-8")
    (demo.path / "pastes.toml").write_text(f"{text}{limit}\n", encoding="utf-8")
    fault = demo.only_fault()
    assert fault.key == f"paste[RT-3].specification.{limit.partition(' = ')[0]}"
    assert "never goes into the cold" in fault.sentence


def test_a_misspelt_key_is_named_with_the_one_that_was_meant(plant_t: Folder) -> None:
    missing, unknown = plant_t.edit("pastes.toml", "stencil_life", "stencil_lief").faults()
    assert (missing.key, missing.reason) == (f"{SPECIFICATION}.stencil_life", "it is missing")
    assert (unknown.key, unknown.nearest) == (f"{SPECIFICATION}.stencil_lief", "stencil_life")
    assert "Correct the name or take it out" in unknown.sentence


@pytest.mark.parametrize(
    "file", ["site", "places", "stores", "kinds", "pastes", "products", "people", "shifts", "labels"]
)
def test_no_file_lets_an_unknown_key_or_table_pass(plant_t: Folder, file: str) -> None:
    path = plant_t.path / f"{file}.toml"
    path.write_text("quirk = 1\n" + path.read_text(encoding="utf-8") + "\n[oddity]\nx = 1\n", encoding="utf-8")
    assert [fault.key for fault in plant_t.faults()] == ["quirk", "oddity"]


def test_a_missing_table_is_one_fault_and_not_one_for_each_key(plant_t: Folder) -> None:
    plant_t.edit("site.toml", '[room_air]\ntemperature = "23 C"\nhumidity = "40 %"\n', "")
    fault = plant_t.only_fault()
    assert (fault.key, fault.remedy) == ("room_air", "Write a table [room_air]")


def test_a_table_written_as_something_else(plant_t: Folder) -> None:
    plant_t.edit("labels.toml", '[template."60x40"]\nbuilt_in = "60x40"', 'template = "60x40"')
    first = plant_t.faults()[-1]
    assert (first.file, first.key, first.reason) == ("labels.toml", "template", "this is no table")


@pytest.mark.parametrize("written", ["", "person = 3", "person = [1]", 'person = "P12"'])
def test_a_list_of_tables_that_is_none(plant_t: Folder, written: str) -> None:
    (plant_t.path / "people.toml").write_text(f"# nobody\n{written}\n", encoding="utf-8")
    fault = next(fault for fault in plant_t.faults() if fault.file == "people.toml")
    assert (fault.key, fault.remedy) == ("person", "Write at least one table [[person]]")


def test_a_label_of_the_sites_own_is_checked_by_the_layout(plant_t: Folder) -> None:
    plant_t.edit("labels.toml", 'built_in = "60x40"', "width_mm = 60\nheight_mm = 4")
    keys = {(fault.file, fault.key) for fault in plant_t.faults()}
    assert keys == {("labels.toml", "template.60x40")}
    assert any("height_mm must be a number of millimetres" in fault.sentence for fault in plant_t.faults())


def test_a_site_needs_a_label_template(plant_t: Folder) -> None:
    plant_t.edit("labels.toml", '[template."60x40"]\nbuilt_in = "60x40"', "[template]")
    first, second = plant_t.faults()
    assert (first.key, first.reason) == ("label.template", 'there is no label template "60x40"')
    assert first.remedy == "Add it: none is set up yet"
    assert (second.key, second.reason) == ("template", "at least one is needed")


def test_ids_are_capitals_because_printed_codes_know_no_others(plant_t: Folder) -> None:
    fault = plant_t.edit("people.toml", 'id = "P12"', 'id = "p 12"').only_fault()
    assert (fault.key, fault.value, fault.nearest) == ("person[p 12].id", '"p 12"', "P-12")


def test_a_shift_lead_without_a_pin_can_not_prove_it(plant_t: Folder) -> None:
    text = (plant_t.path / "people.toml").read_text(encoding="utf-8")
    pin = next(line for line in text.splitlines() if line.startswith("pin"))
    fault = plant_t.edit("people.toml", f"{pin}\n", "").only_fault()
    assert (fault.key, fault.reason) == ("person[P20].pin", "it is missing")


@pytest.mark.parametrize(
    ("pin", "reason"),
    [
        ('"8350"', "a PIN in plain digits is for demos only"),
        ('"$argon2id$v=19$m=8"', "this is no argon2id hash"),
        ('"$argon2i$v=19$m=8,t=1,p=1$c29tZXNhbHQ$bm9uZXNlbnNl"', "this is no argon2id hash"),
        ('"secret"', "this is no argon2id hash"),
        ("8350", "this is no text"),
    ],
)
def test_a_pin_outside_a_demo_is_a_hash_and_is_never_shown(plant_t: Folder, pin: str, reason: str) -> None:
    plant_t.edit("people.toml", 'name = "Robin Alder"', f'name = "Robin Alder"\npin = {pin}')
    fault = plant_t.only_fault()
    assert (fault.key, fault.value, fault.reason) == ("person[P12].pin", "(not shown)", reason)
    assert pin.strip('"') not in fault.sentence


def test_the_lines_for_a_terminal_count_the_faults_and_say_nothing_was_started(plant_t: Folder) -> None:
    faults = plant_t.edit("site.toml", "station = 7", "station = 0").faults()
    first, second, last = render(faults, plant_t.path)
    assert first == f"The settings in {plant_t.path} have 1 fault:"
    assert second == ("  site.toml, line 4: station = 0: it is outside 1 to 255. Check the figure and its unit.")
    assert last.startswith("Nothing was started.")
    assert render(faults * 2, plant_t.path)[0].endswith("have 2 faults:")
