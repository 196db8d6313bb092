"""Looking without touching: what a container is, and what may be done with it. Never changes anything."""

from dataclasses import replace

from station.care.answers import about, at_text
from station.care.floor import Floor
from station.care.lying import lies_in
from station.care.reason import Reason
from station.care.reasons import against
from station.care.saying import spot
from station.care.state import Container
from station.care.thaw import is_thawing
from station.care.verdict import Armed, Decision, Verdict
from station.care.words import Stage, Storage, Word


def at_desk(floor: Floor, container: Container) -> Decision:
    """A container scanned where nothing is made of it: looked at, and ready for a card."""
    return replace(look(floor, container), armed=Armed(at=floor.now, container=container.id))


def look(floor: Floor, container: Container) -> Decision:
    """The standing of a container, as a verdict that writes nothing and never says USE."""
    reasons = _worth_saying(against(floor, container, None), container)
    lies = lies_in(floor, container)
    if reasons:
        first = reasons[0]
        word = Word.DONE if first.code == "not-taken-out" else first.word
        note = f"It lies in {lies}." if lies else ""
        verdict = about(floor, container, word, "look", first.headline, first.why, _others(reasons), note=note)
        return Decision(verdict)
    if lies and floor.storage(container) is not Storage.ROOM:
        return Decision(_in_the_cold(floor, container, lies))
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


def _worth_saying(reasons: tuple[Reason, ...], container: Container) -> tuple[Reason, ...]:
    """The reasons against it, without what anybody expects of a container that lies in the cold closed."""
    as_it_should = container.store is not None and container.opened_at is None and not is_thawing(container)
    return tuple(reason for reason in reasons if not as_it_should or reason.code != "not-taken-out")


def _in_the_cold(floor: Floor, container: Container, lies: str) -> Verdict:
    shelf = container.shelf_end
    expires = f" It expires {at_text(floor, shelf)} (shelf life)." if shelf is not None else ""
    why = f"{container.spoken} is put away in {lies}.{expires}"
    todo = "To use it, scan it at the door of its store. Looked at only; nothing was recorded."
    return about(floor, container, Word.DONE, "look", "IN COLD STORAGE", why, todo)


def _others(reasons: tuple[object, ...]) -> str:
    more = len(reasons) - 1
    also = f"{more} more against it. " if more else ""
    return f"{also}Looked at only; nothing was recorded."
