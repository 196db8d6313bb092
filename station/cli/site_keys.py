"""The site's key as the commands read it."""

from pathlib import Path

from station.bootstrap import KEY_NAME, keys_in
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing


def site_keys(folder: Path) -> KeyRing:
    """The key ring in a data folder, never made anew. LabelFault "key" for a missing or garbled key file."""
    try:
        return keys_in(folder, create=False)
    except (ValueError, OSError) as trouble:
        raise LabelFault(
            "key", f"The key {folder / KEY_NAME} can't be read. Bring it back from the latest backup."
        ) from trouble
