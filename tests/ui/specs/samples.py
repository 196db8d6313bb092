"""Invented specifications for the forms; see them with `python -m tests.ui.specs.samples OUT [WxH ...]`."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QApplication, QWidget

from station.care.paste_lists import ListTold
from station.care.specification import FigureSource
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.specs.chosen_pastes import ChosenPastes
from station.ui.specs.file_forms import FileForm, FileFound
from station.ui.specs.list_form import ListForm, Row
from station.ui.specs.listing import MAY_WRITE
from station.ui.specs.paste_form import PasteBegun, PasteForm
from station.ui.specs.paste_list_form import PasteListForm
from station.ui.specs.preview_form import PreviewForm, PreviewShown
from station.ui.specs.proof_forms import WHY, EngineerForm
from station.ui.specs.source_form import SourceForm
from station.ui.theme import LIGHT, Theme, load_fonts
from station.ui.view_models import ActionModel
from tests.care.places import site_d

PEOPLE = {"P30": "Kim Hazel"}
KINDS = (
    ActionModel("JAR-500", "JAR-500", "jar 500 g"),
    ActionModel("JAR-500-BOXED", "JAR-500-BOXED", "jar 500 g, in its carton"),
    ActionModel("CARTRIDGE-600", "CARTRIDGE-600", "cartridge 600 g"),
    ActionModel("SYRINGE-35", "SYRINGE-35", "syringe 35 g"),
)
FIGURES = (
    ("Open life", "24 h", "20 h", "tighter, holds at once"),
    ("Stencil life", "8 h", "6 h", "tighter, holds at once"),
    ("Room life", "7 d", "14 d", "looser, for what begins later"),
    ("Conditioning, JAR-500", "4 h", "5 h", "tighter, holds at once"),
)
REACHED = (
    ("K7 298", "Open life", "Tue 24 Nov 18:47", "14:47", ""),
    ("Line 2A", "Bead", "16:10", "14:10", ""),
    ("K7 260", "Open life", "15:02", "11:02", "OVER AT ONCE"),
)


def many_rows(count: int) -> tuple[Row, ...]:
    """So many pastes, every third one leaded."""
    return tuple(
        Row(
            f"SN-{number}: no-clean {number}",
            (
                f"HW-{number}-500, {'Sn-Pb, LEADED (Pb)' if number % 3 == 0 else 'Sn-Ag-Cu, LEAD-FREE'}, kept cold",
                "Version 3, approved by Kim Hazel (P30) Mon 23 Nov 14:05. SN data sheet, edition 7, 2026-03, page 4.",
            ),
            ActionModel(f"specification:SN-{number}", "Read"),
        )
        for number in range(1, count + 1)
    )


def list_form(host: QWidget, theme: Theme = LIGHT) -> ListForm:
    acts = (ActionModel("new", "New paste"), ActionModel("file", "From a file"), ActionModel("all", "All as a file"))
    return ListForm("Specifications", many_rows(200), host, theme, lines=(MAY_WRITE,), acts=acts)


def paste_form(host: QWidget, theme: Theme = LIGHT) -> PasteForm:
    like = next(iter(site_d().plant.pastes.values()))
    begun = PasteBegun(like, ("JAR-500",), 105, frozenset({"SN-4"}), frozenset({104}))
    return PasteForm(begun, KINDS, host, theme, lines=(MAY_WRITE,))


def paste_list_form(host: QWidget, theme: Theme = LIGHT) -> PasteListForm:
    pastes = tuple(site_d().plant.pastes.values())
    begun = ListTold("CTRL", (pastes[0].id,), "Controller board")
    lines = ("SN-4: LEAD-FREE", "From the settings.", "A process engineer approves a list, by badge and PIN.")
    return PasteListForm(
        "CTRL: Controller board", ChosenPastes(begun, pastes, lambda _told: ()), host, theme, lines=lines
    )


def preview_form(host: QWidget, theme: Theme = LIGHT) -> PreviewForm:
    shown = PreviewShown(
        "SN-4: SN-4 no-clean, draft of version 4",
        ("Draft of version 4 by Kim Hazel (P30), 13:05. “Edition 8 of the data sheet”", "By SN-4 sheet 8, page 4."),
        FIGURES,
        REACHED,
        "Nothing gets longer by it for paste in use; what begins later goes by the new version.",
        "1 container or bead would be over at once.",
        "A process engineer other than Kim Hazel (P30) approves it.",
    )
    return PreviewForm(shown, host, theme)


def proof_form(host: QWidget, theme: Theme = LIGHT) -> EngineerForm:
    listed = tuple(f"{name}: {before} \N{RIGHTWARDS ARROW} {after}" for name, before, after, _ in FIGURES)
    lines = ("It is a draft until it is approved; until then the version in force goes on.",)
    return EngineerForm(
        "Write the draft of SN-4", host, theme, act="Write it", lines=lines, listed=listed, reason=WHY, people=PEOPLE
    )


def source_form(host: QWidget, theme: Theme = LIGHT) -> SourceForm:
    return SourceForm("Open life", FigureSource("open_life", "SN-4 data sheet, edition 8, 2026-09", "4"), host, theme)


def file_form(host: QWidget, theme: Theme = LIGHT) -> FileForm:
    form = FileForm(host, theme, lines=(MAY_WRITE,))
    form.file.take((Path("/measured/pastes-new.toml"),))
    fault = 'pastes-new.toml, line 31: paste[SN-4].specification.open_life = "24": a figure without its unit.'
    form.show_found(FileFound((fault,) * 5, ()))
    return form


FORMS: dict[str, Callable[[QWidget], PaperDialog]] = {
    "list": list_form,
    "paste": paste_form,
    "paste-list": paste_list_form,
    "preview": preview_form,
    "proof": proof_form,
    "source": source_form,
    "file": file_form,
}


def main(arguments: list[str]) -> None:
    """Write a picture of each form in each size."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    load_fonts(Path(__file__).parents[3] / "resources" / "fonts")
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    for size in arguments[1:] or ["1024x768"]:
        width, height = map(int, size.split("x"))
        for name, make in FORMS.items():
            host = QWidget()
            host.resize(width, height)
            host.show()
            form = make(host)
            form.open()
            form.refuse("")
            for _ in range(4):
                QApplication.processEvents()
            host.grab().save(str(folder / f"{name}-{size}.png"))
            host.close()
    del app


if __name__ == "__main__":
    main(sys.argv[1:])
