"""A sheet of paper laid over the screen: a form with a heading, its fields, and what to do with it.

It lies inside the window, never as a window of its own, so it can't be lost behind another one or wait for a window
manager that a kiosk has not; the bar with clock and alarms stays in sight. Scans go on being heard: an Enter that
reaches it presses nothing, and no letter is a shortcut. Only a touch, or Space on the button that has the focus, acts.
"""

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from station.ui.dialogs.choices import ChoiceButton
from station.ui.dialogs.digit_pad import DigitPad
from station.ui.dialogs.fields import Captioned, label
from station.ui.dialogs.look import COMPLAINT, style_sheet
from station.ui.theme import LIGHT, Scale, Theme, scale_for
from station.ui.view_models import ActionModel
from station.ui.widgets.bottom_line import BottomLine
from station.ui.widgets.lettering import Lettered, Lettering, Style
from station.ui.widgets.painted import frame, inset
from station.ui.widgets.top_bar import TopBar
from station.ui.widgets.touch_button import TouchButton

_ENTERS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})
OFFER, LEAVE = "offer", "leave"
NARROW = 800  # logical pixels, below which two columns of fields are too narrow to read


class PaperDialog(QWidget):
    """Base of every form.

    `offered` hands over what was filled in, as a frozen dataclass, once every field reads well; the form stays until
    it is told to `leave` or to `refuse`. `left` comes once, when it goes away, whichever way.
    """

    offered = Signal(object)
    left = Signal()

    def __init__(self, title: str, act: str, host: QWidget, theme: Theme = LIGHT) -> None:
        """A form over `host`; `act` is the word on the button that hands it in."""
        super().__init__(host)
        self.theme, self.title, self._host = theme, title, host
        self.scale: Scale = scale_for(1920, 1080)
        self.lettered: tuple[Lettered, ...] = ()
        self._going = False
        self._focus_before: QWidget | None = None
        self.body = QWidget()
        self.body.setObjectName("paperPage")
        self.page = QBoxLayout(QBoxLayout.Direction.LeftToRight, self.body)
        self.page.setContentsMargins(0, 0, 0, 0)
        self.body.installEventFilter(self)
        self.sentence = label(COMPLAINT)
        self.hand_in = TouchButton(ActionModel(OFFER, act))
        self.hand_in.strong = True
        self.cancel = TouchButton(ActionModel(LEAVE, self.tr("Leave it")))
        self._build()
        self.hide()
        host.installEventFilter(self)

    # ------------------------------------------------------------------ what a subclass gives

    def collect(self) -> object | None:
        """What was filled in, or None after each wrong field got its sentence. Each form has its own."""
        raise NotImplementedError

    def first_field(self) -> QWidget | None:
        """Where a person starts."""
        return None

    def restyle(self) -> None:
        """Colours and sizes are others now; a form with painted parts of its own hands them on."""

    def add_column(self, stretch: int) -> QVBoxLayout:
        """A column of the form; columns stand below each other where the window is narrow."""
        column = QVBoxLayout()
        column.setSpacing(8)
        self.page.addLayout(column, stretch)
        return column

    def add_act(self, button: TouchButton) -> None:
        """A further button below the form, left of the one that hands it in; the form sizes it in `restyle`."""
        self._foot.insertWidget(self._foot.count() - 1, button)

    # ------------------------------------------------------------------ what the window calls

    def open(self) -> None:
        """Lay the form over the screen."""
        for button in self.findChildren(QAbstractButton):
            button.installEventFilter(self)
        self._focus_before = self._host.window().focusWidget()
        self._place()
        self.show()
        self.raise_()
        start = self.first_field()
        (start or self).setFocus(Qt.FocusReason.OtherFocusReason)

    def refuse(self, sentence: str) -> None:
        """Say why what was handed in was not taken; the form stays, with all that was typed."""
        self.remark(sentence)

    def remark(self, sentence: str) -> None:
        """Say something above the buttons, or nothing more; what is being typed goes on undisturbed."""
        self.sentence.setText(sentence)
        self.sentence.setVisible(bool(sentence))
        self._lay_sheet()

    def leave(self) -> None:
        """Take the form away."""
        if self._going:
            return
        self._going = True
        self._host.removeEventFilter(self)
        self.hide()
        before = self._focus_before
        # The screen below lives on meanwhile: the button that opened the form may have made room for others.
        if before is not None and isValid(before) and before.isVisible():
            before.setFocus(Qt.FocusReason.OtherFocusReason)
        self.left.emit()
        self.deleteLater()

    def name_leaving(self, word: str) -> None:
        """Another word on the button that leaves: a form over another one goes back to it."""
        self.cancel.action_model = ActionModel(LEAVE, word)
        self.cancel.setAccessibleName(word)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours for other surroundings."""
        self.theme = theme
        self._place()

    # ------------------------------------------------------------------ keys

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Follow the window's size; on some desktops Enter presses a button that has the focus: here it never does."""
        if isinstance(event, QKeyEvent) and event.key() in _ENTERS and isinstance(watched, QAbstractButton):
            return True
        if event.type() == QEvent.Type.Resize and watched is self._host:
            self._place()
        if event.type() == QEvent.Type.LayoutRequest and watched is self.body:
            self._lay_sheet()
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Esc leaves; every other key ends here, so that nothing below the form answers it."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """What lies below can't be touched."""
        event.accept()

    def focusNextPrevChild(self, forward: bool) -> bool:  # noqa: N802 - Qt's name and signature
        """Tab goes round inside the form."""
        ring = self._ring()
        if not ring:
            return True
        here = self._host.window().focusWidget()
        step = 1 if forward else -1
        place = ring.index(here) + step if here in ring else 0
        following = ring[place % len(ring)]
        following.setFocus(Qt.FocusReason.TabFocusReason)
        self._scroll.ensureWidgetVisible(following)
        return True

    def _ring(self) -> list[QWidget]:
        found: list[QWidget] = []
        widget = self.nextInFocusChain()
        while widget is not None and widget is not self:
            takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.isEnabled()
            if takes and self.isAncestorOf(widget) and widget.isVisibleTo(self) and widget is not self._scroll:
                found.append(widget)
            widget = widget.nextInFocusChain()
        return found

    # ------------------------------------------------------------------ how it looks

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Cover what lies below, lay the sheet, and write its heading."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self.theme.bottom.ground))
        sheet = QRectF(self._sheet.geometry())
        painter.fillRect(sheet, QColor(self.theme.body.ground))
        head = QRectF(sheet.left(), sheet.top(), sheet.width(), self._head_height())
        painter.fillRect(head, QColor(self.theme.act.ground))
        style = Style(self.scale.of(38), self.theme.act, bold=True)
        lettering = Lettering(painter)
        lettering.block(self.title, inset(head, self.scale.of(28), self.scale.of(6)), style, middle=True)
        self.lettered = tuple(lettering.records)
        frame(painter, sheet, self.theme.outline.shape, max(3.0, self.scale.of(6)))
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Hang the sheet below the bar."""
        self._lay_sheet()

    def _build(self) -> None:
        self._sheet = QWidget(self)
        self._column = QVBoxLayout(self._sheet)
        self._scroll = QScrollArea()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.viewport().setObjectName("paperBody")
        self._scroll.setWidget(self.body)
        self._foot = foot = QHBoxLayout()
        foot.addWidget(self.cancel)
        foot.addStretch(1)
        foot.addWidget(self.hand_in)
        self._column.addWidget(self._scroll, 1)
        self._column.addWidget(self.sentence)
        self._column.addLayout(foot)
        self.sentence.hide()
        for button in (self.cancel, self.hand_in):
            button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.cancel.acted.connect(self.leave)
        self.hand_in.acted.connect(self._hand_in)

    def _hand_in(self) -> None:
        self.refuse("")
        answer = self.collect()
        if answer is not None:
            self.offered.emit(answer)
            return
        wrong = next((part for part in self.findChildren(Captioned) if part.complaint.isVisibleTo(self)), None)
        if wrong is not None:
            self._scroll.ensureWidgetVisible(wrong)

    def _place(self) -> None:
        self.scale = scale_for(self._host.width(), self._host.height(), self.logicalDpiX())
        self._sheet.setStyleSheet(style_sheet(self.theme, self.scale))
        parts: list[TouchButton | ChoiceButton | DigitPad] = [*self.findChildren(TouchButton)]
        parts += [*self.findChildren(ChoiceButton), *self.findChildren(DigitPad)]
        for part in parts:
            part.set_look(self.theme, self.scale)
        self.restyle()
        narrow = self._host.width() < NARROW
        self.page.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)
        self.page.setSpacing(8 if narrow else round(self.scale.of(36)))
        for button in (self.cancel, self.hand_in):
            button.setFixedSize(QSize(round(self.scale.of(360)), round(self.scale.touch * 1.1)))
        thick = round(self.scale.of(20))
        self._column.setContentsMargins(thick, round(self._head_height()) + thick // 2, thick, thick)
        self._column.setSpacing(round(self.scale.of(12)))
        self.setGeometry(self._free_area())
        self._lay_sheet()
        self.update()

    def _head_height(self) -> float:
        return max(self.scale.of(76), 44.0)

    def _free_area(self) -> QRect:
        """All of the window but the bar above and the line below, which stay in sight."""
        whole = self._host.rect()
        bar, foot = self._host.findChild(TopBar), self._host.findChild(BottomLine)
        top = bar.mapTo(self._host, bar.rect().bottomLeft()).y() + 1 if bar is not None else 0
        end = foot.mapTo(self._host, foot.rect().topLeft()).y() if foot is not None else whole.height()
        return whole if end - top < whole.height() * 0.5 else QRect(0, top, whole.width(), end - top)

    def _lay_sheet(self) -> None:
        room, edge = self.size(), round(self.scale.of(14))
        wide = min(room.width() - 2 * edge, round(self.scale.of(self.widest())))
        inner = wide - 2 * round(self.scale.of(20))
        chrome = self._head_height() + self.scale.touch * 1.1 + self.scale.of(60)
        if not self.sentence.isHidden():
            chrome += self.sentence.heightForWidth(inner) + self.scale.of(12)
        most = room.height() - 2 * edge
        wanted = self._page_height(inner)
        whole = wanted + chrome <= most
        if not whole:
            wanted = self._page_height(inner - round(self.scale.touch))
        # Left to itself the bar stays once it was there, as beside it the lines wrap and the page is longer.
        off, on = Qt.ScrollBarPolicy.ScrollBarAlwaysOff, Qt.ScrollBarPolicy.ScrollBarAlwaysOn
        self._scroll.setVerticalScrollBarPolicy(off if whole else on)
        # A scroll area asks for no height by width: without this, wrapped lines would squeeze what is to be touched.
        self.body.setMinimumHeight(wanted)
        high = min(most, round(wanted + chrome))
        # Hung from the top: a sentence that comes or goes moves no field away from under a finger.
        self._sheet.setGeometry((room.width() - wide) // 2, edge, wide, high)
        self.update()

    def _page_height(self, width: int) -> int:
        return max(self.page.heightForWidth(width), self.page.minimumSize().height())

    def widest(self) -> float:
        """Most width of the sheet, at 1920 x 1080."""
        return 1500.0
