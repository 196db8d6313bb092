"""Several printers: each kind's labels come out where its roll is, and what any of them has to say is heard."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from PIL import Image

from station.bootstrap import DEMO_KEYS, build_station, label_settings, target_for, template_for
from station.care.receiving import Arrival
from station.labels.target import Fate, PrintNews, Routes, SlowTarget
from station.printing.routes import LabelRoutes
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.site import LabelRule, LabelSetting
from station.settings import load
from tests.care.bench import Bench
from tests.labels.samples import content
from tests.services.slow_printer import SlowPrinter
from tests.settings.folders import DEMO

MM = 25.4
FLAG = LabelSetting("40x20", 203)


def size_mm(file: Path) -> tuple[int, int]:
    with Image.open(file) as image:
        return round(image.width * MM / 203), round(image.height * MM / 203)


def test_a_syringe_gets_a_flag_and_a_jar_the_large_label(tmp_path: Path) -> None:
    site, clock = load(DEMO), SetClock(datetime(2026, 11, 2, 6, tzinfo=UTC))
    station = build_station(site, MemoryJournal(), clock, DEMO_KEYS, target_for(site, tmp_path))
    station.start("test")
    names = {kind: station.new_container() for kind in ("JAR-500", "SYRINGE-35")}
    for kind, name in names.items():
        arrival = Arrival(name, "SN-6", kind, "101", date(2027, 6, 1), None, clock.wall, 8, "measured", leaking=False)
        station.receive([arrival], None)
    assert size_mm(tmp_path / "labels" / f"{names['JAR-500']}-identity.png") == (60, 40)
    assert size_mm(tmp_path / "labels" / f"{names['SYRINGE-35']}-identity.png") == (40, 20)


def test_a_line_may_have_a_printer_of_its_own() -> None:
    """The jar's label is asked for at the refrigerator; the same kind at the line goes to the line's printer."""
    door, line = SlowPrinter(), SlowPrinter()
    routes = LabelRoutes(door, [(LabelRule((), ("LINE1",), FLAG), line)])
    assert isinstance(routes, Routes)
    assert routes.target_of("JAR-500", "FRIDGE") is door
    assert routes.target_of("JAR-500", "LINE1") is line


def test_the_first_rule_that_fits_counts() -> None:
    usual, first, second = SlowPrinter(), SlowPrinter(), SlowPrinter()
    rules = [(LabelRule(("S",), (), FLAG), first), (LabelRule(("S", "C"), ("LINE1",), FLAG), second)]
    routes = LabelRoutes(usual, rules)
    chosen = [routes.target_of(*asked) for asked in (("S", "LINE1"), ("C", "LINE1"), ("C", "FRIDGE"))]
    assert chosen == [first, second, usual]


def test_what_became_of_a_label_is_heard_from_whichever_printer_has_it() -> None:
    bench = Bench()
    usual, flags = SlowPrinter(), SlowPrinter()
    bench.station.target = LabelRoutes(usual, [(LabelRule(("JAR-500",), (), FLAG), flags)])
    jar = bench.receive()
    assert (usual.tickets, len(flags.tickets)) == ([], 1)
    flags.answers(Fate.FAILED, "No labels.")
    assert [fact.body.NAME for fact in bench.station.tick().facts] == ["label-failed"]
    flags.at_the_end = (PrintNews(flags.tickets[0], Fate.SENT, "printer flags"),)
    bench.station.stop("over")
    assert jar in flags.tickets[0]


def test_trouble_of_each_printer_is_told_once_and_all_are_asked_for_earlier_labels() -> None:
    usual, flags = SlowPrinter(), SlowPrinter()
    routes = LabelRoutes(usual, [(LabelRule(("A",), (), FLAG), flags), (LabelRule(("B",), (), FLAG), flags)])
    assert isinstance(routes, SlowTarget)
    usual.against, flags.against = "The roll is empty.", "No answer."
    assert routes.trouble() == "The roll is empty. No answer."
    routes.look_for("K7-1", 1, "flags-3")
    assert usual.looked_for == flags.looked_for == [("K7-1", 1, "flags-3")]
    assert routes.name == "printer labels"
    routes.send(content())
    assert len(usual.tickets) == 1
    routes.close()


def test_a_folder_among_printers_has_nothing_to_tell(tmp_path: Path) -> None:
    site = load(DEMO)
    routes = target_for(site, tmp_path)
    assert isinstance(routes, LabelRoutes)
    assert (routes.news(), routes.last_news(0), routes.trouble()) == ((), (), "")
    assert routes.look_for("K1-1", 1, "x") == ""


def test_each_template_and_printer_is_set_up_once() -> None:
    site = load(DEMO)
    (rule,) = site.label_for
    twice = replace(site, label_for=(rule, replace(rule, kinds=("CARTRIDGE-600",))))
    assert [template_for(site, label).name for label in label_settings(twice)] == ["60x40", "40x20"]
