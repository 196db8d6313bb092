"""What the answers say: each code once, with an example and every other sentence it is ever said with."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from station.care.decide import JUST_SCANNED
from station.care.verdict import PrintIdentity, PrintLabel, SignIn, Silence, SwitchPlace, Verdict
from station.care.words import Card, HoldReason, Limit
from station.rehearsal.answers.plant import KINDS, PLACES, STORES
from station.rehearsal.answers.table import Answer

DOES = {
    PrintLabel: "a label prints",
    PrintIdentity: "its identity label prints",
    SignIn: "the person works here from now",
    SwitchPlace: "the station works at that place from now",
    Silence: "the alarms are silent",
}
SHARED_BY = 4
"""Sentences that so many codes say are told once."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One code of the glossary. `said` is what the screen says where the `example` is done; `always` and `sometimes`
    are the names of facts, and what happens besides."""

    code: str
    example: Answer
    said: Verdict
    headlines: tuple[str, ...]
    sentences: tuple[str, ...]
    always: tuple[str, ...]
    sometimes: tuple[str, ...]


def glossary(answers: Iterable[Answer]) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """Every code by its name, and the sentences many codes share."""
    by_code: dict[str, list[Answer]] = {}
    for answer in answers:
        by_code.setdefault(answer.decision.verdict.code, []).append(answer)
    said = {code: _sentences(answer.decision.verdict for answer in found) for code, found in by_code.items()}
    used = Counter(kind for sentences in said.values() for kind in sentences)
    shared = {kind for kind, count in used.items() if count >= SHARED_BY}
    entries = tuple(_entry(code, by_code[code], said[code], shared) for code in sorted(by_code))
    first = {kind: text for sentences in reversed(said.values()) for kind, text in sentences.items() if kind in shared}
    return entries, tuple(first[kind] for kind in sorted(first))


def _entry(code: str, found: list[Answer], said: dict[str, str], shared: set[str]) -> Entry:
    example = min(found, key=_how_involved)
    verdict = example.case.act(example.ask.codes).verdict or example.decision.verdict
    told = {kind_of(sentence) for sentence in sentences_of(verdict)}
    headlines = {kind_of(line): line for line in (answer.decision.verdict.headline for answer in reversed(found))}
    headlines.pop(kind_of(verdict.headline), None)
    recorded = [_recorded(answer) for answer in found if not _says_it_again(answer)]
    always = set.intersection(*map(set, recorded))
    return Entry(
        code,
        example,
        verdict,
        tuple(sorted(headlines.values())),
        tuple(text for kind, text in said.items() if kind not in told and kind not in shared),
        tuple(name for name in recorded[0] if name in always),
        tuple(sorted({name for names in recorded for name in names} - always)),
    )


def _says_it_again(answer: Answer) -> bool:
    """A scan repeated at once is answered as before, and nothing is recorded."""
    return answer.decision.verdict.note.startswith(JUST_SCANNED)


def _how_involved(answer: Answer) -> tuple[bool, bool, int, bool]:
    """Examples are as plain as they come: a container on record, few scans, nothing else said."""
    verdict = answer.decision.verdict
    return (_says_it_again(answer), verdict.by_label, len(answer.ask.codes), bool(verdict.note))


def _recorded(answer: Answer) -> tuple[str, ...]:
    """What an answer writes, and does besides, each once."""
    facts = (body.NAME.replace("-", " ") for body in answer.decision.bodies)
    return tuple(dict.fromkeys((*facts, *(DOES[type(effect)] for effect in answer.decision.effects))))


def _sentences(verdicts: Iterable[Verdict]) -> dict[str, str]:
    """Each different sentence by its kind, in the order they come up."""
    found: dict[str, str] = {}
    for verdict in verdicts:
        for sentence in sentences_of(verdict):
            found.setdefault(kind_of(sentence), sentence)
    return found


def sentences_of(verdict: Verdict) -> Iterator[str]:
    """Each sentence of why, what to do and note."""
    for text in (verdict.why, verdict.todo, verdict.note):
        yield from parts_of(text)


@cache
def parts_of(text: str) -> tuple[str, ...]:
    """The sentences of a text."""
    return tuple(part for part in re.split(r"(?<=[.?!])\s+(?=[A-Z0-9])", text) if part)


def _any_of(names: Iterable[str]) -> str:
    return "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))


_TITLES = {title for thing in (PLACES, STORES.values(), KINDS.values()) for title in (entry.title for entry in thing)}
_SORTS = (
    (_any_of(reason.value for reason in HoldReason), "<hold>"),
    (_any_of(limit.value for limit in Limit), "<limit>"),
    (r"\b[Ll]ine \d\w*|\b[HD]\d\b", "<position>"),
    (_any_of((*_TITLES, *(store.id for store in STORES.values()))), "<place>"),
    (r"out of <place>", "<position>"),
    (rf"^(?:{_any_of(card.value.replace('-', ' ') for card in Card)}) needs", "<card> needs"),
    (r"\bbadge [A-Z-]+\b", "<badge>"),
    (r"\bWO-\w\b", "<order>"),
    (r"(?:a |an )?PASTE-[A-Z]", "<paste>"),
    (r"LEAD-FREE|LEADED \(Pb\)|BISMUTH \(Sn-Bi\)", "<alloy>"),
    (r"K\d \d+", "<container>"),
    (r"\b[ABFS]\d\b", "<bin>"),
    (r"\b(?:(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ [A-Z][a-z]{2} (?:\d{4} )?)?\d\d:\d\d\b", "<time>"),
    (r"\b\d+ d(?: \d+ h)?\b|\b\d+ h(?: \d\d)?\b|\b\d+ min\b", "<span>"),
    (r"\b\d+(?:\.\d+)?\b", "<number>"),
    (r"(<hold>)(?:, <hold>)+", r"\1"),
    (r"<time> \(<limit>\)", "<time> <limit>"),
)


@cache
def kind_of(sentence: str) -> str:
    """A sentence without what changes in it from one day to the next: names, times, numbers."""
    for pattern, stands_for in _SORTS:
        sentence = re.sub(pattern, stands_for, sentence, flags=re.IGNORECASE if "<l" in stands_for else 0)
    return sentence
