"""Where things lie when nobody says otherwise."""

from pathlib import Path

from platformdirs import user_data_path

from station.labels.resources import resource_path


def default_data() -> Path:
    """The data folder of this account, by the rules of its system."""
    return user_data_path("thawmark", appauthor=False)


def demo_settings() -> Path:
    """The settings of the demo plant, which travel with the program."""
    return resource_path().parent / "demo_config"
