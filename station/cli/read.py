"""`station read TEXT`: what the text of a code means, with the keys and lists this PC has."""

from argparse import Namespace
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from station.bootstrap import DEMO_KEYS, keys_in
from station.care.makers_label import MakersLabel
from station.care.scans import MakersLabelScan, UnreadScan, WorkOrderScan
from station.cli.saying import NO, YES, complain, say, say_json, table
from station.clock import SystemClock
from station.labels import containercode, timecode
from station.labels.keys import KeyRing
from station.labels.makers.setting import MakersSetting
from station.labels.plaincodes import known_texts
from station.labels.reading import NotRead, read, trimmed
from station.services.makers import makers_scan
from station.services.reading import Reader
from station.services.site import Site
from station.settings.load import load

# A code may hold anything; a terminal would obey its control characters. Unicode has a sign for each of them.
CONTROL_PICTURES = {code: 0x2400 + code for code in range(0x20)} | {0x7F: 0x2421}
NO_KEY = (
    "key",
    "There is no key to check this label's signature with. Add --data with the station's data folder, or --config "
    "with a demo's settings.",
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a text means. `faults` are (code, sentence); with any of them the text must not be trusted."""

    kind: str
    fields: dict[str, str] = field(default_factory=dict)
    faults: tuple[tuple[str, str], ...] = ()


def run(told: Namespace) -> int:
    """Read the text; one that means nothing here is the answer "no"."""
    site = load(told.config) if told.config is not None else None
    meaning = meaning_of(told.text, site, keys_for(site, told.data))
    if told.json:
        say_json(as_json(meaning))
    else:
        say_meaning(meaning)
    return NO if meaning.faults else YES


def as_json(meaning: Meaning) -> dict[str, object]:
    """The answer for machines."""
    faults = [{"code": code, "sentence": sentence} for code, sentence in meaning.faults]
    return {"kind": meaning.kind, "fields": meaning.fields, "faults": faults}


def say_meaning(meaning: Meaning, before: str = "") -> None:
    """The answer for people, its first line after `before`; faults go to standard error."""
    say(f"{before}{meaning.kind}")
    table([(f"  {name}", value.translate(CONTROL_PICTURES)) for name, value in meaning.fields.items()])
    complain(sentence for _, sentence in meaning.faults)


def meaning_of(text: str, site: Site | None, keys: KeyRing | None) -> Meaning:
    """The one meaning of a text, never a guess; `keys` is None where there is none to check a signature with."""
    if keys is None and _is_signed(text):
        return Meaning("unknown", {"text": trimmed(text)}, (NO_KEY,))
    ring = keys or DEMO_KEYS  # without a key nothing signed gets here
    reader = Reader(site, ring) if site is not None else None
    made = makers_scan((text,), site.makers if site is not None else MakersSetting(), today_at(site))
    reading = read(text, ring, reader.known if reader is not None else known_texts())
    if isinstance(reading, NotRead):
        order = reader.read((text,)) if reader is not None else None
        if isinstance(order, WorkOrderScan):
            return Meaning("work-order", {"order": order.order, "product": order.product})
        if made is not None and reading.faults[0][0] == "prefix":
            return _of_maker(text, made)
        return Meaning(reading.kind, reading.fields, reading.faults)
    healed = {"healed": "yes"} if reading.healed else {}
    return Meaning(reading.kind, {**reading.fields, **healed})


def today_at(site: Site | None) -> date:
    """The day at the plant, or in UTC where no plant is named: two-digit years are read by it."""
    now = SystemClock().read().wall
    return now.astimezone(site.zone).date() if site is not None else now.date()


def _of_maker(text: str, made: MakersLabelScan | UnreadScan) -> Meaning:
    if isinstance(made, UnreadScan):
        return Meaning("maker-label", {"text": text}, (("damaged", f"{made.sentence} {made.mend}"),))
    return Meaning("maker-label", {"text": text, **makers_fields(made.label)})


def makers_fields(label: MakersLabel) -> dict[str, str]:
    """Field by field: what is certain, what has no field here, what is not known, and what has to be asked."""
    extras = {f"{extra.code} {extra.title}": extra.value for extra in label.extras}
    unknown = {f"unknown {count}": raw for count, raw in enumerate(label.unknown, 1)}
    asked = {
        f"asked: {question.field}": " ".join((question.sentence, " or ".join(question.choices))).strip()
        for question in label.questions
    }
    return {"carrier": label.carrier.value, **label.fields, **extras, **unknown, **asked}


def _is_signed(text: str) -> bool:
    prefixes = (timecode.FRAME.prefix, containercode.FRAME.prefix)
    bare = trimmed(text)
    return bare.startswith(prefixes) or bare.swapcase().startswith(prefixes)


def keys_for(site: Site | None, data: Path | None) -> KeyRing | None:
    """The site's key where its data folder is given; the demo key counts for a demo's settings only."""
    demo = site is not None and site.plant.rules.demo
    if data is None:
        return DEMO_KEYS if demo else None
    own = keys_in(data, create=False)
    return KeyRing({**own.keys, **DEMO_KEYS.keys}, own.current) if demo else own
