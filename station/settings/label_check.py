"""Whether every label a site can come to print holds what it must and has room for the longest texts."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from station.care.specification import Kind, Paste
from station.care.words import Limit
from station.labels.builtin import site_template
from station.labels.containercode import FRAME as CONTAINER_FRAME
from station.labels.containercode import container_id
from station.labels.content import LabelContent, of_filled, widest_content, widest_zone_text
from station.labels.fitting import check_template
from station.labels.identity import identity_content, identity_template
from station.labels.language import LANGUAGES
from station.labels.layout import Template
from station.labels.required import missing_items
from station.labels.timecode import BITS
from station.services.site import Site
from station.settings.faults import SettingsFault
from station.settings.source import Source, read_source

FILE, SITE_FILE = "labels.toml", "site.toml"
LONGEST_LOT = "0" * 30
"""As many characters as the forms take."""
YEAR = 2027
"""Any year does: it tells which zone names a doubled hour of this zone needs."""
LAST_CONTAINER = container_id((1 << BITS["station"]) - 1, (1 << BITS["counter"]) - 1)
FILLED_KIND = f"used paste of {LAST_CONTAINER} + 3"


def label_faults(site: Site) -> tuple[SettingsFault, ...]:
    """Everything a template lacks, and every text that does not fit it at 203, 300 or 600 dots per inch.

    `site` was read without fault, so its labels.toml is there.
    """
    source = read_source(site.folder, FILE, (FILE,))
    return tuple(
        _fault(source, name, sentence)
        for name, table in site.templates.items()
        for sentence in _sentences(_as_printed(site, name), site_template(name, table))
    ) + tuple(_two_stocks(site))


def _as_printed(site: Site, template: str) -> Site:
    """The site with those kinds only whose labels this template may come to hold; all where nothing limits them."""
    rules = [rule.kinds for rule in site.label_for if rule.label.template == template]
    if site.label.template == template or not rules or not all(rules):
        return site
    named = {kind for kinds in rules for kind in kinds}
    kinds = {name: kind for name, kind in site.plant.kinds.items() if name in named}
    return replace(site, plant=replace(site.plant, kinds=kinds))


def _two_stocks(site: Site) -> Iterator[SettingsFault]:
    """One printer holds labels of one size: the wrong roll is a fault of the settings before it is one at the door."""
    sizes: dict[str, tuple[str, float, float]] = {}
    for label in (site.label, *(rule.label for rule in site.label_for)):
        template = site_template(label.template, site.templates[label.template])
        found = (label.template, template.width_mm, template.height_mm)
        first = sizes.setdefault(label.queue, found)
        if label.queue and first[1:] != found[1:]:
            reason = f"queue {label.queue} would print {first[0]} and {found[0]}, labels of two sizes"
            yield SettingsFault(SITE_FILE, None, "label_for", "", reason, None, "Name another queue for one of them")


def _fault(source: Source | SettingsFault, name: str, sentence: str) -> SettingsFault:
    reason, _, remedy = sentence.rstrip(".").partition(": add ")
    mend = f"Add {remedy}" if remedy else "Correct the layout, or shorten the name in its own file"
    line = source.line_of(("template", name)) if isinstance(source, Source) else None
    return SettingsFault(FILE, line, f"template.{name}", "", reason, None, mend)


def _sentences(site: Site, template: Template) -> Iterator[str]:
    kinds = tuple(site.plant.kinds.values())
    limits = site.specifications
    filled = any(entry.decanted_life or entry.used_paste_life for entry in limits) or _leaded(site)
    yield from missing_items(template, filled=filled, tip_down=any(kind.tip_down for kind in kinds))
    yield from check_template(template, longest_contents(site, template.language))
    beside = check_template(identity_template(template), longest_identities(site))
    yield from (f"its identity label: {sentence}" for sentence in beside)


def _leaded(site: Site) -> bool:
    return any(paste.alloy.leaded for paste in site.plant.pastes.values())


def longest_contents(site: Site, language: str) -> tuple[LabelContent, ...]:
    """The time labels of a site with its longest names, for every paste: bought in, and filled here."""
    zone_name, who = widest_zone_text(site.zone, YEAR), _longest(person.id for person in site.people)
    found = []
    for paste, title, tip_down in _packings(site):
        for day in LANGUAGES[language].check_days:
            widest = widest_content(
                paste=paste.id,
                kind=title,
                alloy=paste.alloy,
                tip_down=tip_down,
                lot=LONGEST_LOT,
                who=who,
                zone_name=zone_name,
                day=day,
            )
            opened = replace(widest, write_in="", opened=widest.discard_by)
            filled = of_filled(replace(widest, kind=FILLED_KIND), Limit.USED_PASTE, paste.part_number)
            found += [widest, opened, filled]
    return tuple(found)


def longest_identities(site: Site) -> tuple[LabelContent, ...]:
    """The identity labels of a site with its longest names."""
    return tuple(
        identity_content(
            LAST_CONTAINER,
            "C1".ljust(CONTAINER_FRAME.length, "0"),
            paste=paste.id,
            kind=title,
            tip_down=tip_down,
            alloy=paste.alloy,
            lot=LONGEST_LOT,
            expires=date(YEAR, 5, 30),
        )
        for paste, title, tip_down in _packings(site)
    )


def _packings(site: Site) -> Iterator[tuple[Paste, str, bool]]:
    """Every paste with the longest title of what is stored tip down, and of what is not."""
    for paste in site.plant.pastes.values():
        for tip_down in (True, False):
            titles = [kind.title for kind in _kinds(site) if kind.tip_down is tip_down]
            if titles:
                yield paste, _longest(titles), tip_down


def _kinds(site: Site) -> Iterable[Kind]:
    return site.plant.kinds.values()


def _longest(texts: Iterable[str]) -> str:
    return max(texts, key=len, default="")
