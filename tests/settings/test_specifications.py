"""Specifications as files: written and read back exactly, sources of single figures, and a pastes.toml as drafts."""

import tomllib
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from station.care.spec_drafts import DraftTold
from station.care.specification import FigureSource, MakerCode
from station.care.words import Alloy
from station.services import specifications as acts
from station.services.site import Site
from station.settings import SettingsFault, SettingsRefused, load
from station.settings.quantities import duration
from station.settings.specification_labels import draft_label_faults
from station.settings.specification_text import (
    fault_key,
    read_draft,
    read_specifications,
    table_of,
    write_specifications,
)
from station.settings.specification_toml import duration_text, paste_table, toml_text
from tests.care.bench import Bench, site_f, site_t, with_limits
from tests.care.engineering import approved, content, new_paste
from tests.care.leading import ENGINEER_PROOF
from tests.settings.folders import DEMO, Folder

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
PLANTS = Path(__file__).parents[1]
SOURCES = (
    FigureSource("open_life", 'letter "A\\7", 3 March', "1", "for rooms below 25 C"),
    FigureSource("conditioning.JAR-500", "SN-4 sheet, edition 8", "6"),
)


# ---------------------------------------------------------------------- two people


def test_a_site_may_ask_for_two_people_and_one_that_is_silent_does_not(plant_t: Folder) -> None:
    assert load(plant_t.path).plant.rules.two_person is False
    assert load(plant_t.edit("site.toml", "two_person = false", "two_person = true").path).plant.rules.two_person
    text = (plant_t.path / "site.toml").read_text(encoding="utf-8")
    before, _, after = text.partition("[specifications]\ntwo_person = true\n")
    (plant_t.path / "site.toml").write_text(before + after, encoding="utf-8")
    assert load(plant_t.path).plant.rules.two_person is False


@pytest.mark.parametrize(
    ("written", "key", "reason"),
    [
        ('two_person = "yes"', "specifications.two_person", "neither true nor false"),
        ("", "specifications.two_person", "it is missing"),
        ("two_person = true\ntwo_persons = true", "specifications.two_persons", "no setting has this name"),
    ],
)
def test_a_slip_in_the_table_is_one_fault(plant_t: Folder, written: str, key: str, reason: str) -> None:
    fault = plant_t.edit("site.toml", "two_person = false", written).only_fault()
    assert fault.key == key
    assert reason in fault.reason


# ---------------------------------------------------------------------- out and in again


@pytest.mark.parametrize("folder", [DEMO, PLANTS / "plant_t", PLANTS / "plant_d", PLANTS / "plant_f"])
def test_what_is_in_force_is_written_so_that_the_settings_read_the_very_same(folder: Path, tmp_path: Path) -> None:
    bench, copy = Bench(load(folder)), Folder(tmp_path / "copy", folder)
    (copy.path / "pastes.toml").write_text(write_specifications(bench.floor), encoding="utf-8")
    again = load(copy.path)
    assert again.specifications == bench.site.specifications
    assert again.plant.pastes == bench.site.plant.pastes


def test_what_the_desk_added_is_written_too_and_read_back_with_every_source(plant_t: Folder) -> None:
    bench = Bench(load(plant_t.path))
    approved(bench, open_life=20 * HOUR, sources=SOURCES, arrival_warn_above_c=25.3125)
    paste = replace(
        new_paste(),
        title='Fine "9"',
        incoming_test=True,
        least_shelf_months=3,
        minimum_stock=2,
        price_per_kg=90,
        maker_codes=(MakerCode("HW-9", "JAR-500"),),
    )
    acts.write_drafts(
        bench.station, [DraftTold(content(bench, paste="SN-9", used_paste_life=None), paste)], ENGINEER_PROOF
    )
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[0].key, ENGINEER_PROOF)
    (plant_t.path / "pastes.toml").write_text(write_specifications(bench.floor), encoding="utf-8")
    again = load(plant_t.path)
    assert again.specifications == tuple(bench.limits(name) for name in ("SN-4", "PB-1", "SN-9"))
    assert again.plant.pastes["SN-9"] == paste
    assert again.specifications[0].source_of("open_life") == SOURCES[0]


def test_one_paste_may_be_written_alone() -> None:
    bench = Bench(site_f())
    (paste,) = tomllib.loads(write_specifications(bench.floor, ["FZ-7"], "Plant F", 8))["paste"]
    assert (paste["id"], paste["specification"]["thaw_at_most"]) == ("FZ-7", "2 d")
    assert "# The pastes" in write_specifications(bench.floor, ["FZ-7"])


@pytest.mark.parametrize(
    ("span", "text"),
    [
        (0 * HOUR, "0 h"),
        (24 * HOUR, "24 h"),
        (47 * HOUR + 59 * MINUTE, "47 h 59 min"),
        (48 * HOUR, "2 d"),
        (7 * 24 * HOUR + 30 * MINUTE, "7 d 30 min"),
        (90 * MINUTE, "1 h 30 min"),
    ],
)
def test_a_length_of_time_is_written_as_a_data_sheet_says_it(span: timedelta, text: str) -> None:
    assert (duration_text(span), duration(text)) == (text, span)


# ---------------------------------------------------------------------- sources of single figures


@pytest.mark.parametrize(
    ("written", "key", "reason"),
    [
        ('opem_life = { data_sheet = "a", page = "1" }', "opem_life", "no figure has this name"),
        ('open_life = { data_sheet = "a" }', "open_life.page", "it is missing"),
        ('open_life = { data_sheet = "a", page = "1", why = "b" }', "open_life.why", "no setting has this name"),
        ('open_life = "page 3"', "open_life", "this is no table"),
    ],
)
def test_a_slip_in_a_source_is_one_fault(plant_t: Folder, written: str, key: str, reason: str) -> None:
    table = f"[paste.specification.sources]\n{written}\n\n[paste.specification.conditioning]"
    fault = plant_t.edit("pastes.toml", "[paste.specification.conditioning]", table).only_fault()
    assert fault.key == f"paste[SN-4].specification.sources.{key}"
    assert reason in fault.reason


# ---------------------------------------------------------------------- drafts out of a file


def exported(bench: Bench) -> str:
    return write_specifications(bench.floor)


def test_a_file_becomes_drafts_of_what_it_changes_and_says_what_it_does_not() -> None:
    bench = Bench()
    text = exported(bench).replace('open_life = "24 h"', 'open_life = "20 h"', 1).replace('"PB-1"', '"PB-1"')
    read = read_specifications(text, bench.floor)
    assert (read.unchanged, read.notes, read.faults) == (("PB-1",), (), ())
    (draft,) = read.drafts
    assert (draft.paste, draft.specification.paste, draft.specification.open_life) == (None, "SN-4", 20 * HOUR)
    acts.write_drafts(bench.station, read.drafts, ENGINEER_PROOF, "pastes.toml")
    acts.approve_draft(bench.station, bench.station.ledger.rulebook.drafts[0].key, ENGINEER_PROOF)
    assert bench.limits().open_life == 20 * HOUR


def test_a_paste_nobody_knows_comes_with_its_own_entry() -> None:
    bench = Bench()
    paste = paste_table(new_paste(), bench.limits())
    (draft,) = read_specifications(toml_text([paste]).encode(), bench.floor).drafts
    assert draft.paste == new_paste()


def test_what_a_draft_does_not_carry_is_noted() -> None:
    bench = Bench()
    text = (
        exported(bench).replace('title = "SN-4"', 'title = "Other"').replace('part_number = "T-4"', 'part_number = "X"')
    )
    assert read_specifications(text, bench.floor).notes == (
        "SN-4: title, part_number stay as they are here; a draft carries limits only.",
    )


def test_every_fault_of_a_file_is_listed_with_its_line_and_no_draft_comes_of_it() -> None:
    bench = Bench()
    text = (
        exported(bench)
        .replace('alloy = "Sn-Ag-Cu"', 'alloy = "Sn-Pb"', 1)
        .replace('stencil_life = "8 h"', 'stencil_life = "8 hours"', 1)
        .replace('bought_in = ["JAR-500"]', 'bought_in = ["JAR-555"]', 1)
        .replace("[paste.specification.conditioning]\nJAR-500", "[paste.specification.conditioning]\nJAR-555", 1)
        .replace("number = 1\n", "number = 4\n", 1)
    )
    read = read_specifications(text, bench.floor, "mine.toml")
    keys = [fault.key for fault in read.faults]
    assert "paste[SN-4].alloy" in keys
    assert "paste[SN-4].specification.stencil_life" in keys
    assert "paste[SN-4].bought_in" in keys
    assert {fault.file for fault in read.faults} == {"mine.toml"}
    lines = [fault.line for fault in read.faults]
    assert lines == sorted(lines, key=lambda line: line or 0)
    assert (read.drafts, read.unchanged) == ((), ())


def test_what_the_rules_refuse_is_a_fault_of_its_paste() -> None:
    bench = Bench()
    text = exported(bench).replace('floor = "19 C"', 'floor = "24 C"', 1)
    (fault,) = read_specifications(text, bench.floor).faults
    assert (fault.key, fault.line) == ("paste[SN-4]", text[: text.index("[[paste]]")].count("\n") + 1)
    assert "The site's room air of 23 °C is colder than 24 °C" in fault.sentence


@pytest.mark.parametrize(("text", "reason"), [("", "empty"), ("[[paste", "not TOML"), (b"\xff\xfe", "not UTF-8")])
def test_what_is_no_file_of_pastes_is_one_fault(text: str | bytes, reason: str) -> None:
    (fault,) = read_specifications(text, Bench().floor).faults
    assert reason in fault.reason


# ---------------------------------------------------------------------- drafts out of a form


def test_a_form_begins_with_what_is_in_force_and_ends_as_a_draft() -> None:
    bench = Bench()
    table = table_of(bench.floor, bench.plant.pastes["SN-4"])
    limits = table["specification"]
    assert isinstance(limits, dict)
    limits["open_life"] = "20 h"
    del limits["version"]
    told = read_draft(table, bench.floor, "letter", "")
    assert (told.specification.open_life, told.explanation, told.paste) == (20 * HOUR, "letter", None)
    assert told.specification.approved_by is None


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("open_life", "300 h", "open_life"),
        ("conditioning", {"JAR-500": "1 min"}, "conditioning.JAR-500"),
        ("sources", {"open_life": {"data_sheet": "a"}}, "sources.open_life.page"),
        ("mixings", True, "mixings"),
        ("floor", 19.5, "floor"),
    ],
)
def test_a_fault_of_a_form_names_its_figure(key: str, value: object, told: str) -> None:
    bench = Bench()
    table = table_of(bench.floor, bench.plant.pastes["SN-4"])
    table["specification"] = {**dict(table["specification"]), key: value}  # type: ignore[call-overload]
    with pytest.raises(SettingsRefused) as refused:
        read_draft(table, bench.floor)
    assert [fault_key(fault) for fault in refused.value.faults] == [told]


def test_a_form_in_which_nothing_changed_or_nothing_was_filled_in_is_refused() -> None:
    bench = Bench()
    table = table_of(bench.floor, bench.plant.pastes["SN-4"])
    with pytest.raises(SettingsRefused, match="figures in force"):
        read_draft(table, bench.floor)
    with pytest.raises(SettingsRefused, match="specification"):
        read_draft({"id": "SN-4"}, bench.floor)


def test_the_metal_of_a_paste_can_not_be_changed_by_a_form() -> None:
    bench = Bench()
    table = {**table_of(bench.floor, bench.plant.pastes["SN-4"]), "alloy": Alloy.SN_PB.value}
    with pytest.raises(SettingsRefused) as refused:
        read_draft(table, bench.floor)
    assert [fault_key(fault) for fault in refused.value.faults] == ["alloy"]
    assert site_t().plant.pastes["SN-4"].alloy is Alloy.SN_AG_CU


# ---------------------------------------------------------------------- labels


def test_a_paste_whose_name_has_no_room_on_a_label_is_told_before_anybody_prints_it() -> None:
    bench = Bench()
    fits, long = new_paste(), replace(new_paste(name="W" * 16), number=78)
    drafts = [DraftTold(content(bench, paste=paste.id), paste) for paste in (fits, long)]
    assert draft_label_faults(bench.site, bench.floor, drafts[:1]) == ()
    faults = draft_label_faults(bench.site, bench.floor, drafts)
    assert faults
    assert all("W" * 16 in fault.sentence or "{paste}" in fault.sentence for fault in faults)


def test_a_draft_that_changes_no_text_of_a_label_lays_none_out(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench()
    monkeypatch.setattr("station.settings.specification_labels.label_faults", lambda _site: pytest.fail("laid out"))
    assert draft_label_faults(bench.site, bench.floor, [DraftTold(content(bench, open_life=20 * HOUR))]) == ()


def test_labels_are_laid_out_again_where_paste_may_be_kept_that_was_not(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(with_limits(site_t(), "SN-4", used_paste_life=None))
    laid_out: list[Site] = []

    def lay_out(site: Site) -> tuple[SettingsFault, ...]:
        laid_out.append(site)
        return ()

    monkeypatch.setattr("station.settings.specification_labels.label_faults", lay_out)
    draft_label_faults(bench.site, bench.floor, [DraftTold(content(bench, used_paste_life=8 * HOUR))])
    assert [site.specifications[-1].used_paste_life for site in laid_out][-1] == 8 * HOUR
