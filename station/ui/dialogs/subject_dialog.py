"""What something is to be kept with: touched in a list, or scanned."""

from station.ui.dialogs.sheet import MoreDialog


class SubjectDialog(MoreDialog):
    """Things to choose from; a scan of one while it is open chooses it, and nothing is recorded by that scan."""

    def take_subject(self, about: str) -> None:
        """Something was scanned, as `kind:name`."""
        self.offered.emit(f"note:{about}")
