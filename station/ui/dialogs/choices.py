"""One answer out of a few, each to touch; the chosen one is told by a filled and ticked square, not by colour alone."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QSizePolicy, QWidget

from station.ui.dialogs.fields import Captioned
from station.ui.theme import LIGHT, Pair, Scale, Theme, scale_for
from station.ui.view_models import ActionModel
from station.ui.widgets.lettering import Lettered, Lettering, Style
from station.ui.widgets.painted import frame, inset, outline_pen


class ChoiceButton(QAbstractButton):
    """One answer; checkable, worked by touch or by Space when it has the focus."""

    def __init__(self, action: ActionModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.action_model = action
        self.theme: Theme = LIGHT
        self.scale: Scale = scale_for(1920, 1080)
        self.lettered: tuple[Lettered, ...] = ()
        self.setCheckable(True)
        self.setEnabled(action.enabled)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(action.label)
        self.setAccessibleDescription(action.hint)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes."""
        self.theme, self.scale = theme, scale
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """At least 15 mm each way."""
        return QSize(round(max(self.scale.touch * 1.6, self.scale.of(150))), round(self.scale.touch))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """At least 15 mm each way."""
        return QSize(round(self.scale.touch), round(self.scale.touch))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Draw outline, square, label and hint."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lettering, area, pair = Lettering(painter), QRectF(self.rect()), self._pair()
        painter.fillRect(area, QColor(pair.ground))
        self._outline(painter, area, pair)
        side = self.scale.of(28)
        box = QRectF(area.left() + self.scale.of(16), area.center().y() - side / 2, side, side)
        self._square(painter, box, pair)
        words = area.adjusted(self.scale.of(56), self.scale.of(5), -self.scale.of(10), -self.scale.of(5))
        self._words(lettering, words, pair)
        self.lettered = tuple(lettering.records)
        painter.end()

    def _pair(self) -> Pair:
        if not self.isEnabled():
            return self.theme.disabled
        return self.theme.act if self.isChecked() else self.theme.card

    def _outline(self, painter: QPainter, area: QRectF, pair: Pair) -> None:
        width = max(2.0, self.scale.of(4))
        if not self.isEnabled():
            painter.setPen(outline_pen(pair.text, width / 2, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(inset(area, width / 2, width / 2))
            return
        frame(painter, area, self.theme.outline.shape, width)
        if self.hasFocus():
            frame(painter, inset(area, width * 1.6, width * 1.6), pair.text, width * 0.8)

    def _square(self, painter: QPainter, box: QRectF, pair: Pair) -> None:
        frame(painter, box, pair.text, max(2.0, box.width() * 0.11))
        if not self.isChecked():
            return
        painter.fillRect(box, QColor(pair.text))
        painter.setPen(outline_pen(pair.ground, box.width() * 0.16))
        at = ((0.2, 0.52), (0.42, 0.74), (0.8, 0.28))
        points = [QPointF(box.left() + box.width() * x, box.top() + box.height() * y) for x, y in at]
        painter.drawPolyline(QPolygonF(points))

    def _words(self, lettering: Lettering, area: QRectF, pair: Pair) -> None:
        bold, plain = Style(self.scale.of(27), pair, bold=True), Style(self.scale.of(21), pair)
        if not self.action_model.hint:
            lettering.block(self.action_model.label, area, bold, middle=True)
            return
        cut = area.height() * 0.54
        lettering.block(self.action_model.label, area.adjusted(0, 0, 0, cut - area.height()), bold, middle=True)
        lettering.block(self.action_model.hint, area.adjusted(0, cut, 0, 0), plain, middle=True)


class ChoiceGroup(Captioned):
    """Answers in a grid, at most one of them chosen; nothing is chosen before a person does it."""

    chosen_changed = Signal(str)

    def __init__(self, caption: str, columns: int, parent: QWidget | None = None) -> None:
        super().__init__(caption, parent)
        self.buttons: list[ChoiceButton] = []
        self._columns = columns
        self._grid_of = QWidget()
        self._grid = QGridLayout(self._grid_of)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(6)
        self.set_content(self._grid_of)

    @property
    def chosen(self) -> str | None:
        """The id of the chosen answer."""
        return next((button.action_model.id for button in self.buttons if button.isChecked()), None)

    def offer(self, actions: tuple[ActionModel, ...], theme: Theme, scale: Scale) -> None:
        """Offer other answers. What was chosen stays chosen if it is still offered, an only one is chosen."""
        before = self.chosen
        for button in self.buttons:
            self._grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = [self.make(action) for action in actions]
        for number, button in enumerate(self.buttons):
            self._grid.addWidget(button, number // self._columns, number % self._columns)
            button.set_look(theme, scale)
            button.clicked.connect(self._clicked)
            only = len(actions) == 1 and button.isEnabled()
            button.setChecked(only or (button.action_model.id == before and button.isEnabled()))

    def make(self, action: ActionModel) -> ChoiceButton:
        """One answer as it looks here."""
        return ChoiceButton(action)

    def choose(self, id_: str) -> None:
        """Choose an answer as a touch would; one that is not offered or not allowed changes nothing."""
        for button in self.buttons:
            if button.action_model.id == id_ and button.isEnabled():
                self._only(button)

    def required(self, sentence: str) -> str | None:
        """The chosen id, or None with `sentence` below the answers."""
        if self.chosen is None:
            self.complain(sentence)
        return self.chosen

    def clear(self) -> None:
        """Choose nothing."""
        for button in self.buttons:
            button.setChecked(False)

    def _clicked(self) -> None:
        button = self.sender()
        if isinstance(button, ChoiceButton):
            self._only(button)

    def _only(self, chosen: ChoiceButton) -> None:
        for button in self.buttons:
            button.setChecked(button is chosen)
        self.calm()
        self.chosen_changed.emit(chosen.action_model.id)
