"""The settings of a site: commented TOML files in one folder, read whole or refused with every fault at once."""

from station.settings.faults import SettingsFault, SettingsRefused, render
from station.settings.load import FILES, load

__all__ = ["FILES", "SettingsFault", "SettingsRefused", "load", "render"]
