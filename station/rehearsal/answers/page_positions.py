"""The part of the page about positions: what may go on what lies there, and the cards after the tag."""

from collections.abc import Iterator, Mapping, Sequence

from station.rehearsal.answers import scans
from station.rehearsal.answers.folding import ands, grouped, with_rest
from station.rehearsal.answers.markdown import table
from station.rehearsal.answers.state import State
from station.rehearsal.answers.table import ASKED, Answer, position_states
from station.services.site import PlaceSetting

By = dict[str, dict[str, str]]
"""Answers by one thing and then by another."""


def positions(answers: Sequence[Answer], fixed: Mapping[str, str]) -> Iterator[str]:
    """Every place with positions; what the first printer answers alike is told there only."""
    first: tuple[PlaceSetting, By, By] | None = None
    for place in ASKED:
        if not place.positions:
            continue
        here = [answer for answer in answers if answer.place == place.id and answer.lies]
        comes, after = _comes(here), _after_tag(here, fixed)
        like = first if first is not None and first[0].kind is place.kind else None
        yield from _what_comes(place, _without(comes, like[1] if like else {}), like[0] if like else None)
        yield f"### {place.title}, after the tag"
        yield from _cards(_without(after, like[2] if like else {}), like[0] if like else None)
        first = first or (place, comes, after)


def _comes(answers: Sequence[Answer]) -> By:
    """By what lies there: the answer to each container that comes, the tag scanned first."""
    found: By = {}
    for answer in answers:
        if answer.ask is scans.TAG_FIRST and answer.container:
            found.setdefault(answer.lies, {})[answer.container] = answer.short
    return found


def _after_tag(answers: Sequence[Answer], fixed: Mapping[str, str]) -> By:
    """By the scan: the answer to it with each thing that may lie there."""
    found: By = {}
    for answer in answers:
        if answer.ask in scans.AFTER_TAG and not answer.container and answer.ask.name not in fixed:
            found.setdefault(answer.ask.name, {})[answer.lies] = answer.short
    return found


def _without(told: By, known: By) -> By:
    """What is not told already, row by row."""
    return {name: row for name, row in told.items() if not row.items() <= known.get(name, {}).items()}


def _what_comes(place: PlaceSetting, rows: By, like: PlaceSetting | None) -> Iterator[str]:
    yield f"## {place.title}: what lies there, and what comes"
    if like is None:
        yield f"{ands(_told(state) for state in position_states(place) if state.meaning)}."
    else:
        yield f"As at {like.title}{', but:' if rows else '.'}"
    comes = list(dict.fromkeys(container for row in rows.values() for container in row))
    folded = grouped({lies: " | ".join(row.get(container, "–") for container in comes) for lies, row in rows.items()})
    if rows:
        yield table(("there is", *comes), ((ands(lies), *shorts.split(" | ")) for shorts, lies in folded))


def _told(state: State) -> str:
    return f"_{state.name}_: {state.meaning}"


def _cards(rows: By, like: PlaceSetting | None) -> Iterator[str]:
    if like is not None:
        yield f"As at {like.title}{', but:' if rows else '.'}"
    if rows:
        yield table(("scan", "answer", "there is"), _folded(rows))


def _folded(rows: By) -> Iterator[tuple[str, str, str]]:
    for name, row in rows.items():
        for short, lies in with_rest(grouped(row), "anything else"):
            yield name, short, ands(lies) if len(set(row.values())) > 1 else "anything"
