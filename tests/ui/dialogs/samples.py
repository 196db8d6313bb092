"""Invented alarms and pastes for the forms; see them with `python -m tests.ui.dialogs.samples OUT [WxH ...]`."""

import os
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QApplication, QWidget

from station.care.words import Boards, Disposition, Role
from station.services.room_air import Air
from station.ui.dialogs.clear_dialog import AlarmToClear, ClearDialog, DispositionOffer
from station.ui.dialogs.correct_dialog import CorrectDialog, RecordedReceipt
from station.ui.dialogs.late_dialog import LateDialog
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.lot_dialogs import HoldLotDialog, LotShown, ReleaseLotDialog
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.receive_dialog import KindOffer, PasteOffer, ReceiveDialog
from station.ui.dialogs.recertify_dialog import Colleague, RecertifyDialog
from station.ui.dialogs.room_dialog import RoomDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.dialogs.take_back_dialog import TakeBackDialog
from station.ui.dialogs.version_dialog import VersionDialog
from station.ui.room_file.air_form import AirForm
from station.ui.room_file.finding import AirFound
from station.ui.theme import DARK, LIGHT, Theme, load_fonts
from station.ui.view_models import ActionModel

ZONE = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 11, 24, 13, 5, 22, tzinfo=UTC)
PEOPLE = {"P12": "Robin Alder", "P20": "Toni Rowan"}
JAR, CARTON, CARTRIDGE = (
    KindOffer("JAR-500", "jar 500 g"),
    KindOffer("JAR-500-BOXED", "jar 500 g, in its carton"),
    KindOffer("CARTRIDGE-600", "cartridge 600 g"),
)
SYRINGE = KindOffer("SYRINGE-35", "syringe 35 g")
PASTES = (
    PasteOffer("SN-4", "SN-4 no-clean", "lead-free", leaded=False, kinds=(JAR, CARTON, CARTRIDGE)),
    PasteOffer("SN-6", "SN-6 fine powder", "lead-free", leaded=False, kinds=(JAR, CARTRIDGE, SYRINGE)),
    PasteOffer("PB-1", "PB-1 leaded (Pb)", "LEADED (Pb)", leaded=True, kinds=(JAR,)),
    PasteOffer("BI-2", "BI-2 low melting", "BISMUTH", leaded=False, kinds=(JAR, SYRINGE), shelf_months=6),
    PasteOffer("RT-3", "RT-3 shelf-stable", "lead-free", leaded=False, kinds=(JAR, CARTRIDGE)),
)
CONTAINER_ALARM = AlarmToClear(
    "K7 298 is past its open life by 18 min",
    ("Since 13:47. Silenced 13:49 by P12.", "Last seen 08:20 on the shelf of line 2. Not in any bead."),
    (
        DispositionOffer(Disposition.DISCARDED, "it is in the waste"),
        DispositionOffer(Disposition.USED_IN_TIME, "there is evidence"),
        DispositionOffer(Disposition.EVALUATION, "stays blocked"),
        DispositionOffer(Disposition.EXTENDED, "up to 12 h"),
        DispositionOffer(Disposition.NOT_FOUND),
    ),
)
BEAD_ALARM = AlarmToClear(
    "The bead on line 2 is past its stencil life by 26 min",
    ("Since 10:05. The bead was scraped off 10:25.",),
    (DispositionOffer(Disposition.BEAD_OFF), DispositionOffer(Disposition.USED_IN_TIME)),
    boards_printed="between 10:05 and 10:25",
)


def host_of(width: int, height: int) -> QWidget:
    """A window to lay a form over."""
    host = QWidget()
    host.resize(width, height)
    return host


def receive(host: QWidget, theme: Theme = LIGHT) -> ReceiveDialog:
    return ReceiveDialog(PASTES, NOW, ZONE, host, theme)


def clear_container(host: QWidget, theme: Theme = LIGHT) -> ClearDialog:
    return ClearDialog(CONTAINER_ALARM, host, theme, PEOPLE)


def clear_bead(host: QWidget, theme: Theme = LIGHT) -> ClearDialog:
    return ClearDialog(BEAD_ALARM, host, theme, PEOPLE)


def lead(host: QWidget, theme: Theme = LIGHT) -> LeadDialog:
    lines = ("Jar K7 305 was seen out of cold storage at 09:12, before its take-out.",)
    return LeadDialog("Release K7 305 from hold", host, theme, lines=lines, act="Release it", people=PEOPLE)


def room(host: QWidget, theme: Theme = LIGHT) -> RoomDialog:
    return RoomDialog(host, theme)


def room_file(host: QWidget, theme: Theme = LIGHT) -> AirForm:
    """A file was read: two rows without a reading came after the one that is shown."""
    form = AirForm(ZONE.key, host, theme)
    form.files.take((Path("/measured/hall-2-bench-3.csv"),))
    lines = (
        "22.5 °C and 45 %",
        "Measured 14:02, 3 min ago, in hall-2-bench-3.csv line 8113.",
        "The file names no zone: its times are taken as Europe/Berlin.",
        "Both figures are those of the reading before: does the logger still measure?",
        'lines 8114 to 8115: sensor Hall: sensor fault "85.0" (value at power-up), not taken as a temperature.',
    )
    form.show_found(AirFound(Air(22.5, 45.0, NOW, "hall-2-bench-3.csv", 8113), ZONE.key, ()), lines)
    return form


def _with_refusal(dialog: PaperDialog) -> None:
    if isinstance(dialog, AirForm):
        dialog.forget()
        dialog.refuse("hall-2-bench-3.csv: its newest whole reading, line 8113, is 2 h 10 old, and 60 min are allowed.")


def late(host: QWidget, theme: Theme = LIGHT) -> LateDialog:
    lines = (
        "Put away Mon 23 Nov 08:00. Seen outside 09:12.",
        "It warms from the later time, lives run from the earlier.",
    )
    return LateDialog("K7 313 was taken out earlier", NOW, ZONE, host, theme, lines=lines, people=PEOPLE)


RECEIPT = RecordedReceipt(
    "Receipt of K7 313 SN-4", "26-118", date(2027, 3, 31), datetime(2026, 11, 20, 6, 12, 40, tzinfo=UTC), "9 °C", 9.0
)


def correct(host: QWidget, theme: Theme = LIGHT, receipt: RecordedReceipt = RECEIPT) -> CorrectDialog:
    return CorrectDialog(receipt, ZONE, host, theme, PEOPLE)


ACTS = (
    ActionModel("container:K7-304", "Opened", "K7 304 on line 2, 11:38, Robin Alder"),
    ActionModel("position:2A", "Bead removed", "line 2A, 10:05"),
)


def take_back(host: QWidget, theme: Theme = LIGHT) -> TakeBackDialog:
    return TakeBackDialog(ACTS, host, theme, PEOPLE)


VERSIONS = (
    ActionModel("3", "Version 3", "discard by Tue 1 Dec 14:05, as it is now"),
    ActionModel("4", "Version 4", "discard by Tue 8 Dec 14:05"),
)


def version(host: QWidget, theme: Theme = LIGHT) -> VersionDialog:
    lines = ("The tighter times hold until a shift lead says otherwise.",)
    title = "Which version of SN-4 holds for K7 304?"
    return VersionDialog(title, VERSIONS, host, theme, lines=lines, people=PEOPLE)


def _reach(paste: str, lot: str) -> str:
    return (
        f"4 containers of it are here. Stop there and take it off: line 2A. Work orders built with it: {paste} {lot}."
    )


PLANT_PASTES = tuple(ActionModel(paste.id, paste.id) for paste in PASTES)


def hold_lot(host: QWidget, theme: Theme = LIGHT, paste: str = "SN-4", lot: str = "26-118") -> HoldLotDialog:
    return HoldLotDialog(LotShown(PLANT_PASTES, _reach, paste, lot), host, theme, PEOPLE)


HOLDS = (
    ActionModel("SN-4/26-118#1", "26-118 of SN-4", "Mon 23 Nov 08:00, supplier's letter 26-7"),
    ActionModel("PB-1/26-090#2", "26-090 of PB-1", "09:14, crust in two jars"),
)


def release_lot(host: QWidget, theme: Theme = LIGHT) -> ReleaseLotDialog:
    return ReleaseLotDialog(HOLDS, host, theme, PEOPLE)


COLLEAGUES = {
    "P12": Colleague("Robin Alder", frozenset({Role.OPERATOR})),
    "P20": Colleague("Toni Rowan", frozenset({Role.OPERATOR, Role.LEAD})),
    "P30": Colleague("Alex Linden", frozenset({Role.ENGINEER})),
    "P40": Colleague("Sam Hawthorn", frozenset({Role.LEAD, Role.ENGINEER})),
}


def recertify(host: QWidget, theme: Theme = LIGHT) -> RecertifyDialog:
    return RecertifyDialog(LotShown(PLANT_PASTES, _reach, "SN-4", "26-118"), host, theme, COLLEAGUES)


MORE = tuple(
    ActionModel(name, label, hint)
    for name, label, hint in (
        ("late:K7-313", "Taken out earlier", "no scan at the door"),
        ("correct:K7-313", "Correct receipt", "lot, expiry, arrival, temperature"),
        ("version:K7-313", "Other version", "of its specification"),
        ("take-back:K7-313", "Take back last act", "the record keeps both"),
        ("hold-lot:K7-313", "Hold lot", "26-118"),
        ("release-lot:K7-313", "Release lot", "26-118 of SN-4"),
        ("reach:K7-313", "What it reached", "containers, beads, work orders"),
        ("recertify:K7-313", "Re-certify lot", "new expiry, two people"),
        ("figures:JAR-500", "Warm-up figures", "measured runs, for the engineer"),
    )
)


def more(host: QWidget, theme: Theme = LIGHT) -> MoreDialog:
    lines = ("Another version of the specification would change the times of K7 304 and K7 311. Scan one to decide.",)
    return MoreDialog("Of K7 313 and its lot", MORE, host, theme, lines=lines)


def reach(host: QWidget, theme: Theme = LIGHT) -> ReadDialog:
    parts = (
        ("Containers (3)", ("K7 301, open, on line 2A", "K7 302, ready, last seen FRIDGE", "K7 303, used up")),
        ("On stencils", ("Line 2A since 06:06: STILL ON. Stop and scrape it off.",)),
        ("Work orders built with it", ()),
    )
    return ReadDialog("On hold: 26-118 of SN-4", parts, host, theme)


def _with_faults(dialog: PaperDialog) -> None:
    dialog.hand_in.click()


def _half_filled(dialog: PaperDialog) -> None:
    if isinstance(dialog, ClearDialog):
        dialog.take_badge("P20")
        for digit in "2021":
            dialog.pad.touch(digit)
        dialog.reason.fill("forgotten at line 2 over the break")
        first = dialog.dispositions.buttons[-2 if dialog.boards.isHidden() else 0]
        dialog.dispositions.choose(first.action_model.id)
        dialog.boards.choose(Boards.ACCEPTED.value)
        dialog.refuse("That PIN is not right. Type it again.")
    if isinstance(dialog, ReceiveDialog):
        dialog.fill("PB-1", "", "26-118", None)
        dialog.expires.fill("2027-03-31")
        dialog.temperature.measured.fill("5,5")


MOMENTS: dict[str, tuple[Callable[..., PaperDialog], Callable[[PaperDialog], None]]] = {
    "receive": (receive, lambda _: None),
    "receive-half": (receive, _half_filled),
    "receive-faults": (receive, _with_faults),
    "clear-container": (clear_container, _half_filled),
    "clear-bead": (clear_bead, _half_filled),
    "clear-faults": (clear_bead, _with_faults),
    "lead": (lead, lambda _: None),
    "lead-faults": (lead, _with_faults),
    "room": (room, lambda _: None),
    "room-faults": (room, _with_faults),
    "room-file": (room_file, lambda _: None),
    "room-file-refused": (room_file, _with_refusal),
    "late-faults": (late, _with_faults),
    "correct-faults": (correct, _with_faults),
    "take-back-faults": (take_back, _with_faults),
    "version-faults": (version, _with_faults),
    "hold-lot-faults": (hold_lot, _with_faults),
    "release-lot-faults": (release_lot, _with_faults),
    "recertify-faults": (recertify, _with_faults),
    "more": (more, lambda _: None),
    "reach": (reach, lambda _: None),
}


def main(arguments: list[str]) -> None:
    """Write one picture of each moment and size."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    load_fonts(Path(__file__).parents[3] / "resources" / "fonts")
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    for size in arguments[1:] or ["1024x768"]:
        width, height = map(int, size.split("x"))
        for theme in (LIGHT, DARK):
            for name, (make, then) in MOMENTS.items():
                host = host_of(width, height)
                host.show()
                dialog = make(host, theme)
                dialog.open()
                then(dialog)
                for _ in range(3):  # a wrapped line asks for its height only once it has its width
                    QApplication.processEvents()
                host.grab().save(str(folder / f"{name}-{theme.name}-{size}.png"))
                host.close()
    del app


if __name__ == "__main__":
    main(sys.argv[1:])
