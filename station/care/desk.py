"""Looking without touching: what a container is, and what may be done with it. Never changes anything."""

from dataclasses import replace

from station.care.answers import about, at_text
from station.care.floor import Floor
from station.care.reasons import against
from station.care.saying import spot
from station.care.state import Container
from station.care.verdict import Armed, Decision
from station.care.words import Stage, Word


def at_desk(floor: Floor, container: Container) -> Decision:
    """A container scanned where nothing is made of it: looked at, and ready for a card."""
    return replace(look(floor, container), armed=Armed(at=floor.now, container=container.id))


def look(floor: Floor, container: Container) -> Decision:
    """The standing of a container, as a verdict that writes nothing and never says USE."""
    reasons = against(floor, container, None)
    if reasons:
        first = reasons[0]
        word = Word.DONE if first.code == "not-taken-out" else first.word
        verdict = about(floor, container, word, "look", first.headline, first.why, _others(reasons))
        return Decision(verdict)
    stage = floor.stage(container)
    since = container.opened_at if stage is Stage.OPEN else container.earliest_use
    when = f" since {at_text(floor, since)}" if since is not None else ""
    fed = floor.fed_by(container.id)
    where = f" It feeds {' and '.join(spot(name) for name in fed)}." if fed else ""
    verdict = about(
        floor,
        container,
        Word.DONE,
        "look",
        f"{stage.value.upper()}{when}",
        f"Nothing speaks against {container.spoken}.{where}",
        "Looked at only; nothing was recorded.",
    )
    return Decision(verdict)


def _others(reasons: tuple[object, ...]) -> str:
    more = len(reasons) - 1
    also = f"{more} more against it. " if more else ""
    return f"{also}Looked at only; nothing was recorded."
