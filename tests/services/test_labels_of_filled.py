"""Labels of containers filled here: everything on them fits and reads back, at every resolution and on both."""

from dataclasses import replace

import pytest

from station.care.words import Card
from station.labels.builtin import builtin_templates
from station.labels.fitting import RESOLUTIONS, plan
from station.labels.raster import render
from station.services.label_job import label_job
from tests.care.bench import Bench
from tests.care.places import site_d

EVERY = [(name, dpi) for name in builtin_templates() for dpi in RESOLUTIONS]
LOTS = ("26-121-0815", "26-121-0816")


def faults(bench: Bench, filled: str, longest_kind: str, name: str, dpi: int) -> tuple[str, ...]:
    job = label_job(bench.floor, bench.container(filled), bench.station.keys, "Sascha Birch")
    content, template = replace(job.content, kind=longest_kind), builtin_templates()[name]
    assert content.hazards
    render(template, content, dpi)  # refuses what it can't read back
    return plan(template, content, dpi).faults


@pytest.mark.parametrize(("name", "dpi"), EVERY)
def test_the_label_of_decanted_paste_fits(name: str, dpi: int) -> None:
    bench = Bench(site_d())
    jar = bench.on_line(lot=LOTS[0])
    bench.later(1).scan(jar, "BENCH")
    filled = bench.card(Card.DECANT, "BENCH").container or ""
    assert faults(bench, filled, "decanted from K255 1048575", name, dpi) == ()


@pytest.mark.parametrize(("name", "dpi"), EVERY)
def test_the_label_of_used_paste_of_two_lots_fits(name: str, dpi: int) -> None:
    bench = Bench(site_d())
    bench.on_line(lot=LOTS[0])
    bench.scan(bench.ready(lot=LOTS[1]), "LINE1")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"
    bench.tag_card("1", Card.REMOVE, "LINE1")
    used = bench.card(Card.KEEP_USED, "LINE1").container or ""
    assert faults(bench, used, "used paste of K255 1048575 + 3", name, dpi) == ()
