"""A plugin for pytest: nothing of Qt can be imported, as on a PC where it was never installed."""

import sys


class NoQt:
    """A finder that comes first and refuses."""

    @staticmethod
    def find_spec(name: str, *_: object) -> None:
        """Refuse Qt; leave everything else to those who come after."""
        if name.partition(".")[0] in ("PySide6", "shiboken6"):
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)


sys.meta_path.insert(0, NoQt())
