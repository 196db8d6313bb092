"""Single cells: figures, units, and what sensors write when something is wrong."""

import pytest

from station.readings.cells import Figure, NoFigure, figure, humidity, looks_like_figure, temperature
from station.readings.layout import Unit
from station.readings.sensorfaults import without_power_up
from station.readings.series import FaultKind, Reading, SensorFault

C, F = Unit.CELSIUS, Unit.FAHRENHEIT


@pytest.mark.parametrize(
    ("cell", "decimal", "expected"),
    [
        ("4.1", ".", Figure(4.1, "")),
        ("4,1", ",", Figure(4.1, "")),
        ("-4", ",", Figure(-4.0, "")),
        ("\u22124.1", ".", Figure(-4.1, "")),
        ("+4.10E+00", ".", Figure(4.1, "")),
        ("4.1 °C", ".", Figure(4.1, "C")),
        ("4.1Â°C", ".", Figure(4.1, "C")),
        ("39,2 f", ",", Figure(39.2, "F")),
        ("40 %", ".", Figure(40.0, "%")),
    ],
)
def test_a_figure_is_read_with_its_decimal_sign_and_unit(cell: str, decimal: str, expected: Figure) -> None:
    assert figure(cell, decimal) == expected


@pytest.mark.parametrize(
    ("cell", "decimal"),
    [("4,1", "."), ("4.1", ","), ("1.234,5", ","), ("1,234.5", "."), ("1 234", "."), ("1e400", ".")],
)
def test_a_figure_with_another_sign_is_refused_and_never_grows_tenfold(cell: str, decimal: str) -> None:
    with pytest.raises(NoFigure, match="decimal sign"):
        figure(cell, decimal)


@pytest.mark.parametrize("cell", ["nan", "inf", "Err", "--", "0x10", "four", "²"])
def test_other_text_is_no_figure(cell: str) -> None:
    assert figure(cell, ".") is None
    assert not looks_like_figure(cell)


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        ("127", FaultKind.NO_CONTACT),
        ("-127.0", FaultKind.NO_CONTACT),
        ("Open", FaultKind.TEXT),
        ("NaN", FaultKind.TEXT),
        ("", FaultKind.MISSING),
        ("-273", FaultKind.OUT_OF_RANGE),
        ("850.0", FaultKind.OUT_OF_RANGE),
    ],
)
def test_what_a_broken_sensor_writes_is_no_temperature(cell: str, kind: FaultKind) -> None:
    """BR-82."""
    assert temperature(cell, C, ".") == SensorFault(kind, cell)


@pytest.mark.parametrize("cell", ["260.6", "-196.6", "-127"])
def test_the_same_values_in_a_fahrenheit_column(cell: str) -> None:
    """BR-82: converted with the rest, or left as they were."""
    assert temperature(cell, F, ".") == SensorFault(FaultKind.NO_CONTACT, cell)


def test_127_degrees_fahrenheit_is_only_hot() -> None:
    assert temperature("127", F, ".") == pytest.approx(52.777_8, abs=1e-4)


def test_fahrenheit_is_converted() -> None:
    """BR-83: 39.2 F is 4 C by definition."""
    assert temperature("39.2", F, ".") == pytest.approx(4.0)
    assert temperature("39.2", C, ".") == 39.2


def test_a_cell_with_another_unit_than_its_column_is_refused() -> None:
    """BR-83."""
    with pytest.raises(NoFigure, match="another unit than the C"):
        temperature("39.2 °F", C, ".")
    assert temperature("39.2 °F", F, ".") == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("45.5", 45.5),
        ("45.5 %", 45.5),
        ("", SensorFault(FaultKind.MISSING, "")),
        ("---", SensorFault(FaultKind.TEXT, "---")),
        ("140", SensorFault(FaultKind.OUT_OF_RANGE, "140")),
    ],
)
def test_humidity_has_its_own_bounds(cell: str, expected: Reading) -> None:
    assert humidity(cell, ".") == expected


POWER_UP = SensorFault(FaultKind.POWER_UP, "85.0")


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        ([4.1, 4.2, 85.0, 4.2], [4.1, 4.2, POWER_UP, 4.2]),
        ([85.0, 85.0, 4.2], [POWER_UP, POWER_UP, 4.2]),
        ([4.2, 85.0], [4.2, POWER_UP]),
        ([84.0, 85.0, 86.0], [84.0, 85.0, 86.0]),
        ([70.0, 85.0, 4.0], [70.0, 85.0, 4.0]),
        ([85.0, 85.0], [POWER_UP, POWER_UP]),
        ([4.0, SensorFault(FaultKind.TEXT, "x"), 85.0], [4.0, SensorFault(FaultKind.TEXT, "x"), POWER_UP]),
        ([], []),
    ],
)
def test_85_degrees_is_believed_only_beside_a_reading_near_it(readings: list[Reading], expected: list[Reading]) -> None:
    """BR-82: lawful elsewhere, so judged by the jump."""
    assert without_power_up(readings) == expected
