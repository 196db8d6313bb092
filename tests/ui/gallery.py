"""Telling moments of the three places, and a way to see them: `python -m tests.ui.gallery OUT [WIDTHxHEIGHT ...]`.

The day, people, lots and pastes are invented.
"""

import os
import sys
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

from PySide6.QtWidgets import QApplication

from station.care.words import Place, Priority, Word
from station.ui.screen import PlaceScreen
from station.ui.theme import DARK, LIGHT, Theme, load_fonts
from station.ui.view_models import (
    ActionModel,
    AlarmCardModel,
    BannerModel,
    BoardModel,
    BoardRow,
    CountModel,
    HealthMark,
    InsteadModel,
    JustScannedRow,
    QuestionModel,
    Scope,
    ScreenModel,
    StoreModel,
    Stretch,
    StretchKind,
    StripModel,
    TakeNextRow,
    Tone,
    TopBarModel,
    VerdictModel,
)

NOW = datetime(2026, 11, 24, 13, 5, 22, tzinfo=UTC)
SIZES = ((1024, 768), (1366, 768), (1920, 1080), (3840, 2160))

WELL = (
    HealthMark("Scanner", True, "ready"),
    HealthMark("Label printer", True, "ready"),
    HealthMark("Plant link", True, "ready"),
    HealthMark("Disk", True, "ready"),
)


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def bar(*ends: tuple[StretchKind, float]) -> tuple[Stretch, ...]:
    """Stretches one after another; each kind runs to a number of minutes from now. The first entry only starts."""
    pieces = []
    for (_, start), (kind, end) in pairwise(ends):
        pieces.append(Stretch(kind, NOW + minutes(start), NOW + minutes(end)))
    return tuple(pieces)


CONDITIONING, USABLE, NEAR, PAST = StretchKind.CONDITIONING, StretchKind.USABLE, StretchKind.NEAR, StretchKind.PAST
DAY = 24 * 60


def warming(number: str, subtitle: str, out: float, ready: float, left: str, caption: str) -> BoardRow:
    week = out + 7 * DAY
    pieces = bar((CONDITIONING, out), (CONDITIONING, ready), (USABLE, week - DAY), (NEAR, week))
    return BoardRow(number, subtitle, pieces, left, caption, Tone.WAIT, group="WARMING UP")


K311 = warming("K7 311", "SN-4 jar 500 g, lot 26-118", -100, 140, "2 h 20", "ready 16:25")
K312 = warming("K7 312", "SN-4 jar 500 g, lot 26-121", -100, 140, "2 h 20", "ready 16:25")
K320 = warming("K7 320", "SN-4 cartridge 600 g, lot 26-121", 0, 211, "3 h 31", "ready 17:36")
K318 = BoardRow(
    "K7 318",
    "BI-2 syringe 35 g, lot 26-090",
    bar((CONDITIONING, -5 * DAY), (CONDITIONING, -5 * DAY + 60), (USABLE, DAY), (NEAR, 2 * DAY)),
    "2 d",
    "room life, Thu 26 Nov 14:00",
    group="READY",
)
K304 = BoardRow(
    "K7 304",
    "SN-4 jar 500 g, lot 26-118",
    bar((CONDITIONING, -360), (CONDITIONING, -180), (USABLE, 1173), (NEAR, 1293)),
    "21 h 33",
    "open life, Wed 11:38",
    feeding=True,
    group="AT LINE 2",
)
K298 = BoardRow(
    "K7 298",
    "SN-4 jar 500 g, on the shelf of line 2",
    bar((USABLE, -1458), (USABLE, -138), (NEAR, -18), (PAST, 0)),
    "18 min past",
    "open life passed 13:47",
    Tone.PAST,
    priority=Priority.MEDIUM,
    unacknowledged=True,
    group="AT LINE 2",
)
BEAD2 = BoardRow(
    "LINE 2 BEAD",
    "SN-4 since 08:10, job 8836",
    bar((USABLE, -355), (USABLE, 95), (NEAR, 125)),
    "2 h 04",
    "stencil life, ends 16:10",
    tall=True,
)
BEAD_NEAR = BoardRow(
    "LINE 4 BEAD",
    "SN-4 since 06:29, job 8841",
    bar((USABLE, -456), (USABLE, -6), (NEAR, 24)),
    "23 min 38 s",
    "stencil life, ends 14:29",
    Tone.NEAR,
    tall=True,
)
BEAD_PAST = BoardRow(
    "LINE 2A BEAD",
    "SN-4 since 05:57, job 8836, feeding K7 304",
    bar((USABLE, -488), (USABLE, -38), (NEAR, -8), (PAST, 0)),
    "9 min past",
    "stencil life passed 13:57",
    Tone.PAST,
    tall=True,
    priority=Priority.HIGH,
    unacknowledged=True,
)
K260 = BoardRow(
    "K7 260",
    "bin D2, PB-1 LEADED (Pb)",
    bar((USABLE, -40 * DAY), (USABLE, -4 * DAY), (NEAR, 10 * DAY + 600)),
    "10 d",
    "shelf life, Fri 4 Dec 23:59",
    Tone.NEAR,
    priority=Priority.LOW,
    group="COLD",
)


def top(place: str, person: str = "Operator 12", high: int = 0, **changes: object) -> TopBarModel:
    values: dict[str, object] = {
        "place": place,
        "clock_text": "Tue 14:05:22",
        "zone": "24 Nov, CET",
        "person": person,
        "alarms_high": high,
        "alarms_medium": 1,
        "alarms_low": 2,
        "health": WELL,
    }
    return TopBarModel(**{**values, **changes})  # type: ignore[arg-type]


FRIDGE_HINT = "Scan a container to put it away or take it out. Back only where its specification allows it."
PRINTER_HINT = "Scan a container, a command card or a badge."
DESK_HINT = "Scan anything to see its whole story."

TAKE_NEXT = (
    TakeNextRow("SN-4 jar 500 g", "bin A3", "K7 313", "expires 12 Jan 2027"),
    TakeNextRow("SN-4 cartridge 600 g", "bin B1", "K7 321", "expires 30 Jan 2027"),
    TakeNextRow("SN-4 jar 500 g", "bin A4", "K7 314", "expires 12 Jan 2027"),
)
CELSIUS = (
    5.0,
    4.6,
    4.8,
    4.7,
    5.4,
    5.9,
    5.5,
    5.4,
    4.9,
    4.6,
    5.1,
    5.2,
    5.8,
    6.1,
    5.6,
    5.0,
    4.8,
    5.5,
    5.4,
    5.9,
    5.0,
    5.2,
)
STORE = StoreModel(
    "Cold storage 1", "5.2 °C", "limits 2 to 8, last read 13:55", True, CELSIUS, low_celsius=2.0, high_celsius=8.0
)
ACTIONS = (
    ActionModel("empty", "Empty", key="F2"),
    ActionModel("remove", "Remove bead", key="F3"),
    ActionModel("carry", "Carry over", key="F4"),
    ActionModel("pause", "Pause", key="F5"),
    ActionModel("discard", "Discard", key="F6"),
    ActionModel("look", "Look", key="F7"),
)
SCANNED = (
    JustScannedRow("14:05", "K7 304", "bead topped up", Word.USE),
    JustScannedRow("13:58", "K7 311", "ready 16:25", Word.WAIT),
    JustScannedRow("11:40", "K7 304", "bead topped up", Word.USE),
    JustScannedRow("11:38", "K7 304", "LOOKS GOOD, opened", Word.DONE),
)


def fridge_done() -> ScreenModel:
    verdict = VerdictModel(
        Word.DONE,
        headline="NOT BEFORE 17:36",
        subject="K7 320 SN-4, cartridge 600 g",
        why="Taken out now. The label is printing.",
        todo="Wipe dry, stick the label on the body. Stand it tip down, away from heat.",
        note="Longest of: supplier 3 h 30 min, warm-up 2 h 50 min, dew point 1 h 05.",
        times=(
            ("thaw start", "Tue 24 Nov 14:05"),
            ("earliest use", "Tue 24 Nov 17:36"),
            ("discard by", "Tue 1 Dec 14:05"),
            ("governed by", "room life, closed"),
        ),
    )
    rows = (K311, K312, K320, K318)
    return ScreenModel(
        Place.FRIDGE, top("FRIDGE DOOR"), BoardModel(NOW, rows), verdict, take_next=TAKE_NEXT, store=STORE,
        bottom=FRIDGE_HINT,
    )  # fmt: skip


def fridge_refused_return() -> ScreenModel:
    verdict = VerdictModel(
        Word.STOP,
        headline="NEVER BACK IN THE COLD",
        subject="K7 304 SN-4, jar 500 g",
        why="It has been out since Tue 24 Nov 08:05 and its paste has one cold cycle, which is used.",
        todo="Put it on the shelf of line 2 and scan that shelf's code.",
        note="Cooling it again wets the paste. It can still be used until Wed 25 Nov 11:38.",
        times=(
            ("thaw start", "Tue 24 Nov 08:05"),
            ("discard by", "Wed 25 Nov 11:38"),
            ("governed by", "open life"),
        ),
    )
    store = StoreModel("Cold storage 1", "9.4 °C", "above 8 °C since 13:40; close the door and read it again",
                       False, (*CELSIUS, 6.5, 7.2, 8.1, 9.0, 9.4), 2.0, 8.0)  # fmt: skip
    return ScreenModel(
        Place.FRIDGE, top("FRIDGE DOOR"), BoardModel(NOW, (K311, K312, K320, K318)), verdict, take_next=TAKE_NEXT,
        store=store, bottom=FRIDGE_HINT,
    )  # fmt: skip


def printer(verdict: VerdictModel | None, *rows: BoardRow, **changes: object) -> ScreenModel:
    values: dict[str, object] = {
        "place": Place.PRINTER,
        "top": top("PRINTER line 2"),
        "board": BoardModel(NOW, rows or (BEAD2, K298, K304, K311, K312)),
        "verdict": verdict,
        "just_scanned": SCANNED,
        "actions": ACTIONS,
        "bottom": PRINTER_HINT,
    }
    return ScreenModel(**{**values, **changes})  # type: ignore[arg-type]


def printer_use() -> ScreenModel:
    return printer(
        VerdictModel(
            Word.USE,
            subject="K7 304 SN-4, jar 500 g",
            why="Ready since 11:05. Right paste for line 2. 21 h 33 left.",
            todo="Take what you need. Inner lid down, lid on.",
            note="The bead keeps its own time: 2 h 04 left, ends 16:10.",
            times=(
                ("thaw start", "Tue 24 Nov 08:05"),
                ("earliest use", "Tue 24 Nov 11:05"),
                ("discard by", "Wed 25 Nov 11:38"),
                ("governed by", "open life"),
            ),
        )
    )


def printer_wait() -> ScreenModel:
    return printer(
        VerdictModel(
            Word.WAIT,
            headline="READY 16:25",
            subject="K7 311 SN-4, jar 500 g",
            why="It is still warming up: 2 h 20 to go.",
            todo="Leave it closed on the shelf.",
            note="Opened now it would draw water from the air.",
            times=(("thaw start", "Tue 24 Nov 12:25"), ("earliest use", "Tue 24 Nov 16:25")),
            instead=InsteadModel("K7 304", "here at line 2, open, 21 h 33 left"),
        )
    )


def printer_wrong_alloy() -> ScreenModel:
    return printer(
        VerdictModel(
            Word.STOP,
            headline="Sn-Pb ON AN Sn-Ag-Cu JOB",
            subject="K7 260 PB-1, LEADED (Pb)",
            why="Line 2 builds job 8836 with SN-4.",
            todo="Take K7 260 away from line 2.",
            note="Nothing was recorded against you.",
            times=(
                ("thaw start", "Tue 24 Nov 09:10"),
                ("earliest use", "Tue 24 Nov 13:10"),
                ("discard by", "Tue 1 Dec 09:10"),
                ("governed by", "room life, closed"),
            ),
            instead=InsteadModel("K7 304", "here at line 2, open, 21 h 33 left"),
        ),
        BEAD2, K304, K311,
    )  # fmt: skip


def printer_by_label() -> ScreenModel:
    health = (
        *WELL[:2],
        HealthMark("Plant link", False, "cut off since 13:20, ask IT to look at the switch"),
        WELL[3],
    )
    return printer(
        VerdictModel(
            Word.USE,
            by_label=True,
            headline="A SHIFT LEAD'S BADGE FIRST",
            subject="K9 117 SN-4, jar 500 g",
            why="This station has never met K9 117 and the link is down. Its label says: good until 20:10.",
            todo="Let a shift lead scan a badge, then use it.",
            note="A hold set elsewhere after 13:20 is not known here.",
            times=(("earliest use", "Mon 23 Nov 20:10"), ("assumed end", "Tue 24 Nov 20:10")),
        ),
        top=top("PRINTER line 2", health=health),
        banner=BannerModel(
            "The PC's clock went forward by 1 h at 13:58; nothing newly becomes ready.",
            "A shift lead must confirm the time.",
        ),
    )


def printer_opening() -> ScreenModel:
    question = QuestionModel(
        "OPEN IT AND LOOK",
        "K7 305 SN-4, jar 500 g",
        (
            "No dry crust on the paste or under the lid?",
            "No pool of liquid, nothing separated?",
            "Stirs smooth by hand, once, with a plastic spatula?",
        ),
        (
            ActionModel("good", "LOOKS GOOD", "or scan the card", key="F9"),
            ActionModel("bad", "LOOKS BAD", "goes on hold", key="F10"),
        ),
        "Its open life of 24 h runs from the scan, 14:05, whatever you answer.",
    )
    strips = (
        StripModel("s1", "13:30", "STOP K7 260", "Sn-Pb on an Sn-Ag-Cu job: take it away from line 2"),
        StripModel("s2", "12:58", "STOP K7 290", "shelf life passed Mon 23 Nov 23:59: discard it"),
        StripModel("s3", "12:41", "STOP K7 288", "on hold: lot on hold"),
    )
    return printer(None, question=question, strips=strips)


def printer_past() -> ScreenModel:
    bar_model = top("PRINTER line 2", high=1, unacknowledged=True, sound_ok=False)
    return printer(
        VerdictModel(
            Word.STOP,
            headline="BEAD PAST ITS STENCIL LIFE",
            subject="LINE 2A BEAD, SN-4",
            why="It passed at 13:57, 9 min ago. Boards printed since then are not inside the limit.",
            todo="Scrape the bead off, clean stencil and blades, then scan REMOVE.",
            note="Set aside the boards printed since 13:57.",
        ),
        BEAD_PAST, BEAD_NEAR, K298, K304, K311, K312, K320, K318, K260,
        top=bar_model,
        banner=BannerModel("The disk is full; nothing is recorded.", "Free space, then scan again.", Tone.PAST),
        strips=(StripModel("s1", "14:02", "STOP K7 304", "line 2A: bead past its stencil life, no top-up"),),
    )  # fmt: skip


def empty_printer() -> ScreenModel:
    hint = (
        "Scan the jar you want to print with\n"
        "Scan the job's traveller, so that the right paste is asked for.\n"
        "Scan the container. USE, WAIT or STOP stands here.\n"
        "Open and look, then scan the card LOOKS GOOD."
    )
    return printer(
        None,
        empty_hint=hint,
        board=BoardModel(NOW),
        just_scanned=(),
        top=top("PRINTER line 2", "", alarms_medium=0),
    )


def empty_fridge() -> ScreenModel:
    hint = (
        "Scan a container at the door\n"
        "A new one: scan the maker's label, then stick on the station's own.\n"
        "One that is cold: it is taken out and its time label prints.\n"
        "One that was just received: it is put away, its bin is shown."
    )
    return ScreenModel(
        Place.FRIDGE, top("FRIDGE DOOR", ""), BoardModel(NOW), store=STORE, empty_hint=hint, bottom=FRIDGE_HINT
    )


def desk_alarms() -> ScreenModel:
    cards = (
        AlarmCardModel(
            "K7 298 is past its open life by 18 min",
            (
                "Last seen 08:20 on the shelf of line 2. Not in any bead. Silenced 13:49.",
                "Find it, scan it, and say what became of it. Your PIN is asked once.",
            ),
            (
                ActionModel("discarded", "Discarded", "scan it; grams left"),
                ActionModel("used", "Used up in time", "evidence needed"),
                ActionModel("hold", "Hold for evaluation", "stays blocked"),
                ActionModel("extend", "Extend", "specification allows 0 h", enabled=False),
            ),
        ),
        AlarmCardModel("Second", priority=Priority.LOW),
    )
    bead4 = BoardRow(
        "LINE 4 BEAD", "job 8841, lot 26-118", bar((USABLE, -428), (USABLE, 22), (NEAR, 52)), "51 min 38 s",
        "stencil life, ends 14:57",
    )  # fmt: skip
    bead2 = BoardRow(
        "LINE 2 BEAD", "since 08:10, job 8836", bar((USABLE, -355), (USABLE, 95), (NEAR, 125)), "2 h 04",
        "stencil life, ends 16:10",
    )  # fmt: skip
    rows = tuple(
        BoardRow(row.title, row.subtitle, row.stretches, row.countdown, row.caption, row.tone, priority=row.priority)
        for row in (K298, bead4, bead2, K260)
    )
    return ScreenModel(
        Place.DESK,
        top("SHIFT DESK", "Shift lead 03", scope=Scope.PLANT),
        BoardModel(NOW, rows, more=7),
        alarm_cards=cards,
        summary=(
            ("containers taken out", "14"),
            ("used inside limits", "13 of 14"),
            ("discarded", "180 g"),
            ("alarms, average", "0.4 per 10 min"),
            ("time to clear, median", "9 min"),
        ),
        bottom=DESK_HINT,
    )


def counting() -> ScreenModel:
    verdict = VerdictModel(
        Word.STOP,
        headline="RECORDED ELSEWHERE",
        subject="K7 318 SN-4, jar 500 g",
        why="K7 318: recorded in another store (Cold storage 2), but it is in Cold storage 1. "
        "It stands among the differences.",
        todo="Set it apart and go on counting.",
    )
    count = CountModel(
        store="Cold storage 1",
        progress="112 of 140",
        caption="recorded here were seen",
        note="3 more seen that are not recorded here",
        instruction="Nothing is taken out. Scan everything in it.",
        last=verdict,
        countdown="Ends by itself in 25 s. Scan on.",
        actions=(
            ActionModel("count-whole:K7-C001", "That was all", "28 not seen"),
            ActionModel("count-stop:K7-C001", "Stop counting", "claims nothing missing"),
            ActionModel("card:SILENCE", "Silence", "alarms stay open"),
        ),
    )
    return ScreenModel(
        Place.FRIDGE, top("FRIDGE DOOR", high=1), BoardModel(NOW, (K311, K312)), verdict, take_next=TAKE_NEXT,
        store=STORE, bottom=FRIDGE_HINT, count=count,
    )  # fmt: skip


GALLERY = {
    "fridge-done": fridge_done,
    "fridge-refused-return": fridge_refused_return,
    "printer-use": printer_use,
    "printer-wait": printer_wait,
    "printer-wrong-alloy": printer_wrong_alloy,
    "printer-by-label": printer_by_label,
    "printer-opening": printer_opening,
    "printer-past": printer_past,
    "empty-printer": empty_printer,
    "empty-fridge": empty_fridge,
    "desk-alarms": desk_alarms,
    "counting": counting,
}


def screen_of(name: str, width: int, height: int, theme: Theme = LIGHT) -> PlaceScreen:
    """One moment of the gallery at a size in logical pixels."""
    screen = PlaceScreen()
    screen.set_theme(theme)
    screen.resize(width, height)
    screen.show_model(GALLERY[name]())
    return screen


def paint_all(folder: Path, sizes: Iterable[tuple[int, int]], theme: Theme) -> list[Path]:
    """Write one PNG for each moment and size; returns what was written."""
    written = []
    for width, height in sizes:
        for name in GALLERY:
            path = folder / f"{name}-{theme.name}-{width}x{height}.png"
            screen_of(name, width, height, theme).grab().save(str(path))
            written.append(path)
    return written


def main(arguments: list[str]) -> None:
    """Write the gallery into a folder."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    load_fonts(Path(__file__).parents[2] / "resources" / "fonts")
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    sizes = [(int(size.split("x")[0]), int(size.split("x")[1])) for size in arguments[1:]] or list(SIZES)
    for theme in (LIGHT, DARK):
        paint_all(folder, sizes, theme)
    del app


if __name__ == "__main__":
    main(sys.argv[1:])
