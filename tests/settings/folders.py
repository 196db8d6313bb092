"""Settings folders to break: a copy of a good one, edited by plain text."""

import shutil
from pathlib import Path

from station.settings import SettingsFault, SettingsRefused, load

DEMO = Path(__file__).parents[2] / "demo_config"
PLANT_T = Path(__file__).parents[1] / "plant_t"


class Folder:
    """A settings folder of its own."""

    def __init__(self, path: Path, copy_of: Path) -> None:
        shutil.copytree(copy_of, path)
        self.path = path

    def edit(self, file: str, old: str, new: str) -> "Folder":
        """Put `new` for the first `old`, which must be there."""
        text = (self.path / file).read_text(encoding="utf-8")
        assert old in text, f"{old!r} is not in {file}"
        (self.path / file).write_text(text.replace(old, new, 1), encoding="utf-8")
        return self

    def faults(self) -> tuple[SettingsFault, ...]:
        """Everything the reader finds wrong; empty where it loads."""
        try:
            load(self.path)
        except SettingsRefused as refused:
            return refused.faults
        return ()

    def only_fault(self) -> SettingsFault:
        """The one fault there is, and no second."""
        found = self.faults()
        assert len(found) == 1, [fault.sentence for fault in found]
        return found[0]
