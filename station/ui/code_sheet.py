"""A sheet of codes on the screen, to scan or to click: containers, cards, tags, badges, work orders.

Every code is black on white with its quiet zone, whatever the colours of the screen, and each of its modules is the
same whole number of the screen's own dots, whatever the scale: a code stretched by a part of a dot reads badly.
"""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from station.labels.faults import LabelFault
from station.labels.symbol import QUIET_MODULES, modules_of
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import label
from station.ui.dialogs.look import NOTE, style_sheet
from station.ui.theme import LIGHT, Pair, Scale, Theme, scale_for
from station.ui.view_models import ActionModel
from station.ui.widgets.lettering import Align, Lettered, Lettering, Style
from station.ui.widgets.painted import frame

BLACK_ON_WHITE = Pair("#000000", "#FFFFFF")
GAP = 24  # between neighbours, so that a reader sees one code at a time
NO_CODE = "no code for this text: click it"


@dataclass(frozen=True)
class CodeEntry:
    """One code: what stands below it, the text it carries, and a second line."""

    caption: str
    text: str
    note: str = ""


@dataclass(frozen=True)
class CodeSection:
    """Codes of one sort, such as `Containers`."""

    title: str
    entries: tuple[CodeEntry, ...]


class CodeTile(QAbstractButton):
    """One code with its caption, black on white."""

    def __init__(self, entry: CodeEntry, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.entry = entry
        self.scale: Scale = scale_for(1024, 768)
        self.lettered: tuple[Lettered, ...] = ()
        self.modules: list[list[bool]] | None
        try:
            self.modules = modules_of(entry.text)
        except LabelFault:
            self.modules = None
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"{entry.caption} {entry.note}".strip())

    def set_scale(self, scale: Scale) -> None:
        """Take other sizes; the colours are always black on white."""
        self.scale = scale
        self.setFixedSize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Room for a code of version 2 at about five dots a module, and two lines below."""
        side = max(170.0, self.scale.of(220))
        return QSize(round(side), round(side + self._words_height()))

    def _words_height(self) -> float:
        return max(44.0, self.scale.of(74))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Draw the white ground, the code at whole dots, and its caption."""
        painter = QPainter(self)
        area = QRectF(self.rect())
        painter.fillRect(area, QColor(BLACK_ON_WHITE.ground))
        thick = 6.0 if self.isDown() or self.hasFocus() else 3.0
        frame(painter, area, BLACK_ON_WHITE.text, thick)
        square = area.adjusted(6, 6, -6, -self._words_height())
        lettering = Lettering(painter)
        if self.modules is None:
            style = Style(self.scale.of(26), BLACK_ON_WHITE, align=Align.CENTRE)
            lettering.block(NO_CODE, square.adjusted(10, 10, -10, -10), style, middle=True)
        else:
            draw_code(painter, self.modules, square)
        self._words(lettering, area)
        self.lettered = tuple(lettering.records)
        painter.end()

    def _words(self, lettering: Lettering, area: QRectF) -> None:
        words = area.adjusted(8, area.height() - self._words_height(), -8, -5)
        cut = words.height() * (0.55 if self.entry.note else 1.0)
        bold = Style(max(15.0, self.scale.of(28)), BLACK_ON_WHITE, bold=True, align=Align.CENTRE)
        plain = Style(max(12.0, self.scale.of(21)), BLACK_ON_WHITE, align=Align.CENTRE)
        lettering.line(self.entry.caption, QRectF(words.left(), words.top(), words.width(), cut), bold)
        below = words.adjusted(0, cut, 0, 0)
        lettering.line(self.entry.note, below, plain)


def draw_code(painter: QPainter, modules: list[list[bool]], square: QRectF) -> None:
    """Draw a symbol with its quiet zone in the middle of `square` (the painter's units).

    Each module takes the same whole number of device dots and starts on a whole dot; nothing where there is no room
    for one dot a module.
    """
    ratio = painter.device().devicePixelRatioF()
    across = len(modules) + 2 * QUIET_MODULES
    dots = int(min(square.width(), square.height()) * ratio // across)
    if dots < 1:
        return
    image = code_image(modules, dots)
    image.setDevicePixelRatio(ratio)
    side = image.width() / ratio
    wanted = QPointF(square.center().x() - side / 2, square.center().y() - side / 2)
    to_device = painter.deviceTransform()
    corner = to_device.map(wanted)
    back, _ = to_device.inverted()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
    painter.drawImage(back.map(QPointF(round(corner.x()), round(corner.y()))), image)


def code_image(modules: list[list[bool]], dots: int) -> QImage:
    """The symbol with four modules of white around it, `dots` device dots for each module, black on white."""
    side = (len(modules) + 2 * QUIET_MODULES) * dots
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.fill(QColor(BLACK_ON_WHITE.ground))
    painter = QPainter(image)
    black = QColor(BLACK_ON_WHITE.text)
    for row, line in enumerate(modules):
        for column, dark in enumerate(line):
            if dark:
                left, top = (column + QUIET_MODULES) * dots, (row + QUIET_MODULES) * dots
                painter.fillRect(left, top, dots, dots, black)
    painter.end()
    return image


class TileFlow(QWidget):
    """Tiles in as many columns as there is room for; `picked` tells the text of the one that was clicked."""

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tiles: list[CodeTile] = []

    def show_entries(self, entries: tuple[CodeEntry, ...], scale: Scale) -> None:
        """Show other codes."""
        for tile in self.tiles:
            tile.hide()
            tile.deleteLater()
        self.tiles = [CodeTile(entry, self) for entry in entries]
        for tile in self.tiles:
            tile.clicked.connect(self._clicked)
            tile.set_scale(scale)
            tile.show()
        self._lay()

    def set_scale(self, scale: Scale) -> None:
        """Take other sizes."""
        for tile in self.tiles:
            tile.set_scale(scale)
        self._lay()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Share the width."""
        self._lay()

    def _lay(self) -> None:
        if not self.tiles:
            self.setMinimumHeight(0)
            return
        size = self.tiles[0].size()
        columns = max(1, (self.width() - GAP) // (size.width() + GAP))
        for number, tile in enumerate(self.tiles):
            row, column = divmod(number, columns)
            tile.move(GAP + column * (size.width() + GAP), GAP + row * (size.height() + GAP))
        rows = -(-len(self.tiles) // columns)
        self.setMinimumHeight(GAP + rows * (size.height() + GAP))

    def _clicked(self) -> None:
        tile = self.sender()
        if isinstance(tile, CodeTile):
            self.picked.emit(tile.entry.text)


class CodeSheet(QWidget):
    """A window with the codes of one section at a time; `picked` tells the text of a code that was clicked."""

    picked = Signal(str)

    def __init__(self, sections: tuple[CodeSection, ...], parent: QWidget | None = None, theme: Theme = LIGHT) -> None:
        super().__init__(parent)
        self.theme, self.sections = theme, sections
        self.scale: Scale = scale_for(1024, 768)
        self.setWindowTitle(self.tr("Codes to scan or to click"))
        self.titles = ChoiceGroup(self.tr("Show"), columns=1)
        self.titles.chosen_changed.connect(self._show_section)
        self.flow = TileFlow()
        self.flow.picked.connect(self.picked)
        self._build()
        self.resize(1000, 760)
        self._offer()

    def show_sections(self, sections: tuple[CodeSection, ...]) -> None:
        """Show other codes, in the same section as before where there still is one."""
        if sections != self.sections:
            self.sections = sections
            self._offer()

    def show_section(self, title: str) -> None:
        """Show the section with this title."""
        self.titles.choose(title)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Letters grow with the window, as everywhere."""
        self._look()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        """Lay the ground of the window."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.theme.body.ground))
        painter.end()

    def _build(self) -> None:
        self._scroll = QScrollArea()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.viewport().setObjectName("paperBody")
        self.flow.setObjectName("paperPage")
        self._scroll.setWidget(self.flow)
        side = QVBoxLayout()
        side.addWidget(self.titles)
        side.addWidget(label(NOTE, self.tr("A click counts as a scan at the place that is shown in the window.")))
        side.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 14, 0, 0)
        row.addLayout(side, 1)
        row.addWidget(self._scroll, 3)

    def _offer(self) -> None:
        titles = tuple(ActionModel(section.title, section.title) for section in self.sections)
        self.titles.offer(titles, self.theme, self.scale)
        if self.titles.chosen is None and titles:
            self.titles.choose(titles[0].id)
        else:
            self._show_section(self.titles.chosen or "")

    def _show_section(self, title: str) -> None:
        entries = next((section.entries for section in self.sections if section.title == title), ())
        self.flow.show_entries(entries, self.scale)
        self._scroll.verticalScrollBar().setValue(0)

    def _look(self) -> None:
        self.scale = scale_for(self.width() * 1.3, self.height() * 1.3, self.logicalDpiX())
        self.setStyleSheet(style_sheet(self.theme, self.scale))
        for button in self.titles.buttons:
            button.set_look(self.theme, self.scale)
        self.flow.set_scale(self.scale)
