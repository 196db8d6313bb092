"""Which version of a specification holds for one container: the tighter one unless a shift lead says otherwise."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtWidgets import QVBoxLayout, QWidget

from station.ui.dialogs.choices import ChoiceGroup
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.theme import LIGHT, Theme
from station.ui.view_models import ActionModel


@dataclass(frozen=True)
class VersionWord:
    """The version a shift lead puts in force."""

    badge: str
    pin: str = field(repr=False)
    reason: str
    version: int


class VersionDialog(LeadDialog):
    """Asks for a version; `offered` hands over a `VersionWord`."""

    def __init__(
        self,
        title: str,
        versions: tuple[ActionModel, ...],
        host: QWidget,
        theme: Theme = LIGHT,
        *,
        lines: tuple[str, ...] = (),
        people: Mapping[str, str] | None = None,
    ) -> None:
        """`versions` by their number, the safe one first, which is chosen beforehand."""
        self._versions = versions
        super().__init__(title, host, theme, lines=lines, act="Put it in force", people=people)

    def build_story(self, story: QVBoxLayout) -> None:
        """The versions, the safe one chosen."""
        self.versions = ChoiceGroup(self.tr("Which version holds for it, the safe one first"), 1)
        self.versions.offer(self._versions, self.theme, self.scale)
        self.versions.choose(self._versions[0].id)
        story.addWidget(self.versions)

    def collect(self) -> object | None:
        """The `VersionWord`, or None after each missing field got its sentence."""
        version = self.versions.required(self.tr("Say which version."))
        proof = self.proof()
        if version is None or proof is None:
            return None
        return VersionWord(proof.badge, proof.pin, proof.reason, int(version))
