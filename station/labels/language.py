"""The languages a label may be printed in; that of the screen has no part in it.

What a label says is made up in English, which is also what stands in the table on the left. A template has a
language, and its words, the days and the names of limits are put into it when the label is laid out. Names a site
gives (pastes, kinds, people, lots) are printed as they are. What has no entry is printed in English.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from station.care.saying import MONTHS, WEEKDAYS
from station.labels.content import HAZARDS, HAZARDS_BRIEF, TALLEST_DAY, WIDEST_DAY, LabelContent

TIME_FIELDS = (
    "thaw_start",
    "earliest_use",
    "discard_by",
    "discard_day",
    "thaw_start_brief",
    "earliest_use_brief",
    "earliest_day",
    "opened",
)
WORD_FIELDS = (
    "kind",
    "alloy_loud",
    "alloy_plain",
    "governing",
    "governing_full",
    "open_life",
    "lot",
    "tip",
    "hazards",
    "hazards_brief",
)


@dataclass(frozen=True, slots=True)
class Language:
    """One language: `days` for weekdays and months, `words` for whole texts, `starts` for how a text begins.

    `check_days` are the days a template is checked with: first the widest in print, then those whose letters reach
    highest and lowest; named in English, as contents are. `shorter` has for a text of this language what stands in
    its place where the line has no room for it.
    """

    days: Mapping[str, str]
    words: Mapping[str, str]
    starts: Mapping[str, str]
    check_days: tuple[str, ...]
    shorter: Mapping[str, str] = field(default_factory=dict)


_GERMAN_WEEKDAYS = ("Mo", "Di", "Mi", "Do", "Fr", "Sa", "So")
_GERMAN_MONTHS = ("Jan", "Feb", "Mär", "Apr", "Mai", "Jun", "Jul", "Aug", "Sep", "Okt", "Nov", "Dez")
_GERMAN = Language(
    days=MappingProxyType(dict(zip((*WEEKDAYS, *MONTHS), (*_GERMAN_WEEKDAYS, *_GERMAN_MONTHS), strict=True))),
    words=MappingProxyType(
        {
            "THAW START": "ENTNAHME",
            "EARLIEST USE": "VERWENDBAR AB",
            "DISCARD BY": "VERWENDBAR BIS",
            "limit: {governing_full}": "Grenze: {governing_full}",
            "ONCE OPENED": "NACH ÖFFNEN",
            "OPENED": "GEÖFFNET",
            "DISCARD": "BIS",
            "OPEN: KEEP LID ON": "OFFEN: DECKEL ZU",
            "part {part_number}": "Art. {part_number}",
            # at a line "Los" is what is being built
            "lot {lot}": "CHARGE {lot}",
            "lot: see screen": "CHARGE: Bildschirm",
            "{container} label {print_number}": "{container} Etik. {print_number}",
            "{container} no. {print_number}": "{container} Nr. {print_number}",
            "EXPIRES": "VERFALL",
            "NO TIMES YET: SCAN IT AT ITS STORE": "NOCH KEINE ZEITEN: AM LAGERORT SCANNEN",
            HAZARDS: "GEFAHRENHINWEISE: HERSTELLERETIKETT DANEBEN",
            HAZARDS_BRIEF: "GEFAHREN: S. HERSTELLER",
            "IS OPEN": "IST OFFEN",
            # an arrow to the lower edge stands beside it
            "TIP DOWN": "SPITZE UNTEN",
            "LEADED (Pb)": "BLEIHALTIG (Pb)",
            "BISMUTH (Sn-Bi)": "WISMUT (Sn-Bi)",
            "FLUX OR ADHESIVE": "FLUSSMITTEL/KLEBER",
            "several": "mehrere",
            "shelf life": "Haltbarkeit",
            "room life": "Zeit bei RT",
            "open life": "offene Zeit",
            "decanted life": "Umfüllfrist",
            "used-paste life": "Restpaste",
            "decanted": "umgefüllt",
            "used paste": "Restpaste",
        }
    ),
    starts=MappingProxyType(
        {"LEAD-FREE ": "BLEIFREI ", "decanted from ": "umgefüllt aus ", "used paste of ": "Restpaste aus "}
    ),
    check_days=("Mon 00 Nov", "Tue 00 Aug", "Tue 00 Oct"),
    shorter=MappingProxyType(
        {
            "VERWENDBAR AB": "VERW. AB",
            "VERWENDBAR BIS": "VERW. BIS",
            "GEÖFFNET": "GEÖFFN.",
            "GEÖFFN.": "OFFEN",
            "GEFAHREN: S. HERSTELLER": "GEFAHREN: DANEBEN",
            "SPITZE UNTEN": "SPITZE",
            "FLUSSMITTEL/KLEBER": "FLUX, KLEBSTOFF",
        }
    ),
)
ENGLISH = "en"
LANGUAGES: Mapping[str, Language] = MappingProxyType(
    {
        ENGLISH: Language({}, {}, {}, (WIDEST_DAY, TALLEST_DAY)),
        "de": _GERMAN,
    }
)
"""By the short name of ISO 639-1."""


def phrase(text: str, language: str) -> str:
    """A text of a template in a language; unchanged where the table has no such text."""
    return LANGUAGES[language].words.get(text, text)


def shorter(text: str, language: str) -> str:
    """What stands on a label where there is no room for this text of that language; empty where nothing does."""
    return LANGUAGES[language].shorter.get(text, "")


def in_language(content: LabelContent, language: str) -> LabelContent:
    """The same label in another language; names and numbers stay as they are."""
    if language == ENGLISH:
        return content
    table, values = LANGUAGES[language], content.values
    times = {name: _day(table, values[name]) for name in TIME_FIELDS}
    words = {name: _words(table, values[name]) for name in WORD_FIELDS}
    return replace(content, **times, **words)


def _day(table: Language, text: str) -> str:
    return " ".join(table.days.get(word, word) for word in text.split(" "))


def _words(table: Language, text: str) -> str:
    if text in table.words:
        return table.words[text]
    start = next((start for start in table.starts if text.startswith(start)), "")
    return f"{table.starts[start]}{text[len(start) :]}" if start else text
