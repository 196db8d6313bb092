"""A container kind by scales and rule: what is filled in, and what is refused."""

import math
from dataclasses import replace

import pytest

from station.care.warmup.faults import Unreckonable
from station.care.warmup.matter import Matter
from station.care.warmup.package import Package

JAR = Package(mass=0.5, diameter=0.066, paste=Matter(4300, 420, 1.0))


def test_what_is_not_measured_is_reckoned_from_the_rest() -> None:
    container = JAR.container()
    assert container.fill == pytest.approx(0.033988, abs=1e-6)
    assert container.wall.mass == pytest.approx(0.040, abs=0.001)  # 2 mm of plastic all round, with lid and rim
    assert container.wall.resistance == pytest.approx(0.01)
    assert container.on_bench


def test_what_is_measured_counts() -> None:
    container = replace(JAR, fill=0.036, wall_mass=0.055, wall_thickness=0.001, on_bench=False).container()
    assert (container.fill, container.wall.mass, container.on_bench) == (0.036, 0.055, False)
    assert container.wall.resistance == pytest.approx(0.005)
    # The scales decide how much paste there is: 500 g, not 36 mm of it.
    assert container.paste.density * math.pi * 0.033**2 * 0.036 == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"mass": 0.0}, "The net mass is 0 g. Give 1 to 5000 g."),
        ({"mass": 6.0}, "The net mass is 6000 g."),
        ({"mass": math.nan}, "The net mass is nan g."),
        ({"diameter": 0.0}, "The diameter is 0 mm. Give 5 to 200 mm."),
        ({"diameter": 0.3}, "The diameter is 300 mm."),
        ({"fill": 0.0}, "The fill height is 0 mm. Give 5 to 500 mm."),
        ({"wall_thickness": 0.02}, "The wall is 20 mm. Give 0.1 to 10 mm."),
        ({"wall_mass": 0.0}, "The mass of the wall is 0 g."),
        ({"paste": Matter(4300, 420, 58)}, "Conductivity is 58 W/mK. Give 0.1 to 20 W/mK."),
        ({"fill": 0.05}, "500 g in 66 x 50 mm is 2.9 g/cm3, but this paste has 4.3."),
        ({"fill": 0.02}, "leave its height out"),
    ],
)
def test_measures_no_container_has_are_refused_by_name(wrong: dict[str, float], why: str) -> None:
    with pytest.raises(Unreckonable) as refused:
        replace(JAR, **wrong).container()  # type: ignore[arg-type]
    assert why in refused.value.sentence
