"""Plant D: dispensers, an enclosed head, a preparation bench and paste that may be decanted, mixed and kept."""

from functools import cache
from pathlib import Path

from station.services.site import Site
from station.settings.load import load


@cache
def site_d() -> Site:
    """Plant D as its files have it."""
    return load(Path(__file__).parents[1] / "plant_d")
