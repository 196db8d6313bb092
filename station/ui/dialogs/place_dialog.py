"""Where the station works from now: every place of the site, each to touch."""

from PySide6.QtWidgets import QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel


class PlaceDialog(PaperDialog):
    """Asks for a place; `offered` hands over its id."""

    def __init__(self, places: tuple[ActionModel, ...], current: str, host: QWidget, theme: Theme = LIGHT) -> None:
        """`places` carry the place's id, its title and what it is; `current` is chosen already."""
        super().__init__("Where do you work now?", "Work here", host, theme)
        column = self.add_column(1)
        self.place = ChoiceGroup(self.tr("Place"), 2)
        self.place.offer(places, self.theme, self.scale)
        self.place.choose(current)
        column.addWidget(self.place)
        column.addStretch(1)

    def widest(self) -> float:
        """Narrower than a form with fields."""
        return 1250.0

    def collect(self) -> str | None:
        """The place's id, or None after the sentence that says what is missing."""
        return self.place.required(self.tr("Choose a place."))
