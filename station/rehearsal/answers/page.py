"""The table as a page of Markdown, for whoever leads a line: what every scan is answered, and what each answer says."""

from collections.abc import Callable, Iterable, Iterator
from functools import cache

from station.rehearsal.answers import scans
from station.rehearsal.answers.containers import STATES
from station.rehearsal.answers.folding import Groups, ands, grouped
from station.rehearsal.answers.scans import Ask
from station.rehearsal.answers.sentences import Entry, glossary
from station.rehearsal.answers.state import State
from station.rehearsal.answers.table import ASKED, Answer, all_answers, position_states
from station.services.site import PlaceSetting

HEAD = """# What every scan is answered

This page is made from the program by `station answers`; nothing in it is written by hand. Each answer was given by
the station itself: every state was brought about by real scans in an imagined plant, then asked.

**USE** leave to use it. **WAIT** not now. **STOP** not at all, or not so. **DONE** it is recorded, or shown. Beside the
word stands a `code`; the [list of answers](#answers) says what the screen says with it. Containers, pastes and times in
it are examples, and so are all figures: your own limits stand in the specifications of your pastes.

- A card comes after what it is for: first the container or the tag of a position, then within 10 s the card.
- The container is scanned by its identity label or its time label.
- A jar is asked about, at the dispenser a cartridge. "Another paste" is of the same alloy family.
"""


@cache
def page() -> str:
    """The whole page."""
    answers = all_answers()
    parts = [HEAD, *_states(), *_same_everywhere(answers)]
    for place in ASKED:
        parts += _place(place, [answer for answer in answers if answer.place == place.id])
    parts += _cards(answers)
    entries, shared = glossary(answers)
    parts += _glossary(entries, shared)
    return "\n".join(part.rstrip() + "\n" for part in parts)


def _states() -> Iterator[str]:
    yield "## The states of a container"
    rows: dict[str, list[State]] = {}
    for state in STATES:
        rows.setdefault(state.of, []).append(state)
    yield "\n".join(f"- **{of}**: {'; '.join(map(_with_meaning, states))}" for of, states in rows.items())


def _with_meaning(state: State) -> str:
    return f"_{state.name}_ ({state.meaning})" if state.meaning else f"_{state.name}_"


def _table(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    head = list(heads)
    lines = [head, ["---"] * len(head), *(list(row) for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


# ------------------------------------------------------------------ what does not depend on anything


def _fixed(answers: Iterable[Answer]) -> dict[str, str]:
    """Scans that are answered the same in every state and at every place."""
    found: dict[str, set[str]] = {}
    for answer in answers:
        found.setdefault(answer.ask.name, set()).add(answer.short)
    return {name: next(iter(shorts)) for name, shorts in found.items() if len(shorts) == 1}


def _same_everywhere(answers: tuple[Answer, ...]) -> Iterator[str]:
    yield "## The same in every state and at every place"
    yield _table(("scan", "answer"), _fixed(answers).items())


# ------------------------------------------------------------------ one place


def _place(place: PlaceSetting, answers: list[Answer]) -> Iterator[str]:
    yield f"## {place.title}"
    yield f"### A container at the {place.kind.value}"
    yield _table(("a container that is", "answer"), _by_answer(_mapping(answers, scans.CONTAINER)))
    yield "\n".join(_otherwise(answers))
    yield "### Without a container or a tag before it"
    alone = {answer.ask.name: answer.short for answer in answers if answer.ask in scans.PLAIN and not answer.lies}
    fixed = _fixed(all_answers())
    yield _table(("scan", "answer"), _by_answer({name: short for name, short in alone.items() if name not in fixed}))
    if place.positions:
        yield from _positions(place, answers)


def _mapping(answers: Iterable[Answer], ask: Ask, lies: str = "") -> dict[str, str]:
    """What each state of a container is answered to one scan."""
    return {
        answer.container: answer.short
        for answer in answers
        if answer.ask == ask and answer.lies == lies and answer.container
    }


def _by_answer(mapping: dict[str, str]) -> Iterator[tuple[str, str]]:
    return ((ands(states), short) for short, states in grouped(mapping))


OTHERWISE = (
    scans.AGAIN,
    scans.LATER,
    scans.TIME_LABEL,
    scans.OLD_LABEL,
    scans.NEWER_LABEL,
    scans.LOOKED_AT,
    scans.BY_LEAD,
    *scans.AT_POSITION,
)


def _otherwise(answers: list[Answer]) -> Iterator[str]:
    """The same container scanned in another way: only what is answered differently is told."""
    plain = _mapping(answers, scans.CONTAINER)
    for ask in OTHERWISE:
        told = _mapping(answers, ask)
        differs = {name: short for name, short in told.items() if plain[name] != short}
        if not told:
            continue
        if not differs:
            yield f"- **{ask.name}**: as the container."
        elif len(set(told.values())) == 1:
            yield f"- **{ask.name}**: {next(iter(told.values()))}."
        else:
            yield f"- **{ask.name}**: as the container, but {_listed(grouped(differs))}."


def _listed(groups: Groups) -> str:
    return "; ".join(f"{short} for {ands(states)}" for short, states in groups)
