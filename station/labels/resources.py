"""Where the files that travel with the program lie. Needs neither Qt nor an installed package."""

from pathlib import Path


def resource_path(*parts: str) -> Path:
    """A path below the `resources` folder beside the `station` package, whether or not it exists."""
    return Path(__file__).resolve().parents[2].joinpath("resources", *parts)


def font_path(name: str) -> Path:
    """The file of a bundled typeface, such as `B612-Bold`."""
    return resource_path("fonts", f"{name}.otf")
