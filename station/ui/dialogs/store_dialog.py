"""Something said of a whole store: which one, since when, perhaps where all of it goes, and what that would do."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.fields import label
from station.ui.dialogs.instant_field import InstantField
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.look import TEXT
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel

Preview = Callable[[str, str], tuple[str, ...]]


@dataclass(frozen=True)
class StoreWord:
    """What a shift lead said of a store: since when (aware UTC), and where it all goes; `to` is empty for out."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    store: str
    to: str
    since: datetime


@dataclass(frozen=True)
class StoreActShown:
    """How the form of one act reads. `targets` are the other stores by the one they stand beside, empty where
    nothing is moved; `preview` says line by line what the act would do to a store, and to which other one."""

    title: str
    act: str
    since: str
    stores: tuple[ActionModel, ...]
    targets: Mapping[str, tuple[ActionModel, ...]]
    preview: Preview


class StoreDialog(LeadDialog):
    """Asks for a store, a time and perhaps another store; `offered` hands over a `StoreWord`."""

    def __init__(
        self,
        shown: StoreActShown,
        now: datetime,
        zone: ZoneInfo,
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`now` (aware UTC) fills in the day; the time of day is nobody's but the lead's to say."""
        self._shown, self._now, self._zone = shown, now, zone
        super().__init__(shown.title, host, theme, act=shown.act, people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The store, where to, since when, and what that would do."""
        self.store = ChoiceGroup(self.tr("Which store"), 2)
        self.target = ChoiceGroup(self.tr("Where all of it goes"), 2)
        self.preview = label(TEXT)
        self.since = InstantField(self._shown.since, self._zone)
        self.since.day.fill(self._now.astimezone(self._zone).date().isoformat())
        self.store.chosen_changed.connect(self._store_chosen)
        self.target.chosen_changed.connect(self._look_again)
        for part in (self.store, self.target, self.preview, self.since):
            story.addWidget(part)
        self.target.setVisible(bool(self._shown.targets))
        self.store.offer(self._shown.stores, self.theme, self.scale)
        self._store_chosen()

    def first_field(self) -> QWidget:
        """The time, or the first store where one is still to be chosen."""
        return self.since.clock.line if self.store.chosen else self.store.buttons[0]

    def collect(self) -> object | None:
        """The `StoreWord`, or None after each missing or wrong field got its sentence."""
        store = self.store.required(self.tr("Say which store."))
        to = self.target.required(self.tr("Say which store it goes to.")) if self._shown.targets else ""
        since = self.since.answer()
        proof = self.proof()
        if store is None or to is None or since is None or proof is None:
            return None
        return StoreWord(proof.badge, proof.pin, proof.reason, store, to, since)

    def _store_chosen(self) -> None:
        targets = self._shown.targets.get(self.store.chosen or "", ())
        self.target.offer(targets, self.theme, self.scale)
        self.target.note("" if targets or not self.store.chosen else self.tr("There is no other store of that kind."))
        self._look_again()

    def _look_again(self) -> None:
        store, to = self.store.chosen, self.target.chosen
        ready = store is not None and (to is not None or not self._shown.targets)
        lines = self._shown.preview(store or "", to or "") if ready else ()
        self.preview.setText("\n".join(lines))
        self.preview.setVisible(bool(lines))
