"""A finished label, read back before it leaves, against the bare making of its QR symbol."""

import pytest
import qrcode  # type: ignore[import-untyped]  # ships no types
from pytest_benchmark.fixture import BenchmarkFixture

from station.labels.builtin import builtin_templates
from station.labels.raster import render
from tests.labels.samples import content

TEMPLATE = builtin_templates()["60x40"]


@pytest.mark.benchmark(group="label")
def test_bare_symbol(benchmark: BenchmarkFixture) -> None:
    text = content().code

    def make() -> None:
        code = qrcode.QRCode(version=2, error_correction=qrcode.constants.ERROR_CORRECT_M)
        code.add_data(text)
        code.make(fit=False)

    benchmark(make)


@pytest.mark.benchmark(group="label")
@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_label_rendered_and_read_back(benchmark: BenchmarkFixture, dpi: int) -> None:
    told = content()
    benchmark(lambda: render(TEMPLATE, told, dpi))
