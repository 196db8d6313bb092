"""Specifications and paste lists at the desk: what a person finds there, and what is on record after it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from station.care.specification_change import same_figures
from station.care.words import Card
from station.labels.plaincodes import TagKind, badge_text, card_text, tag_text
from station.scanning.heard import HeardScan
from station.settings.specification_text import read_specifications, write_specifications
from station.ui.desk_work import DeskWork
from station.ui.specs.desk import Desk
from station.ui.specs.edit_form import EditForm
from station.ui.specs.file_flow import FileFlow
from station.ui.specs.file_forms import FileForm
from station.ui.specs.list_form import PER_PAGE, ListForm
from station.ui.specs.paste_form import PasteForm
from station.ui.specs.paste_list_form import PasteListForm
from station.ui.specs.preview_form import PreviewForm
from station.ui.specs.proof_forms import EngineerForm
from station.ui.specs.read_form import ReadForm
from station.ui.specs.source_form import SourceForm
from station.ui.window import StationWindow
from tests.care.bench import Bench, site_t, with_rules
from tests.care.engineering import approved, drafted, second_engineer
from tests.ui.specs.samples import many_rows

Form = TypeVar("Form", bound=QWidget)
OpenDesk = Callable[[Bench], StationWindow]


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def desk_of(qtbot: QtBot) -> Iterator[OpenDesk]:
    shown: list[StationWindow] = []

    def open_desk(bench: Bench) -> StationWindow:
        window = StationWindow(DeskWork(bench.station), None)
        qtbot.addWidget(window)
        window.resize(1024, 768)
        window.show()
        shown.append(window)
        return window

    yield open_desk
    for window in shown:
        window.close()


def the(window: StationWindow, kind: type[Form]) -> Form:
    found = [form for form in window.findChildren(kind) if form.isVisible()]
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def words(form: QWidget) -> str:
    return " ".join(part.text() for part in form.findChildren(QLabel) if part.isVisible())


def prove(window: StationWindow, pin: str = "3030", badge: str = "P30", reason: str = "edition 8") -> EngineerForm:
    form = the(window, EngineerForm)
    form.badge.fill(badge)
    form.pin.fill(pin)
    form.reason.fill(reason)
    form.hand_in.click()
    return form


def typed_anew(window: StationWindow, **figures: str) -> EditForm:
    """A new version of SN-4 as somebody types it, with its sheet."""
    window.act("spec-version:SN-4")
    form = the(window, EditForm)
    form.sheet["data_sheet"].fill("SN-4 sheet, edition 8")
    form.sheet["page"].fill("5")
    for key, text in figures.items():
        form.fields[key].fill(text)
        form.fields[key].written.emit()
    return form


def many(bench: Bench) -> int:
    """How many facts are on record."""
    return sum(1 for _ in bench.station.ledger.facts())


# ---------------------------------------------------------------------- reading


def test_everybody_reads_every_figure_with_range_and_source(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("specifications:")
    listed = the(desk, ListForm)
    assert "process engineer" in words(listed)
    next(button for button in listed.buttons if button.action_model.id == "specification:SN-4").click()
    told = words(the(desk, ReadForm))
    assert "Open life" in told
    assert "1 h to 255 h, in whole hours" in told
    assert "page" in told
    assert "kept cold" in told


def test_a_list_of_two_hundred_is_shown_by_pages_and_found_by_a_part_of_a_name(qtbot: QtBot) -> None:
    host = QWidget()
    qtbot.addWidget(host)
    host.resize(1024, 768)
    host.show()
    form = ListForm("Specifications", many_rows(200), host)
    form.open()
    assert len(form.buttons) == PER_PAGE
    assert "1 to 10 of 200" in form.told.text()
    form.further.click()
    assert form.shown[0] == "specification:SN-11"
    form.wanted.fill("leaded 99")
    assert form.shown == ("specification:SN-99",)
    form.wanted.fill("nothing like it")
    assert "Nothing among the 200 matches" in form.told.text()


# ---------------------------------------------------------------------- writing


def test_a_version_is_written_looked_at_and_approved(bench: Bench, desk_of: OpenDesk) -> None:
    before = bench.limits("SN-4")
    desk = desk_of(bench)
    form = typed_anew(desk, open_life="20 h", stencil_life="6 h")
    form.hand_in.click()
    assert "tighter" in words(the(desk, EngineerForm))
    prove(desk)
    assert bench.limits("SN-4") == before, "a draft is not in force"
    preview = the(desk, PreviewForm)
    assert [row[:3] for row in preview.shown.figures] == [
        ("Open life", "24 h", "20 h"),
        ("Stencil life", "8 h", "6 h"),
    ]
    preview.hand_in.click()
    prove(desk)
    now = bench.limits("SN-4")
    assert (now.open_life, now.approved_by, now.version) == (timedelta(hours=20), "P30", before.version + 1)
    assert not desk.dialogs.busy


def test_the_cursor_is_in_the_badge_until_a_process_engineer_is_badged_in(bench: Bench, desk_of: OpenDesk) -> None:
    bench.badge("P20", "DESK")
    desk = desk_of(bench)
    typed_anew(desk, open_life="20 h").hand_in.click()
    form = the(desk, EngineerForm)
    assert form.badge.text == ""
    assert form.badge.line.hasFocus() or desk.focusWidget() is form.badge.line


def test_the_page_of_the_data_sheet_says_what_the_approval_needs(bench: Bench, desk_of: OpenDesk) -> None:
    form = typed_anew(desk_of(bench))
    for key in ("data_sheet", "page"):
        kept = form.sheet[key].text
        form.sheet[key].fill(" ")
        form.sheet[key].line.editingFinished.emit()
        assert form.pages.buttons[0].action_model.hint == "needed for approval"
        form.sheet[key].fill(kept)
        form.sheet[key].line.editingFinished.emit()
        assert form.pages.buttons[0].action_model.hint == "all right"


def test_another_data_sheet_is_listed_before_it_is_written_and_approved(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    typed_anew(desk, open_life="20 h").hand_in.click()
    assert "SN-4 sheet, edition 8, page 5" in words(the(desk, EngineerForm))
    prove(desk)
    assert "By SN-4 sheet, edition 8, page 5; until now " in words(the(desk, PreviewForm))


def test_a_wrong_pin_or_a_lead_records_nothing_and_loses_nothing(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    edit = typed_anew(desk, open_life="20 h")
    edit.hand_in.click()
    for badge, pin in (("P30", "9999"), ("P20", "2020")):
        form = prove(desk, pin=pin, badge=badge)
        assert form.isVisible()
        assert form.sentence.text()
    assert not bench.station.ledger.rulebook.drafts
    form.leave()
    assert edit.fields["open_life"].text == "20 h"


def test_a_wrong_figure_is_said_beside_it_and_stops_the_way_on(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    form = typed_anew(desk, stencil_life="60 d", open_life="20 h")
    assert "outside 15 min to 7 d" in form.fields["stencil_life"].complaint.text()
    form.hand_in.click()
    assert form.fields["stencil_life"].isVisible(), "its page is turned to"
    assert "One thing is to be mended" in form.sentence.text()
    assert form.fields["open_life"].text == "20 h"
    assert not [found for found in desk.findChildren(EngineerForm) if found.isVisible()]


def test_leaving_asks_once_and_only_where_something_would_be_lost(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("spec-version:SN-4")
    QTest.keyClick(the(desk, EditForm), Qt.Key.Key_Escape)
    assert not desk.dialogs.busy
    form = typed_anew(desk, open_life="20 h")
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert "would be lost" in form.sentence.text()
    form.fields["open_life"].fill("21 h")
    assert "would be lost" not in form.sentence.text(), "typing on answers it"
    QTest.keyClick(form, Qt.Key.Key_Escape)
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert not desk.dialogs.busy
    assert not bench.station.ledger.rulebook.drafts


def test_not_allowed_is_touched_and_stands_in_the_field(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    form = typed_anew(desk)
    field = form.fields["decanted_life"]
    field.fill("8 h")
    field.words[0].click()
    assert field.text == "not allowed"
    assert form.typed.complaint("decanted_life") == ""


def test_a_second_cold_cycle_asks_for_the_time_before_it(bench: Bench, desk_of: OpenDesk) -> None:
    form = typed_anew(desk_of(bench), open_life="20 h")
    assert "return_within" not in form.fields
    form.fields["cold_cycles"].fill("2")
    assert "return_within" in form.fields
    assert form.fields["open_life"].text == "20 h"


def test_a_figure_may_come_from_another_page(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    form = typed_anew(desk, open_life="20 h")
    form.fields["open_life"].source.click()
    source = the(desk, SourceForm)
    assert source.on_page.text == "5"
    source.on_page.fill("7")
    source.hand_in.click()
    assert "page 7" in form.fields["open_life"].remark.text()
    form.hand_in.click()
    prove(desk)
    draft = bench.station.ledger.rulebook.drafts[0]
    assert draft.specification.source_of("open_life").page == "7"
    assert draft.explanation == "edition 8"


# ---------------------------------------------------------------------- scans


def test_a_badge_is_scanned_where_a_proof_is_asked(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    typed_anew(desk, open_life="20 h").hand_in.click()
    desk.hear(HeardScan(badge_text("P30"), ""))
    assert the(desk, EngineerForm).badge.text == "P30"


def test_a_scan_while_figures_are_typed_changes_nothing(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    form = typed_anew(desk, open_life="20 h")
    before = many(bench)
    for text in (badge_text("P30"), tag_text(TagKind.POSITION, "1"), card_text(Card.REMOVE)):
        desk.hear(HeardScan(text, ""))
    assert many(bench) == before
    assert (form.fields["open_life"].text, form.isVisible()) == ("20 h", True)
    assert "nothing was recorded" in form.sentence.text()


# ---------------------------------------------------------------------- drafts


def test_where_two_are_needed_the_writer_is_told_so_and_cannot_approve(desk_of: OpenDesk) -> None:
    bench = second_engineer(Bench(with_rules(site_t(), two_person=True)))
    draft = drafted(bench, open_life=timedelta(hours=20))
    desk = desk_of(bench)
    desk.act(f"spec-draft:{draft.key}")
    preview = the(desk, PreviewForm)
    assert "A process engineer other than Alex Linden (P30) approves it." in words(preview)
    preview.hand_in.click()
    assert "Another process engineer" in prove(desk).sentence.text()
    assert bench.limits("SN-4").open_life == timedelta(hours=24)
    prove(desk, badge="P31", pin="3131")
    assert bench.limits("SN-4").approved_by == "P31"


def test_a_draft_stands_beside_what_is_in_force_until_it_is_withdrawn(bench: Bench, desk_of: OpenDesk) -> None:
    drafted(bench, open_life=timedelta(hours=20))
    desk = desk_of(bench)
    desk.act("specification:SN-4")
    read = the(desk, ReadForm)
    assert "24 h \N{RIGHTWARDS ARROW} 20 h" in words(read)
    assert "See the draft" in [button.action_model.label for button in read.acts]
    read.acts[-1].click()
    next(button for button in the(desk, PreviewForm).acts if button.action_model.id == "withdraw").click()
    prove(desk, reason="wrong sheet")
    assert not bench.station.ledger.rulebook.drafts


def test_a_changed_draft_takes_the_place_of_the_first(bench: Bench, desk_of: OpenDesk) -> None:
    first = drafted(bench, open_life=timedelta(hours=20))
    desk = desk_of(bench)
    desk.act(f"spec-draft:{first.key}")
    next(button for button in the(desk, PreviewForm).acts if button.action_model.id == "edit").click()
    form = the(desk, EditForm)
    assert form.fields["open_life"].text == "20 h"
    form.fields["open_life"].fill("18 h")
    form.hand_in.click()
    prove(desk)
    assert [draft.specification.open_life for draft in bench.station.ledger.rulebook.drafts] == [timedelta(hours=18)]


# ---------------------------------------------------------------------- a new paste


def test_a_new_paste_like_another_one_is_founded_by_an_engineer(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("spec-new:SN-4")
    form = the(desk, PasteForm)
    form.id_.fill("sn-4")
    form.hand_in.click()
    assert "There is a paste SN-4 already" in form.id_.complaint.text()
    form.id_.fill("sn-9")
    form.name.fill("SN-9 no-clean")
    form.part_number.fill("T-9")
    form.hand_in.click()
    edit = the(desk, EditForm)
    assert edit.fields["open_life"].text == "24 h"
    edit.sheet["data_sheet"].fill("SN-9 sheet, edition 1")
    edit.sheet["page"].fill("2")
    edit.hand_in.click()
    prove(desk)
    the(desk, PreviewForm).hand_in.click()
    prove(desk)
    assert not desk.dialogs.busy
    found = bench.floor.plant.pastes["SN-9"]
    assert found.number > max(paste.number for name, paste in site_t().plant.pastes.items())
    assert same_figures_but_the_name(bench, "SN-9", "SN-4")


def same_figures_but_the_name(bench: Bench, one: str, other: str) -> bool:
    return same_figures(replace(bench.limits(one), paste=other), bench.limits(other))


def test_a_paste_from_nothing_begins_with_empty_figures(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("spec-new:")
    form = the(desk, PasteForm)
    form.hand_in.click()
    assert "Type the short name" in form.id_.complaint.text()
    assert "Touch each kind" in form.kinds.complaint.text()
    form.id_.fill("SN-9")
    for field, text in ((form.name, "SN-9"), (form.part_number, "T-9"), (form.flux, "ROL0"), (form.powder, "type 4")):
        field.fill(text)
    form.alloy.choose("Sn-Ag-Cu")
    form.storage.choose("cold")
    form.kinds.choose("JAR-500")
    form.hand_in.click()
    edit = the(desk, EditForm)
    assert {field.text for field in edit.fields.values()} == {""}
    edit.hand_in.click()
    assert "to be mended" in edit.sentence.text()
    assert not bench.station.ledger.rulebook.drafts


# ---------------------------------------------------------------------- files


def test_a_file_with_faults_lists_them_and_writes_nothing(bench: Bench, desk_of: OpenDesk, tmp_path: Path) -> None:
    text = write_specifications(bench.floor).replace('open_life = "24 h"', 'open_life = "24"')
    (tmp_path / "new.toml").write_text(text, encoding="utf-8")
    desk = desk_of(bench)
    desk.act("spec-import:")
    form = the(desk, FileForm)
    form.hand_in.click()
    assert "Choose a file first" in form.file.complaint.text()
    form.file.take((tmp_path / "new.toml",))
    form.file.chosen.emit()
    assert "new.toml, line" in form.faults.text()
    form.hand_in.click()
    assert not [found for found in desk.findChildren(EngineerForm) if found.isVisible()]


def test_a_file_becomes_drafts_all_at_once(bench: Bench, desk_of: OpenDesk, tmp_path: Path) -> None:
    text = write_specifications(bench.floor).replace('open_life = "24 h"', 'open_life = "20 h"')
    (tmp_path / "new.toml").write_text(text, encoding="utf-8")
    desk = desk_of(bench)
    desk.act("spec-import:")
    form = the(desk, FileForm)
    form.file.take((tmp_path / "new.toml",))
    form.file.chosen.emit()
    form.hand_in.click()
    prove(desk)
    drafts = bench.station.ledger.rulebook.drafts
    assert {draft.source for draft in drafts} == {"new.toml"}
    assert {draft.specification.open_life for draft in drafts} == {timedelta(hours=20)}
    assert "Draft of version" in words(the(desk, ListForm))


def test_a_file_that_cannot_be_read_is_said(bench: Bench, desk_of: OpenDesk, tmp_path: Path) -> None:
    desk = desk_of(bench)
    desk.act("spec-import:")
    form = the(desk, FileForm)
    form.file.take((tmp_path / "gone.toml",))
    form.file.chosen.emit()
    assert "gone.toml can't be read" in form.faults.text()


# ---------------------------------------------------------------------- paste lists


def test_a_products_pastes_are_chosen_with_one_metal_only(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("paste-list:CTRL:")
    form = the(desk, PasteListForm)
    form.pastes.choose("PB-1")
    assert "never both" in form.pastes.complaint.text()
    assert "LEADED (Pb)" in form.told.text()
    form.hand_in.click()
    assert not [found for found in desk.findChildren(EngineerForm) if found.isVisible()]
    form.pastes.choose("SN-4")
    form.pastes.choose("PB-1")
    form.pastes.choose("SN-4")
    assert "Chosen: SN-4: LEAD-FREE" in form.told.text()


def test_a_new_product_gets_its_pastes_from_an_engineer_only(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("paste-list::")
    form = the(desk, PasteListForm)
    form.product.fill("lamp")
    form.title_of.fill("Lamp driver")
    form.pastes.choose("SN-4")
    form.hand_in.click()
    before = many(bench)
    assert prove(desk, badge="P20", pin="2020").isVisible()
    assert "LAMP" not in bench.floor.plant.products
    prove(desk)
    assert bench.floor.plant.products["LAMP"].pastes == ("SN-4",)
    assert many(bench) > before
    desk.act("paste-lists:")
    assert "Approved by Alex Linden (P30)" in words(the(desk, ListForm))


def test_one_work_order_may_have_a_list_of_its_own(bench: Bench, desk_of: OpenDesk) -> None:
    desk = desk_of(bench)
    desk.act("paste-list:CTRL:")
    form = the(desk, PasteListForm)
    form.order.fill("WO8836")
    form.hand_in.click()
    prove(desk)
    assert bench.station.ledger.rulebook.lists["CTRL", "WO8836"].pastes == ("SN-4",)
    desk.act("paste-lists:")
    assert "work order WO8836" in words(the(desk, ListForm))


def files_of(window: StationWindow, bench: Bench, folder: Path) -> FileFlow:
    return FileFlow(Desk(window, DeskWork(bench.station), window.dialogs), folder)


def test_a_file_written_at_the_desk_says_what_is_in_force_and_reads_back_the_same(
    bench: Bench, desk_of: OpenDesk, tmp_path: Path
) -> None:
    approved(bench, open_life=timedelta(hours=20))
    told = files_of(desk_of(bench), bench, tmp_path / "files").export("SN-4")
    (written,) = (tmp_path / "files").iterdir()
    assert told == f"Written: {written}"
    found = read_specifications(written.read_bytes(), bench.floor, written.name)
    assert (found.unchanged, found.drafts, found.faults) == (("SN-4",), (), ())
    assert 'open_life = "20 h"' in written.read_text(encoding="utf-8")


def test_a_folder_that_takes_no_file_is_said(bench: Bench, desk_of: OpenDesk, tmp_path: Path) -> None:
    (tmp_path / "files").write_text("no folder", encoding="utf-8")
    told = files_of(desk_of(bench), bench, tmp_path / "files").export("")
    assert "can't be written" in told
