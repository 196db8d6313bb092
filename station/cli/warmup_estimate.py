"""`station warmup estimate`: time constant and dead time of a container kind, reckoned from its mass and size."""

from argparse import Namespace
from datetime import timedelta

from station.care.saying import span_up
from station.care.warmup.bath import bath_estimate
from station.care.warmup.detail import Container
from station.care.warmup.estimate import Estimate, estimate
from station.care.warmup.faults import Unreckonable, within
from station.care.warmup.film import Film, constant
from station.care.warmup.lumped import MOST_LUMPED_BIOT
from station.care.warmup.materials import ALLOYS, conductivity_range, paste
from station.care.warmup.matter import Matter
from station.care.warmup.package import Package
from station.cli.saying import YES, refuse, say, say_json, table
from station.settings.quantities import written

CLOSE_K = (2.0, 1.0, 0.5)
AIR_CAUTION = "An estimate: the supplier's conditioning time stays the least. Never heat paste."
BATH_CAUTION = (
    "Only where the supplier's data sheet and the specification allow a bath: closed, dried before opening, "
    "water never warmer than the room. Never heat paste."
)


def run(told: Namespace) -> int:
    """Reckon the figures and say them."""
    try:
        found = _estimate(told)
    except Unreckonable as fault:
        return refuse(fault.sentence)
    if told.json:
        say_json(as_json(found, in_bath=told.bath is not None))
        return YES
    table([*_times(found, "the room" if told.bath is None else "the bath"), _conductivity(told), _biot(found)])
    say()
    if told.bath is None:
        _say_settings(found)
    else:
        say(f"For a bath only. In kinds.toml stand the figures for air.\n{BATH_CAUTION}")
    return YES


def _estimate(told: Namespace) -> Estimate:
    within("The start", told.start, -60, 40, "C")
    within("The room", told.room, -10, 50, "C")
    package = Package(
        mass=told.mass / 1000,
        diameter=told.diameter / 1000,
        paste=paste(_alloy(told.alloy), told.metal / 100, conductivity=told.conductivity),
        fill=_in_metres(told.fill),
        wall_thickness=told.wall / 1000,
        wall_mass=None if told.wall_mass is None else told.wall_mass / 1000,
        on_bench=not told.no_bench and told.bath is None,
    )
    return _in_its_surroundings(told, package, package.container())


def _in_its_surroundings(told: Namespace, package: Package, container: Container) -> Estimate:
    if told.coefficient is not None:
        within("The coefficient", told.coefficient, 1, 2000, "W/m2K")
    if told.bath is None:
        return estimate(container, _film(told, package), told.start, told.room)
    if told.coefficient is None:
        return bath_estimate(container, told.start, told.bath, told.room)
    return bath_estimate(container, told.start, told.bath, told.room, told.coefficient)


def _film(told: Namespace, package: Package) -> Film:
    return package.still_air() if told.coefficient is None else constant(told.coefficient)


def _in_metres(millimetres: float | None) -> float | None:
    return None if millimetres is None else millimetres / 1000


def _alloy(name: str) -> Matter:
    known = {alloy.value.casefold(): matter for alloy, matter in ALLOYS.items()}
    found = known.get(name.casefold())
    if found is None:
        raise Unreckonable(f'Alloy "{name}" is not known here. Use one of {", ".join(ALLOYS)}.')
    return found


def as_json(found: Estimate, *, in_bath: bool) -> dict[str, object]:
    """The answer for machines: figures as kinds.toml writes them, times in seconds."""
    return {
        "figures": "estimate",
        "time_constant": written(found.time_constant),
        "dead_time": written(found.dead_time),
        "in_bath": in_bath,
        "caution": BATH_CAUTION if in_bath else AIR_CAUTION,
        "biot": round(found.biot, 4),
        "within": [
            {
                "kelvin": kelvin,
                "seconds": round(found.promised(kelvin).total_seconds()),
                "detailed_seconds": round(found.reckoned(kelvin).total_seconds()),
            }
            for kelvin in CLOSE_K
        ],
    }


def _times(found: Estimate, goal: str) -> list[tuple[str, str]]:
    rows = [("time constant", _estimated(found.time_constant)), ("dead time", _estimated(found.dead_time))]
    for kelvin in CLOSE_K:
        detailed = span_up(found.reckoned(kelvin))
        rows.append((f"within {kelvin:g} K of {goal}", f"{_estimated(found.promised(kelvin))}, in detail {detailed}"))
    return rows


def _estimated(length: timedelta) -> str:
    return f"{span_up(length)} (estimate)"


def _conductivity(told: Namespace) -> tuple[str, str]:
    low, high = conductivity_range(_alloy(told.alloy), told.metal / 100)
    return "conductivity", f"{told.conductivity:g} W/mK; pastes like this lie between {low:.1f} and {high:.1f}"


def _biot(found: Estimate) -> tuple[str, str]:
    """On volume over surface; what it means for the reckoning."""
    meaning = "nearly one temperature throughout" if found.biot < MOST_LUMPED_BIOT else "the middle lags behind"
    return "Biot number", f"{found.biot:.3f}, {meaning}"


def _say_settings(found: Estimate) -> None:
    say(AIR_CAUTION)
    say("For kinds.toml:")
    say(f'time_constant = "{written(found.time_constant)}"')
    say(f'dead_time = "{written(found.dead_time)}"')
    say('figures = "estimate"')
