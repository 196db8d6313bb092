"""The label of the first opening, where a line has a label printer: what it says, replaces and never breaks."""

from dataclasses import replace

import pytest

from station.care.scans import SeenLabel
from station.care.words import Alloy, Card
from station.labels.builtin import builtin_templates
from station.labels.content import TALLEST_DAY, WIDEST_DAY, LabelContent
from station.labels.faults import LabelFault
from station.labels.fitting import RESOLUTIONS, plan
from station.labels.layout import TextItem, is_drawn
from station.labels.raster import render
from station.services.label_job import times_by_hand
from station.services.site import Site
from tests.care.bench import Bench, site_t
from tests.care.places import site_d
from tests.labels.samples import widest

EVERY = [(name, dpi) for name in builtin_templates() for dpi in RESOLUTIONS]


class NoPaper:
    """A label printer that has run out."""

    name = "no paper"

    def send(self, content: LabelContent) -> str:
        """Refuse every label."""
        raise LabelFault("paper", f"The label printer has no paper for {content.paste}.")


def with_printer(site: Site, *places: str) -> Site:
    """The site with a label printer at some of its places."""
    told = (replace(place, label_printer=True) if place.id in places else place for place in site.places)
    return replace(site, places=tuple(told))


def at_first_opening(place: str = "LINE1") -> tuple[Bench, str]:
    """A jar at the line that was just told to be opened, Mon 9 Nov at 09:01, on a plant with one label printer."""
    bench = Bench(with_printer(site_t(), "LINE1"))
    jar = bench.cold()
    bench.at("2026-11-09T06:00:20").scan(jar, "FRIDGE")
    assert bench.at("2026-11-09T09:01:00").scan(jar, place).code == "opening-check"
    bench.later(2)
    return bench, jar


def seen(bench: Bench, jar: str, number: int) -> SeenLabel:
    at = bench.container(jar).out_from or bench.container(jar).arrived_at
    life = bench.limits().open_life
    return SeenLabel(number, at, at, at + 7 * life, life, 4, leaded=False)


def test_the_first_opening_prints_when_it_was_and_the_new_end() -> None:
    bench, _ = at_first_opening()
    printed = len(bench.printer.sent)
    verdict = bench.card(Card.LOOKS_GOOD, "LINE1")
    assert (verdict.word, verdict.code) == ("USE", "use")
    assert "Stick the OPENED label over its time label." in verdict.note
    assert len(bench.printer.sent) == printed + 1
    label = bench.printer.sent[-1]
    assert label.opened == "Mon 09 Nov 2026 09:01"
    assert label.discard_by == "Tue 10 Nov 2026 09:01"
    assert (label.governing, label.print_number) == ("open life", "2")
    assert [fact.body.NAME for fact in bench.journal.facts()][-4:] == [
        "inspected", "loaded", "label-asked", "label-sent",
    ]  # fmt: skip


def test_the_time_label_before_it_scans_as_replaced() -> None:
    bench, jar = at_first_opening()
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.later(5)
    verdict = bench.scan(jar, "LINE1", seen(bench, jar, 1))
    assert verdict.word == "USE"
    assert "This label is an old one; label 2 replaced it. Tear it off." in verdict.note
    bench.later(5)
    assert "old one" not in bench.scan(jar, "LINE1", seen(bench, jar, 2)).note
    assert bench.container(jar).print_confirmed == 2


def test_later_scans_print_nothing_more() -> None:
    bench, jar = at_first_opening()
    bench.card(Card.LOOKS_GOOD, "LINE1")
    printed = len(bench.printer.sent)
    for _ in range(3):
        assert bench.later(30).scan(jar, "LINE1").word == "USE"
    assert len(bench.printer.sent) == printed


def test_a_line_without_a_label_printer_prints_nothing() -> None:
    bench, jar = at_first_opening("LINE2")
    printed = len(bench.printer.sent)
    verdict = bench.card(Card.LOOKS_GOOD, "LINE2")
    assert verdict.word == "USE"
    assert "OPENED" not in verdict.note
    assert len(bench.printer.sent) == printed
    assert bench.container(jar).print_number == 1


def test_paste_that_looks_bad_gets_no_opened_label() -> None:
    bench, _ = at_first_opening()
    printed = len(bench.printer.sent)
    bench.card(Card.LOOKS_BAD, "LINE1")
    assert len(bench.printer.sent) == printed


def test_a_dispenser_with_a_label_printer_prints_it_too() -> None:
    bench = Bench(with_printer(site_d(), "DOTS"))
    cartridge = bench.ready(kind="CART-600")
    bench.scan(cartridge, "DOTS")
    assert bench.card(Card.LOOKS_GOOD, "DOTS").word == "USE"
    assert bench.printer.sent[-1].opened


def test_without_paper_the_answer_is_the_same_and_both_times_are_said_to_be_written_by_hand() -> None:
    with_paper, _ = at_first_opening()
    answer = with_paper.card(Card.LOOKS_GOOD, "LINE1")
    bench, jar = at_first_opening()
    bench.station.target = NoPaper()
    bench.station.place = "LINE1"
    said = bench.station.carded(Card.LOOKS_GOOD, jar)
    assert said.verdict == answer
    assert said.trouble == (
        "The label printer has no paper for SN-4. Write on it by hand: OPENED Mon 09 Nov 09:01, "
        "DISCARD BY Tue 10 Nov 09:01. The clocks run."
    )
    assert [fact.body.NAME for fact in said.facts][-1] == "label-failed"
    assert "old one" not in bench.later(5).scan(jar, "LINE1", seen(bench, jar, 1)).note


def test_a_new_label_of_an_open_jar_says_when_it_was_opened_wherever_it_is_printed() -> None:
    bench, jar = at_first_opening("LINE2")
    bench.card(Card.LOOKS_GOOD, "LINE2")
    bench.later(30).scan(jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    assert bench.printer.sent[-1].opened == "Mon 09 Nov 2026 09:01"


def test_a_jar_that_is_closed_has_room_to_write() -> None:
    bench = Bench()
    bench.ready()
    assert (bench.printer.sent[-1].write_in, bench.printer.sent[-1].opened) == ("OPENED", "")


@pytest.mark.parametrize("template", ["60x40", "50x25"])
def test_what_was_to_be_written_is_printed_in_its_place(template: str) -> None:
    bench, _ = at_first_opening()
    bench.card(Card.LOOKS_GOOD, "LINE1")
    said = bench.printer.sent[-1]
    items = (item for item in builtin_templates()[template].items if is_drawn(item, said.values))
    words = [line for item in items if isinstance(item, TextItem) and (line := item.filled(said.values))]
    assert words[words.index("OPENED") + 1] == "Mon 09 Nov 2026 09:01"
    assert not {"ONCE OPENED", "DISCARD"} & set(words)


@pytest.mark.parametrize(("name", "dpi"), EVERY)
@pytest.mark.parametrize("day", [WIDEST_DAY, TALLEST_DAY])
def test_the_widest_opened_label_fits_and_reads_back(name: str, dpi: int, day: str) -> None:
    template = builtin_templates()[name]
    for alloy in Alloy:
        said = replace(widest(alloy, day), write_in="", opened=f"{day} 2026 02:00 CEST")
        assert plan(template, said, dpi).faults == ()


@pytest.mark.parametrize("name", builtin_templates())
def test_an_opened_label_can_be_scanned(name: str) -> None:
    bench, _ = at_first_opening()
    bench.card(Card.LOOKS_GOOD, "LINE1")
    render(builtin_templates()[name], bench.printer.sent[-1], 203)  # refuses what it can't read back


def test_what_is_copied_by_hand_of_an_opened_jar_is_what_its_label_would_say() -> None:
    bench, jar = at_first_opening()
    assert [name for name, _ in times_by_hand(bench.floor, bench.container(jar))] == ["opened", "discard by"]
    closed = bench.cold()
    bench.later(11).scan(closed, "FRIDGE")
    assert [name for name, _ in times_by_hand(bench.floor, bench.container(closed))] == [
        "thaw start",
        "earliest use",
        "discard by",
    ]
