"""The part of the page about positions: what may go on what lies there, and the cards after the tag."""

from collections.abc import Iterator, Sequence

from station.rehearsal.answers import scans
from station.rehearsal.answers.folding import ands, grouped, with_rest
from station.rehearsal.answers.markdown import table
from station.rehearsal.answers.state import State
from station.rehearsal.answers.table import Answer, position_states
from station.services.site import PlaceSetting


def positions(place: PlaceSetting, answers: Sequence[Answer], fixed: dict[str, str]) -> Iterator[str]:
    """What lies there by what comes; then cards and work orders after the tag."""
    yield f"## {place.title}: what lies there, and what comes"
    yield f"{ands(_told(state) for state in position_states(place) if state.meaning)}."
    cells = {
        (answer.lies, answer.container): answer.short
        for answer in answers
        if answer.ask is scans.TAG_FIRST and answer.lies and answer.container
    }
    comes = list(dict.fromkeys(container for _, container in cells))
    rows = grouped({lies: " | ".join(cells.get((lies, container), "–") for container in comes) for lies, _ in cells})
    yield table(("there is", *comes), ((ands(lies), *shorts.split(" | ")) for shorts, lies in rows))
    yield f"### {place.title}, after the tag"
    yield table(("scan", "answer", "there is"), _after_tag(answers, fixed))


def _told(state: State) -> str:
    return f"_{state.name}_: {state.meaning}"


def _after_tag(answers: Sequence[Answer], fixed: dict[str, str]) -> Iterator[tuple[str, str, str]]:
    found: dict[str, dict[str, str]] = {}
    for answer in answers:
        if answer.ask in scans.AFTER_TAG and answer.lies and not answer.container and answer.ask.name not in fixed:
            found.setdefault(answer.ask.name, {})[answer.lies] = answer.short
    for name, mapping in found.items():
        for short, lies in with_rest(grouped(mapping), "anything else"):
            yield name, short, ands(lies) if len(set(mapping.values())) > 1 else "anything"
