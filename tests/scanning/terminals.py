"""A serial scanner to pull out and plug in: the far end of a pseudo-terminal, found under a name of its own."""

import os
from pathlib import Path


class FarEnd:
    """The scanner's side. `plug_in` gives a new pseudo-terminal and points `name` at it; `pull_out` ends it."""

    def __init__(self, name: Path) -> None:
        """Not plugged in yet."""
        self.name = name
        self._side: int | None = None

    def plug_in(self, name: Path | None = None) -> None:
        """Appear, under another name if one is given."""
        self.name = name or self.name
        self._side, station_side = os.openpty()
        self.name.unlink(missing_ok=True)
        self.name.symlink_to(os.ttyname(station_side))
        os.close(station_side)

    def send(self, data: bytes) -> None:
        """Send bytes as one write."""
        if self._side is None:
            raise AssertionError("the scanner is not plugged in")
        os.write(self._side, data)

    def pull_out(self) -> None:
        """Vanish with the name; nothing happens if it is not plugged in."""
        if self._side is not None:
            os.close(self._side)
            self.name.unlink()
        self._side = None
