"""The part of the page about containers: each state at each place, scanned in other ways, and the cards after it."""

from collections.abc import Iterator, Sequence

from station.rehearsal.answers import scans
from station.rehearsal.answers.containers import STATES
from station.rehearsal.answers.folding import ands, grouped, with_rest
from station.rehearsal.answers.markdown import table
from station.rehearsal.answers.scans import Ask
from station.rehearsal.answers.state import State
from station.rehearsal.answers.table import ASKED, Answer

By = dict[str, dict[str, str]]
"""Answers by place, then by what is asked about."""
AS_ABOVE = "as above"
OTHERWISE = (
    scans.AGAIN,
    scans.LATER,
    scans.TIME_LABEL,
    scans.OLD_LABEL,
    scans.PAIRED,
    scans.OTHERS_FIRST,
    scans.OTHERS_LAST,
    scans.LOOKED_AT,
    scans.BY_LEAD,
    *scans.AT_POSITION,
)


def states() -> Iterator[str]:
    """The states by their short names, and what they mean."""
    yield "## The states of a container"
    rows: dict[str, list[State]] = {}
    for state in STATES:
        rows.setdefault(state.of, []).append(state)
    yield "\n".join(f"- **{of}**: {ands(map(_with_meaning, told))}" for of, told in rows.items())


def _with_meaning(state: State) -> str:
    return f"_{state.name}_ ({state.meaning})" if state.meaning else f"_{state.name}_"


def containers(answers: Sequence[Answer]) -> Iterator[str]:
    """The table of states and places, and the same container scanned otherwise."""
    plain = by_place(answers, scans.CONTAINER)
    columns = _alike(plain)
    yield "## A container, by its state and the place"
    rows = ((state, *(plain[places[0]][state] for places in columns)) for state in next(iter(plain.values())))
    yield table(("state", *(_titles(places) for places in columns)), rows)
    yield "## The same container, scanned in another way"
    for ask in OTHERWISE:
        told = by_place(answers, ask)
        yield f"### {ask.name[:1].upper()}{ask.name[1:]}"
        yield table(("at", "answer", "where it is"), folded(_beside(plain, told), "any other"))


def cards(answers: Sequence[Answer]) -> Iterator[str]:
    """Each command card after a container."""
    yield "## A card after a container"
    yield "The container is scanned first and answered as above; what its scan does is done."
    for ask in (*scans.AFTER_CONTAINER[: len(scans.CARDS)], scans.HELD_BY_LEAD):
        yield f"### {ask.name}"
        yield table(("at", "answer", "a container that is"), folded(by_place(answers, ask), "any other"))


def by_place(answers: Sequence[Answer], ask: Ask) -> By:
    """What each state of a container is answered to one scan."""
    found: By = {}
    for answer in answers:
        if answer.ask == ask and not answer.lies and answer.container:
            found.setdefault(answer.place, {})[answer.container] = answer.short
    return found


def _beside(plain: By, told: By) -> By:
    return {
        place: {state: AS_ABOVE if plain[place][state] == short else short for state, short in shorts.items()}
        for place, shorts in told.items()
    }


def folded(told: By, rest: str) -> Iterator[tuple[str, str, str]]:
    """Rows of places, answer and states; places that answer alike stand together."""
    columns = _alike(told)
    for places in columns:
        mapping = told[places[0]]
        where = "every place" if len(columns) == 1 and len(places) == len(ASKED) else _titles(places)
        for short, names in with_rest(grouped(mapping), rest):
            yield where, short, ands(names) if len(set(mapping.values())) > 1 else "anything"


def _alike(told: By) -> list[list[str]]:
    """The places that answer alike, together."""
    found: dict[tuple[tuple[str, str], ...], list[str]] = {}
    for place, mapping in told.items():
        found.setdefault(tuple(mapping.items()), []).append(place)
    return list(found.values())


def _titles(places: Sequence[str]) -> str:
    return ands(place.title for place in ASKED if place.id in places)
