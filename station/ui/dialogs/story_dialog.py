"""A story to read: its lines as a table, and above them the same drawn on the time board."""

from PySide6.QtWidgets import QWidget

from station.reports.document import Report
from station.ui.dialogs.report_dialog import ShownReport
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import BoardModel
from station.ui.widgets.time_board import TimeBoard

BOARD_SHARE, BOTH_SHARE = 0.28, 0.55  # of the window's height, at most: the board, and the lines with it
UNBOUND = 16_777_215  # Qt's own word for it


class ShownStory(ShownReport):
    """A report of stories; `boards` belong to its tables, None where nothing was told."""

    def __init__(
        self, report: Report, boards: tuple[BoardModel | None, ...], host: QWidget, theme: Theme = LIGHT
    ) -> None:
        """It shows the first table that has rows, and its board."""
        self._boards = boards
        self.board = TimeBoard()
        super().__init__(report, host, theme)
        self.column.insertWidget(1, self.board)

    def show_table(self, place: int) -> None:
        """Show one of the stories."""
        self.board.show_model(self._boards[place] if place < len(self._boards) else None)
        super().show_table(place)

    def take_board(self, board: BoardModel) -> None:
        """More is drawn of the one story that is told here."""
        self._boards = (board,)
        self.board.show_model(board)
        self.fit()

    def restyle(self) -> None:
        """The board in the form's colours, as high as its rows want, but the lines have to be read too."""
        self.board.set_look(self.theme, self.scale)
        super().restyle()

    def fit(self) -> None:
        """Share the height out between the board and the lines."""
        super().fit()
        model = self.board.model
        self.board.setVisible(model is not None)
        if model is None:
            self.view.setMaximumHeight(UNBOUND)
            return
        high = self.window().height()
        board = round(min(high * BOARD_SHARE, self.board.preferred_height(self.width())))
        self.board.setFixedHeight(board)
        self.view.setFixedHeight(round(high * BOTH_SHARE) - board)
