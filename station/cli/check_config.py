"""`station check-config DIR`: every fault of every file at once, or a summary of what is set up."""

from argparse import Namespace
from collections.abc import Iterable

from station.cli.saying import NO, YES, complain, say
from station.services.site import Site
from station.settings.faults import SettingsRefused, render
from station.settings.label_check import label_faults
from station.settings.load import load


def run(told: Namespace) -> int:
    """Check the folder; faults are the answer "no", so they give exit code 1."""
    try:
        site = load(told.config)
    except SettingsRefused as refused:
        complain(render(refused.faults, told.config))
        return NO
    # Only here, as laying out every label takes longer than a start may; a label that does not fit is never printed.
    if faults := label_faults(site):
        complain(render(faults, told.config))
        return NO
    for line in summary(site):
        say(line)
    return YES


def summary(site: Site) -> tuple[str, ...]:
    """What the folder sets up, one line for each sort of thing."""
    plant = site.plant
    lines: dict[str, list[str]] = {}
    for position in plant.positions.values():
        lines.setdefault(position.line, []).append(position.id)
    return (
        f"ok: {site.name}, zone {site.zone.key}, station {site.station}{_demo(site)}",
        _listed("pastes", plant.pastes),
        _listed("kinds", plant.kinds),
        _listed("lines", (f"{line} ({', '.join(positions)})" for line, positions in lines.items())),
        _listed("places", (f"{place.id} ({place.kind.value})" for place in site.places)),
        _listed("stores", plant.stores),
        _listed("products", plant.products),
        _listed("people", (person.id for person in site.people)),
    )


def _listed(noun: str, names: Iterable[str]) -> str:
    found = list(names)
    return f"  {len(found):>3} {noun}: {', '.join(found)}"


def _demo(site: Site) -> str:
    return ", DEMO: drafts and plain PINs are let through" if site.plant.rules.demo else ""
