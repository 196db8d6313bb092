"""Labels through a real print service to a listener: what arrives, and what is said where nothing does."""

import subprocess
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from station.care.words import Card
from station.labels.builtin import builtin_templates
from station.labels.card_label import Stock, card_label
from station.labels.layout import Template
from station.labels.plaincodes import card_text
from station.labels.raster import read_back, render
from station.labels.sheet_codes import SheetCode
from station.labels.target import Fate, PrintNews
from station.printing.commands import Commands
from station.printing.cups import CupsSpooler
from station.printing.media import Media
from station.printing.print_worker import MAY_COME, Patience
from station.printing.queue_target import QueueTarget
from station.printing.spooler import Drawn
from tests.labels.samples import content
from tests.printing.pages import assert_same_dots, rasterised
from tests.printing.service import DEADLINE_S, Printer, Service

TEMPLATES = builtin_templates()
SIXTY = TEMPLATES["60x40"]
QUICK = Patience(look_every_s=0.1, idle_every_s=0.1, slow_looks=1, most_looks=20)
HUNG_AFTER_S = 1.0

Make = Callable[..., QueueTarget]


def spooler(service: Service, queue: str, template: Template = SIXTY, dpi: int = 203) -> CupsSpooler:
    media = Media(template.width_mm, template.height_mm, dpi)
    return CupsSpooler(queue, media, Commands(DEADLINE_S, service.environment))


@pytest.fixture
def target(service: Service) -> Iterator[Make]:
    made: list[QueueTarget] = []

    def make(
        queue: str = "labels", template: Template = SIXTY, dpi: int = 203, patience: Patience = QUICK
    ) -> QueueTarget:
        made.append(QueueTarget(spooler(service, queue, template, dpi), template, dpi, patience))
        return made[-1]

    yield make
    for each in made:
        each.close()


def first_news(target: QueueTarget) -> PrintNews:
    """What the hand-over of the one label in line came to."""
    (told,) = target.last_news(DEADLINE_S)
    return told


def later_news(target: QueueTarget) -> PrintNews:
    """The next that is told of a label that was sent."""
    return target._news.get(timeout=DEADLINE_S)


@pytest.mark.parametrize(("name", "dpi"), [("60x40", 203), ("60x40", 300), ("50x25", 203), ("60x40", 600)])
def test_a_label_arrives_dot_for_dot_and_reads(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path, name: str, dpi: int
) -> None:
    """BR-18, BR-19, BR-22, BR-25: no scaling, no greys, one page."""
    service.add_queue("labels", label_printer.port)
    on_its_way = target("labels", TEMPLATES[name], dpi)
    ticket = on_its_way.send(content())
    assert first_news(on_its_way) == PrintNews(ticket, Fate.SENT, "printer labels, job labels-1", job="labels-1")
    page = rasterised(label_printer.label(), dpi, tmp_path)
    assert_same_dots(page, render(TEMPLATES[name], content(), dpi))
    read_back(page.convert("1"), content().code)


def test_three_labels_are_three_pages_with_numbers_of_their_own(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path
) -> None:
    """BR-25, BR-28."""
    service.add_queue("labels", label_printer.port)
    on_its_way = target()
    asked = [replace(content(), print_number=str(number)) for number in (1, 2, 3)]
    tickets = [on_its_way.send(said) for said in asked]
    assert [told.ticket for told in on_its_way.last_news(DEADLINE_S)] == tickets
    for said in asked:
        page = rasterised(label_printer.label(), 203, tmp_path)
        assert_same_dots(page, render(SIXTY, said, 203))
    assert "labels-3" in service.run("lpstat", "-W", "completed", "-o")
    assert label_printer.is_empty


def test_a_single_card_arrives_dot_for_dot_and_reads(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path
) -> None:
    """BR-18, BR-20."""
    service.add_queue("labels", label_printer.port)
    on_its_way = target()
    card = SheetCode("card", "Command card", "HOLD", card_text(Card.HOLD), "It goes on hold.")
    on_its_way.send_card(card)
    assert first_news(on_its_way).fate is Fate.SENT
    page = rasterised(label_printer.label(), 203, tmp_path)
    assert_same_dots(page, card_label(card, Stock(60, 40, 203)))
    read_back(page.convert("1"), card.text)


def test_a_printer_that_swallows_everything_makes_it_sent_and_never_printed(
    service: Service, label_printer: Printer, target: Make
) -> None:
    """BR-26."""
    service.add_queue("labels", label_printer.port)
    on_its_way = target()
    on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    label_printer.label()
    # a second one has gone the same way, so all looks at the first are over
    on_its_way.send(replace(content(), print_number="2"))
    assert [told.fate for told in on_its_way.last_news(DEADLINE_S)] == [Fate.SENT]
    assert [fate.value for fate in Fate] == ["sent", "failed", "unknown"]


def test_a_stopped_queue_is_said_at_once_and_nothing_waits_in_it(
    service: Service, label_printer: Printer, target: Make
) -> None:
    """BR-26, BR-28: once it is started again, nothing comes out that nobody asks for."""
    service.add_queue("labels", label_printer.port)
    service.run("cupsdisable", "-r", "out for repair", "labels")
    on_its_way = target()
    on_its_way.send(content())
    told = first_news(on_its_way)
    sentence = "Printer queue labels is stopped. Start it again with: cupsenable labels."
    assert (told.fate, told.sentence) == (Fate.FAILED, sentence)
    assert on_its_way.trouble() == sentence
    assert service.jobs() == ""
    service.run("cupsenable", "labels")
    on_its_way.send(replace(content(), print_number="2"))
    assert first_news(on_its_way).fate is Fate.SENT
    assert label_printer.label()
    assert label_printer.is_empty


def test_a_printer_without_labels_says_so_while_the_label_waits(service: Service, target: Make) -> None:
    """BR-26: what the printer reports of itself is told, and the label does not come out with the next roll."""
    service.add_queue_to("nolabels:/", "labels")
    on_its_way = target()
    on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    told = later_news(on_its_way)
    assert told.fate is Fate.FAILED
    assert told.sentence.startswith("The printer of queue labels has no labels. Load labels. The label waited too long")
    assert on_its_way.trouble() == "The printer of queue labels has no labels. Load labels."


def test_a_queue_that_takes_nothing_says_how_to_open_it(service: Service, label_printer: Printer, target: Make) -> None:
    service.add_queue("labels", label_printer.port)
    service.run("cupsreject", "labels")
    on_its_way = target()
    on_its_way.send(content())
    told = first_news(on_its_way)
    assert told.fate is Fate.FAILED
    assert told.sentence == "Printer queue labels takes no labels. Open it with: cupsaccept labels."


def test_a_label_for_a_printer_that_is_off_is_taken_back(
    service: Service, label_printer: Printer, target: Make
) -> None:
    """BR-26: told while it waits, and given up after its time, so that it does not come out hours later."""
    service.add_queue("labels", label_printer.port)
    label_printer.switch_off()
    on_its_way = target()
    ticket = on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    told = later_news(on_its_way)
    assert (told.ticket, told.fate) == (ticket, Fate.FAILED)
    assert told.sentence.startswith("The printer of queue labels does not take the label")
    assert "Look at its power switch and its cable. The label waited too long and was taken back." in told.sentence
    assert service.jobs() == ""


def test_a_label_somebody_takes_out_of_the_queue_is_missed(
    service: Service, label_printer: Printer, target: Make
) -> None:
    service.add_queue("labels", label_printer.port)
    label_printer.switch_off()
    on_its_way = target(patience=replace(QUICK, most_looks=10_000))
    on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    service.run("cancel", "labels-1")
    told = later_news(on_its_way)
    assert told.fate is Fate.FAILED
    assert told.sentence.startswith("The print service gave the label up")


LISTED = """labels is ready and printing
Rank    Owner   Job     File(s)                         Total Size
active  root    1       K7-311-print-1                  1024 bytes
1st     root    2       K7-311-print-12                 1024 bytes
"""


@pytest.mark.parametrize(("title", "job"), [("K7-311-print-12", "labels-2"), ("K7-311-print-2", None)])
def test_a_waiting_label_is_found_by_its_title_where_lpq_is_installed(
    tmp_path: Path, title: str, job: str | None
) -> None:
    """The list is what lpq of cups-bsd 2.4.2 said of two labels in a queue of the service of these tests."""
    program = tmp_path / "lpq"
    program.write_text(f"#!/bin/sh\ncat <<'END'\n{LISTED}END\n", encoding="ascii")
    program.chmod(0o755)
    asked = CupsSpooler("labels", Media(60, 40, 203), Commands(DEADLINE_S, {"PATH": f"{tmp_path}:/usr/bin:/bin"}))
    assert asked.find(title) == job
    elsewhere = CupsSpooler("labels", Media(60, 40, 203), Commands(DEADLINE_S, {"PATH": str(tmp_path / "no")}))
    assert elsewhere.find(title) is None


def test_a_hung_service_keeps_nobody_waiting(service: Service, label_printer: Printer) -> None:
    """BR-29: the answer comes within the time limit, and until then there are simply no news."""
    service.add_queue("labels", label_printer.port)
    service.hang()
    hung = CupsSpooler("labels", Media(60, 40, 203), Commands(HUNG_AFTER_S, service.environment))
    on_its_way = QueueTarget(hung, SIXTY, 203, QUICK)
    try:
        for number in "123":
            on_its_way.send(replace(content(), print_number=number))
        assert on_its_way.news() == ()
        told = on_its_way.last_news(DEADLINE_S)
    finally:
        on_its_way.close()
    sentence = "The print service did not answer within 1 s. Start it anew with: systemctl restart cups."
    assert [(piece.fate, piece.sentence) for piece in told] == [(Fate.FAILED, sentence)] * 3


def test_a_label_in_the_queue_of_a_service_that_hangs_later_is_unknown(
    service: Service, label_printer: Printer
) -> None:
    """BR-28, BR-29: it may still come out, so it is not sent again; once the service answers it is taken back."""
    service.add_queue("labels", label_printer.port)
    label_printer.switch_off()
    quick = CupsSpooler("labels", Media(60, 40, 203), Commands(HUNG_AFTER_S, service.environment))
    on_its_way = QueueTarget(quick, SIXTY, 203, replace(QUICK, most_looks=3, look_every_s=0.5))
    try:
        on_its_way.send(content())
        assert first_news(on_its_way).fate is Fate.SENT
        service.hang()
        told = later_news(on_its_way)
        service.go_on()
        service.await_no_jobs()
    finally:
        on_its_way.close()
    assert told.fate is Fate.UNKNOWN
    assert told.sentence.endswith(MAY_COME)


def test_where_no_service_runs_it_says_so(service: Service) -> None:
    absent = {**service.environment, "CUPS_SERVER": str(service.folder / "nobody")}
    found = CupsSpooler("labels", Media(60, 40, 203), Commands(DEADLINE_S, absent)).trouble()
    assert found is not None
    assert found.sentence == "The print service of this PC does not run. Start it with: systemctl start cups."


def test_a_queue_that_is_not_there_is_named(service: Service, label_printer: Printer, target: Make) -> None:
    service.add_queue("labels", label_printer.port)
    on_its_way = target("lables")
    on_its_way.send(content())
    told = first_news(on_its_way)
    assert told.fate is Fate.FAILED
    assert told.sentence.startswith("This PC has no printer queue lables. Set queue in site.toml")


def test_even_what_the_look_missed_is_not_handed_over(service: Service, label_printer: Printer) -> None:
    service.add_queue("labels", label_printer.port)
    with pytest.raises(Exception, match="no printer queue lables"):
        spooler(service, "lables").hand_over(Drawn("a label", 203, b"%PDF-1.4", b""))


def driver_for(sizes: dict[str, tuple[int, int]], resolutions: tuple[str, ...], margin: int) -> str:
    """A printer description: sizes in points, resolutions, the first of each the default, and an unprintable margin."""
    size, resolution = next(iter(sizes)), resolutions[0]
    lines = [
        '*PPD-Adobe: "4.3"',
        '*FormatVersion: "4.3"',
        '*FileVersion: "1.0"',
        "*LanguageVersion: English",
        "*LanguageEncoding: ISOLatin1",
        '*PCFileName: "LABEL.PPD"',
        '*Product: "(Label)"',
        '*Manufacturer: "None"',
        '*ModelName: "Label"',
        '*NickName: "Label"',
        '*ShortNickName: "Label"',
        '*PSVersion: "(3010.000) 0"',
        "*ColorDevice: False",
        '*cupsFilter2: "application/vnd.cups-pdf application/pdf 0 -"',
    ]
    for key in ("PageSize", "PageRegion"):
        lines += [f"*OpenUI *{key}/Media: PickOne", f"*OrderDependency: 10 AnySetup *{key}", f"*Default{key}: {size}"]
        lines += [f'*{key} {name}/{name}: ""' for name in sizes]
        lines += [f"*CloseUI: *{key}"]
    lines += ["*OpenUI *Resolution/Resolution: PickOne", f"*DefaultResolution: {resolution}"]
    lines += [f'*Resolution {name}/{name}: ""' for name in resolutions]
    lines += ["*CloseUI: *Resolution", f"*DefaultImageableArea: {size}", f"*DefaultPaperDimension: {size}"]
    for name, (width, height) in sizes.items():
        inside = f"{margin} {margin} {width - margin} {height - margin}"
        lines += [f'*ImageableArea {name}: "{inside}"', f'*PaperDimension {name}: "{width} {height}"']
    return "\n".join(lines) + "\n"


def add_driven(
    service: Service, port: int, sizes: dict[str, tuple[int, int]], *resolutions: str, margin: int = 0
) -> None:
    path = service.folder / "label.ppd"
    path.write_text(driver_for(sizes, resolutions, margin), encoding="ascii")
    service.add_queue("labels", port, "-P", str(path))


LARGE, OURS, TURNED = {"w288h432": (288, 432)}, {"w170h113": (170, 113)}, {"w113h170": (113, 170)}


def test_a_queue_set_to_large_labels_is_told_ours_where_it_has_it(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path
) -> None:
    """BR-22, BR-24: 60 x 40 mm on a queue whose default is 4 x 6 inches comes out as large as it was drawn."""
    add_driven(service, label_printer.port, {**LARGE, **OURS}, "203dpi")
    on_its_way = target()
    on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    pdf = tmp_path / "arrived.pdf"
    pdf.write_bytes(label_printer.label())
    said = subprocess.run(["pdfinfo", pdf], check=True, capture_output=True, text=True).stdout
    assert "Page size:       170 x 113 pts" in said or "Page size:       170 x 114 pts" in said
    assert "Pages:           1\n" in said
    assert on_its_way.trouble() == ""
    read_back(rasterised(pdf.read_bytes(), 203, tmp_path).convert("1"), content().code)


@pytest.mark.parametrize(
    ("sizes", "sentence"),
    [
        (
            LARGE,
            "Printer queue labels is set to 102 x 152 mm and has no size for our label of 60 x 40 mm. "
            "Add that size to the queue, or choose another template in site.toml.",
        ),
        (
            {**LARGE, **TURNED},
            "Printer queue labels has our label of 60 x 40 mm turned only. Add the size 60 x 40 mm to the queue.",
        ),
    ],
)
def test_media_that_do_not_match_are_warned_of_before_anything_is_printed(
    service: Service, label_printer: Printer, sizes: dict[str, tuple[int, int]], sentence: str
) -> None:
    """BR-22, BR-24."""
    add_driven(service, label_printer.port, sizes, "203dpi")
    assert spooler(service, "labels").warnings() == (sentence,)


def test_a_resolution_that_differs_across_and_down_is_warned_of(service: Service, label_printer: Printer) -> None:
    """BR-23."""
    add_driven(service, label_printer.port, OURS, "300x600dpi")
    (told,) = spooler(service, "labels").warnings()
    assert told.startswith("Printer queue labels prints at 300 x 600 dots per inch, the label is drawn at 203.")


def test_the_code_is_square_in_millimetres_where_dots_are_not(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path
) -> None:
    """BR-23: drawn at 300 x 600 dots per inch and read back after making the dots square again."""
    add_driven(service, label_printer.port, OURS, "300x600dpi")
    on_its_way = target("labels", SIXTY, 300)
    on_its_way.send(content())
    assert first_news(on_its_way).fate is Fate.SENT
    pdf = tmp_path / "arrived.pdf"
    pdf.write_bytes(label_printer.label())
    subprocess.run(["pdftoppm", "-rx", "300", "-ry", "600", "-gray", "-singlefile", pdf, tmp_path / "page"], check=True)
    with Image.open(tmp_path / "page.pgm") as page:
        assert page.height / page.width == pytest.approx(2 * 113.4 / 170.1, rel=0.02)
        read_back(page.resize((page.width, page.height // 2)).convert("1"), content().code)


def test_a_printer_with_margins_shrinks_nothing_and_feeds_no_second_label(
    service: Service, label_printer: Printer, target: Make, tmp_path: Path
) -> None:
    """BR-22, BR-25: 2 mm unprintable all round; each of three labels is one page, its code as large as drawn."""
    add_driven(service, label_printer.port, OURS, "203dpi", margin=6)
    on_its_way = target()
    drawn = read_width(render(SIXTY, content(), 203))
    for number in "123":
        on_its_way.send(replace(content(), print_number=number))
    for _ in "123":
        page = rasterised(label_printer.label(), 203, tmp_path)
        assert read_width(page) == pytest.approx(drawn, rel=0.02)
    on_its_way.last_news(DEADLINE_S)
    assert label_printer.is_empty


def read_width(page: Image.Image) -> int:
    """Dots across the code."""
    (found,) = zxingcpp.read_barcodes(page.convert("L"))
    return found.position.top_right.x - found.position.top_left.x
