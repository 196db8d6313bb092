"""A thing to touch: thick outline, square corners, never smaller than a gloved finger needs."""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from station.ui.theme import LIGHT, Pair, Scale, Theme, scale_for
from station.ui.view_models import ActionModel
from station.ui.widgets.lettering import Align, Lettered, Lettering, Style, line_height, width_of
from station.ui.widgets.painted import frame, inset, outline_pen


class TouchButton(QAbstractButton):
    """Offers one action; emits its id when touched, clicked or pressed with Space while it has the focus."""

    acted = Signal(str)

    def __init__(self, action: ActionModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.action_model = action
        self.theme: Theme = LIGHT
        self.scale: Scale = scale_for(1920, 1080)
        self.lettered: tuple[Lettered, ...] = ()
        self.strong = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(action.label)
        self.setAccessibleDescription(action.hint)
        self.setEnabled(action.enabled)
        self.clicked.connect(self._tell)

    def _tell(self) -> None:
        self.acted.emit(self.action_model.id)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes."""
        if (theme, scale) != (self.theme, self.scale):
            self.theme, self.scale = theme, scale
            self.update()

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """At least 15 mm each way."""
        side = round(self.scale.touch)
        return QSize(side, side)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Room for a word and its hint."""
        return QSize(round(max(self.scale.touch, self.scale.of(220))), round(self.wanted_height()))

    def wanted_height(self) -> float:
        """Height in pixels at which label and hint stand in their wanted size."""
        if self.action_model.hint:
            return max(self.scale.touch * 1.3, self.scale.of(104))
        return max(self.scale.touch, self.scale.of(64))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw outline, label, hint and key."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lettering = Lettering(painter)
        area = QRectF(self.rect())
        self._outline(painter, area, self._pair())
        self._words(lettering, inset(area, self.scale.of(12), self.scale.of(8)), self._pair())
        self.lettered = tuple(lettering.records)
        painter.end()

    def _pair(self) -> Pair:
        if not self.isEnabled():
            return self.theme.disabled
        if self.isDown():
            return self.theme.pressed
        return self.theme.act if self.strong else self.theme.card

    def _outline(self, painter: QPainter, area: QRectF, pair: Pair) -> None:
        painter.fillRect(area, QColor(pair.ground))
        width = max(2.0, self.scale.of(4))
        if not self.isEnabled():
            painter.setPen(outline_pen(pair.text, width / 2, Qt.PenStyle.DashLine))
            painter.drawRect(inset(area, width / 2, width / 2))
            return
        frame(painter, area, self.theme.outline.shape, width)
        if self.hasFocus():
            frame(painter, inset(area, width * 1.6, width * 1.6), pair.text, width * 0.8)

    def _words(self, lettering: Lettering, area: QRectF, pair: Pair) -> None:
        label = Style(self.scale.of(29), pair, bold=True, align=Align.CENTRE)
        if self.action_model.key:
            area = self._key(lettering, area, pair)
        hint = Style(self.scale.of(22), pair, align=Align.CENTRE)
        if not self.action_model.hint:
            lettering.block(self.action_model.label, area, label, middle=True)
            return
        foot = min(line_height(hint) * 1.05, area.height() * 0.42)
        above, below = area.adjusted(0, 0, 0, -foot), area.adjusted(0, area.height() - foot, 0, 0)
        lettering.block(self.action_model.label, above, label, middle=True)
        lettering.line(self.action_model.hint, below, hint)

    def _key(self, lettering: Lettering, area: QRectF, pair: Pair) -> QRectF:
        style = Style(self.scale.of(19), pair)
        wide = width_of(self.action_model.key, style) + 2
        lettering.line(self.action_model.key, QRectF(area.left(), area.top(), wide, style.size), style)
        beside = wide + self.scale.of(6)
        label = Style(self.scale.of(29), pair, bold=True)
        roomy = width_of(self.action_model.label, label) + 2 * beside <= area.width()
        return area.adjusted(beside, 0, -beside if roomy else -self.scale.of(2), 0)
