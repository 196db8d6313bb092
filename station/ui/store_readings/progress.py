"""How much of a file is read: a bar that fills from the left."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from station.ui.theme import LIGHT, Scale, Theme, scale_for
from station.ui.widgets.painted import frame, inset


class ProgressBar(QWidget):
    """Shows a share from 0 to 1; it keeps its place while it is not to be seen, so that no field moves."""

    def __init__(self) -> None:
        """Nothing is read yet."""
        super().__init__()
        self.theme: Theme = LIGHT
        self.scale: Scale = scale_for(1920, 1080)
        self.share = 0.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        kept = self.sizePolicy()
        kept.setRetainSizeWhenHidden(True)
        self.setSizePolicy(kept)
        self.hide()

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes."""
        self.theme, self.scale = theme, scale
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """A slim bar as wide as its column."""
        return QSize(round(self.scale.of(200)), round(self.scale.of(34)))

    def show_share(self, share: float) -> None:
        """So much is done; a file can turn out longer than it was thought to be."""
        self.share = min(max(share, 0.0), 1.0)
        self.setAccessibleName(f"{self.share:.0%}")
        self.show()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Draw the frame and what is full of it."""
        painter, area = QPainter(self), QRectF(self.rect())
        width = max(2.0, self.scale.of(4))
        painter.fillRect(area, QColor(self.theme.card.ground))
        full = inset(area, width * 1.5, width * 1.5)
        full.setWidth(full.width() * self.share)
        painter.fillRect(full, QColor(self.theme.act.ground))
        frame(painter, area, self.theme.outline.shape, width)
        painter.end()
