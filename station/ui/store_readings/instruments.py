"""Which of a store's instruments it was, and that the calibration of one has run out."""

from collections.abc import Mapping

from station.care.floor import Floor
from station.ui.dialogs.choices import ChoiceGroup
from station.ui.theme import Scale, Theme
from station.ui.view_models import ActionModel

Instruments = Mapping[str, tuple[ActionModel, ...]]


def instruments_of(floor: Floor) -> Instruments:
    """The instruments of each store, each with the last day of its calibration."""
    today = floor.now.astimezone(floor.zone).date()
    found: dict[str, tuple[ActionModel, ...]] = {}
    for one in floor.plant.instruments.values():
        due = f"{one.calibration_due:%Y-%m-%d}"
        hint = f"CALIBRATION OVERDUE since {due}" if one.overdue(today) else f"calibrated until {due}"
        found[one.store] = (*found.get(one.store, ()), ActionModel(one.id, one.id, hint))
    return found


class InstrumentChoice(ChoiceGroup):
    """The instruments of the store that was chosen; not to be seen where the settings name none of it."""

    def __init__(self, caption: str, instruments: Instruments) -> None:
        """Nothing is offered before a store is chosen."""
        super().__init__(caption, 1)
        self._instruments = instruments
        self.hide()

    def of_store(self, store: str, theme: Theme, scale: Scale) -> None:
        """Offer those of a store; an only one is chosen."""
        here = self._instruments.get(store, ())
        self.offer(here, theme, scale)
        self.setVisible(bool(here))

    def answer(self, sentence: str) -> str | None:
        """The chosen one, empty where there is none to choose; None with `sentence` where it is still to be said."""
        return self.required(sentence) if self.buttons else ""
