"""The program typed into: every widget a scan could disturb, with the wedge installed.

Reads commands from standard input and writes what happens to standard output, one JSON object a line, so that the
tests wait for lines and never for time. Run as a module: `python -m tests.scanning.display.probe`.
"""

import json
import os
import sys
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QElapsedTimer, QEvent, QObject, QSocketNotifier, Qt, QTimer
from PySide6.QtGui import QAction, QInputMethodEvent, QKeyEvent, QKeySequence, QShortcut, QWindow
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QDialog,
    QLineEdit,
    QMainWindow,
    QMenu,
    QMessageBox,
    QPlainTextEdit,
    QPushButton,
    QSpinBox,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from station.scanning.heard import HeardScan
from station.scanning.stream import WedgeTiming
from station.scanning.wedge import WedgeFilter

CHOICES = ["Keep", "Scrap", "V1 shelf", "7 days"]
LOOK_AGAIN_MS = 10
HIDDEN_MS = 600  # Qt puts off what it makes of a lost keyboard; a person takes longer, too


def tell(kind: str, **details: Any) -> None:
    """One line out."""
    sys.stdout.write(json.dumps({"kind": kind, **details}) + "\n")
    sys.stdout.flush()


class Window(QMainWindow):
    """One of each widget; whatever happens to one of them is an effect."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: dict[str, QWidget] = {}
        column = QVBoxLayout()
        self._add(column, "button", QPushButton("&Discard"))
        self._add(column, "line", QLineEdit())
        self._add(column, "spin", QSpinBox(maximum=100000))
        self._add(column, "combo", QComboBox())
        self._add(column, "table", QTableWidget(3, 2))
        self._add(column, "check", QCheckBox("&Keep"))
        self._add(column, "text", QPlainTextEdit())
        centre = QWidget()
        centre.setLayout(column)
        self.setCentralWidget(centre)
        self._fill()
        self._listen()

    def _add(self, column: QVBoxLayout, name: str, part: QWidget) -> None:
        self.parts[name] = part
        column.addWidget(part)

    def part(self, name: str) -> Any:
        """A widget by its name."""
        return self.parts[name]

    def _fill(self) -> None:
        self.part("combo").addItems(CHOICES)
        for row, text in enumerate(CHOICES[:3]):
            self.part("table").setItem(row, 0, QTableWidgetItem(text))
        self.part("table").setCurrentCell(0, 0)

    def _listen(self) -> None:
        self.part("button").clicked.connect(lambda: tell("effect", of="button"))
        self.part("line").textChanged.connect(lambda text: tell("effect", of="line", value=text))
        self.part("line").returnPressed.connect(lambda: tell("effect", of="line entered"))
        self.part("spin").valueChanged.connect(lambda value: tell("effect", of="spin", value=value))
        self.part("combo").currentTextChanged.connect(lambda text: tell("effect", of="combo", value=text))
        self.part("combo").highlighted.connect(lambda row: tell("highlight", row=row))
        self.part("table").currentCellChanged.connect(lambda *at: tell("effect", of="table", value=at))
        self.part("table").cellChanged.connect(lambda *at: tell("effect", of="cell", value=at))
        self.part("check").toggled.connect(lambda on: tell("effect", of="check", value=on))
        self.part("text").textChanged.connect(lambda: tell("effect", of="text"))
        for keys in ("Ctrl+K", "Ctrl+D", "Alt+W", "Ctrl+]", "Ctrl+^", "D", "7", "F5"):
            shortcut = QShortcut(QKeySequence(keys), self, context=Qt.ShortcutContext.ApplicationShortcut)
            shortcut.activated.connect(lambda keys=keys: tell("effect", of="shortcut", value=keys))

    def contents(self) -> dict[str, Any]:
        """What every field holds."""
        return {
            "line": self.part("line").text(),
            "spin": self.part("spin").value(),
            "combo": self.part("combo").currentText(),
            "text": self.part("text").toPlainText(),
            "check": self.part("check").isChecked(),
            "row": self.part("table").currentRow(),
            "editing": self.part("table").state() == QTableWidget.State.EditingState,
        }


class Probe(QObject):
    """Obeys the commands: every method `do_name` is one. Most answer with a line "done"."""

    def __init__(self, app: QApplication, window: Window, wedge: WedgeFilter) -> None:
        super().__init__()
        self._window = window
        self._wedge = wedge
        self._marks = 0
        self._since_key = QElapsedTimer()
        self._since_key.start()
        self._open: QWidget | None = None
        app.installEventFilter(self)
        wedge.scanned.connect(self._heard)
        wedge.incomplete.connect(lambda text: tell("incomplete", text=text))
        self._rest = b""
        self._notifier = QSocketNotifier(0, QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._read)

    def _heard(self, heard: HeardScan) -> None:
        tell("scan", text=heard.text, by_place=heard.by_place)

    def _read(self) -> None:
        received = os.read(0, 4096)
        if not received:
            QApplication.exit(0)
        *lines, self._rest = (self._rest + received).split(b"\n")
        for line in lines:
            name, _, argument = line.decode().partition(" ")
            getattr(self, f"do_{name}")(argument)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  as Qt calls it
        """Count the keys that mark the end of what was typed; X delivers them after all the others."""
        if isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_ScrollLock and isinstance(watched, QWindow):
            self._marks += event.type() == QEvent.Type.KeyPress
            self._since_key.restart()
        return False

    def _when(self, met: Callable[[], bool], action: Callable[[], None]) -> None:
        if met():
            action()
        else:
            QTimer.singleShot(LOOK_AGAIN_MS, lambda: self._when(met, action))

    def do_active(self, _: str) -> None:
        """Answer whether the main window has the keyboard: at once if so, else after a while."""
        if self._window.isActiveWindow():
            tell("done", active=True)
        else:
            QTimer.singleShot(HIDDEN_MS, lambda: tell("done", active=self._window.isActiveWindow()))

    def do_focus(self, name: str) -> None:
        """Give a widget the focus."""
        part = self._window.part(name)
        part.setFocus()
        if isinstance(part, QSpinBox):
            part.selectAll()
        tell("done", focus=part.hasFocus(), window=int(self._window.winId()))

    def do_clear(self, _: str) -> None:
        """Everything as at the start, everything open closed."""
        if self._open is not None:
            self._open.close()
            self._open = None
        self._window.part("combo").hidePopup()
        for name in ("line", "text"):
            self._window.part(name).clear()
        self._window.part("spin").setValue(0)
        self._window.part("combo").setCurrentIndex(0)
        self._window.part("check").setChecked(False)
        self._window.part("table").setCurrentCell(0, 0)
        rested = WedgeTiming().inside_ms + 1  # so long after a scan, line ends and shortcuts still belong to it
        self._when(lambda: self._since_key.hasExpired(rested), lambda: tell("done"))

    def do_report(self, _: str) -> None:
        """What the fields hold once the mark has come through and the wedge waits for nothing."""
        self._when(lambda: self._marks > 0 and not self._wedge.is_waiting, self._report)

    def _report(self) -> None:
        self._marks = 0
        # Signals of the wedge are queued: they are all out one turn of the loop later.
        QTimer.singleShot(0, lambda: tell("report", **self._window.contents(), open=self._is_open()))

    def _is_open(self) -> bool:
        popup = self._window.part("combo").view()
        return popup.isVisible() or (self._open is not None and self._open.isVisible())

    def do_drop(self, _: str) -> None:
        """Open the drop-down list."""
        self._window.part("combo").showPopup()
        tell("done", window=int(self._window.part("combo").view().window().winId()))

    def do_ask(self, _: str) -> None:
        """A question with the dangerous answer as its default button."""
        box = QMessageBox(QMessageBox.Icon.Question, "Probe", "Scrap all?", parent=self._window)
        box.addButton("&Yes", QMessageBox.ButtonRole.YesRole)
        box.addButton("&No", QMessageBox.ButtonRole.NoRole)
        box.finished.connect(lambda answer: tell("effect", of="question", value=answer))
        self._show(box)

    def do_form(self, _: str) -> None:
        """A dialog where Enter in its field presses the default button."""
        form = QDialog(self._window)
        column = QVBoxLayout(form)
        delete, field = QPushButton("Delete"), QLineEdit()
        delete.clicked.connect(lambda: tell("effect", of="delete"))
        field.textChanged.connect(lambda text: tell("effect", of="form field", value=text))
        form.finished.connect(lambda answer: tell("effect", of="form", value=answer))
        column.addWidget(delete)
        column.addWidget(field)
        field.setFocus()
        self._show(form)

    def do_menu(self, _: str) -> None:
        """An open menu with mnemonics."""
        menu = QMenu(self._window)
        for text in ("&Scrap all", "&Keep", "&7 days", "&V1"):
            action = QAction(text, menu)
            action.triggered.connect(lambda _=False, text=text: tell("effect", of="menu", value=text))
            menu.addAction(action)
        self._open = menu
        menu.popup(self._window.mapToGlobal(self._window.rect().center()))
        tell("done", window=int(menu.winId()))

    def _show(self, dialog: QDialog) -> None:
        self._open = dialog
        dialog.open()
        tell("done", window=int(dialog.winId()))

    def do_commit(self, text: str) -> None:
        """What an input method does when it has composed `text`."""
        event = QInputMethodEvent()
        event.setCommitString(text)
        receiver = QApplication.focusObject()
        if receiver is not None:
            QApplication.sendEvent(receiver, event)
        tell("done")

    def do_hide_and_show(self, _: str) -> None:
        """Hide the window and bring it back."""
        self._window.hide()
        QTimer.singleShot(HIDDEN_MS, self._show_again)

    def _show_again(self) -> None:
        self._window.show()
        self._when(self._window.windowHandle().isExposed, lambda: tell("done"))

    def do_busy(self, _: str) -> None:
        """Stop handling events until the next line comes in."""
        tell("done")
        os.read(0, 4096)
        tell("free")

    def do_quit(self, _: str) -> None:
        """End."""
        QApplication.exit(0)


def main(install: Callable[[QApplication, WedgeFilter], None]) -> int:
    """Run until told to quit. `install` puts the wedge in place, or leaves it out to show what it prevents."""
    app = QApplication([])
    wedge = WedgeFilter(WedgeTiming(), app)
    install(app, wedge)
    window = Window()
    probe = Probe(app, window, wedge)
    window.show()
    spare = QWidget()
    spare.show()
    tell("shown", window=int(window.winId()), spare=int(spare.winId()))
    code = app.exec()
    probe.deleteLater()
    return code


if __name__ == "__main__":
    bare = "--bare" in sys.argv
    sys.exit(main(lambda app, wedge: None if bare else app.installEventFilter(wedge)))
