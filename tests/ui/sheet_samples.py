"""An invented sheet of codes, and a way to see it: `python -m tests.ui.sheet_samples OUT.png [light|dark]`.

With QT_SCALE_FACTOR set the picture is what a scaled screen shows, dot by dot.
"""

import os
import sys
from pathlib import Path

from PySide6.QtWidgets import QApplication

from station.care.words import Card
from station.labels.containercode import pack_container
from station.labels.keys import KeyRing
from station.labels.plaincodes import TagKind, badge_text, card_text, tag_text
from station.ui.code_sheet import CodeEntry, CodeSection, CodeSheet
from station.ui.theme import DARK, LIGHT, load_fonts

KEYS = KeyRing({0: b"a key for tests only"}, current=0)
SECTIONS = (
    CodeSection(
        "Containers",
        tuple(
            CodeEntry(f"K7 {number}", pack_container(7, number, KEYS), "SN-4 jar 500 g") for number in range(298, 307)
        ),
    ),
    CodeSection("Cards", tuple(CodeEntry(card.value.replace("-", " "), card_text(card)) for card in Card)),
    CodeSection("Tags", (CodeEntry("Position 2A", tag_text(TagKind.POSITION, "2A"), "line 2"),)),
    CodeSection("Badges", (CodeEntry("Robin Alder", badge_text("P12"), "operator"),)),
    CodeSection("Work orders", (CodeEntry("8836", "WO8836", "SN-4"), CodeEntry("small letters", "wo-8836/ü"))),
)


def main(arguments: list[str]) -> None:
    """Write one picture of the sheet."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    load_fonts(Path(__file__).parents[2] / "resources" / "fonts")
    sheet = CodeSheet(SECTIONS, theme=DARK if "dark" in arguments else LIGHT)
    sheet.show()
    for _ in range(3):
        QApplication.processEvents()
    sheet.grab().save(arguments[0])
    sheet.close()
    del app


if __name__ == "__main__":
    main(sys.argv[1:])
