"""`station sheet --one WHAT`: a single card, badge or tag on a label, as a picture or from a place's label printer."""

from argparse import Namespace
from pathlib import Path

from station.bootstrap import spooler_for, template_for
from station.cli.saying import NO, YES, say
from station.labels.card_label import Stock, card_label
from station.labels.sheet_codes import SheetCode
from station.labels.target import Fate
from station.printing.png import png_bytes
from station.printing.sheets.writing import write_whole
from station.services.outcome import Refusal
from station.services.site import LabelSetting, Site

WITHIN_S = 60.0
PICTURE = ".png"


def chosen(codes: tuple[SheetCode, ...], what: str) -> SheetCode:
    """The one code called so, by its name, its id or its text. Refusal for none and for several."""
    wanted = what.strip().upper()
    found = [code for code in codes if wanted in (code.name.upper(), code.text.upper(), _id(code))]
    if len(found) == 1:
        return found[0]
    if not found:
        hint = "Give its name or id; for a badge add --only badge."
        raise Refusal("no-code", f"There is no such card or tag here: {what!r}. {hint}")
    sorts = ", ".join(code.sort for code in found)
    raise Refusal("several-codes", f"{what!r} names several: {sorts}. Say which with --only SORT.")


def label_at(site: Site, place: str | None) -> LabelSetting:
    """Template and printer of a place's labels, by default those of the station's home place."""
    if place is not None and place not in {found.id for found in site.places}:
        raise Refusal("no-place", f"There is no place {place!r}. Give an id of places.toml.")
    return site.label_at("", place or site.home_place)


def refuse_wrong(told: Namespace) -> None:
    """Refusal for words that do not go together."""
    if told.down:
        raise Refusal("one-or-down", "--one is for cards, badges and tags. Leave out --down.")
    if told.file is None and told.on is None:
        raise Refusal(
            "no-file", "Name a PNG to write, or the place whose label printer it is to come out of, with --on."
        )
    if told.file is not None and told.file.suffix.lower() != PICTURE:
        raise Refusal("not-png", f"{told.file} does not end with .png, and may be a file you still need. Name a PNG.")


def give_out(site: Site, code: SheetCode, told: Namespace) -> int:
    """Write the picture, or print it and say what is known of that."""
    label = label_at(site, told.on)
    if told.file is not None:
        return _write(site, code, label, told.file)
    if not label.queue:
        raise Refusal("no-queue", f"site.toml names no printer queue for labels at {told.on}. Name a PNG instead.")
    return _print(site, code, label)


def _write(site: Site, code: SheetCode, label: LabelSetting, file: Path) -> int:
    template = template_for(site, label)
    image = card_label(code, Stock(template.width_mm, template.height_mm, label.dpi))
    write_whole(file, png_bytes(image, label.dpi))
    size = f"{template.width_mm:g} x {template.height_mm:g} mm at {label.dpi} dots per inch"
    say(f"done: {file}, {code.kind.lower()} {code.name}, {size}. Print it at 100 %.")
    return YES


def _print(site: Site, code: SheetCode, label: LabelSetting) -> int:
    from station.printing.print_worker import Patience  # noqa: PLC0415  as much as a window loads
    from station.printing.queue_target import QueueTarget  # noqa: PLC0415
    from station.ui.app import application  # noqa: PLC0415

    application(offscreen=True)
    template = template_for(site, label)
    target = QueueTarget(spooler_for(label, template), template, label.dpi, Patience())
    try:
        target.send_card(code)
        news = target.last_news(WITHIN_S)
    finally:
        target.close()
    if not news:
        say(f"no answer: nobody knows whether {target.name} took it. Look at the printer.")
        return NO
    say(f"{news[0].fate.value}: {news[0].sentence}")
    return YES if news[0].fate is Fate.SENT else NO


def _id(code: SheetCode) -> str:
    """What stands between prefix and check character, without what fills a short one up."""
    return code.text[2:-1].rstrip(".").upper()
