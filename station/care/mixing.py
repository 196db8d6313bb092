"""A run in a mixing machine, as the MIXED card tells it.

The card speaks of a run that was made, so it is always counted: a run that nobody should have made has sheared the
paste all the same. It changes no clock. Paste that is not ready stays so, since a mixer warms it unevenly; open life
goes on through it. Run more often than its specification allows, the paste goes on hold until a shift lead has
judged it, the safe side of what nobody sees from outside. Decanted paste brings along the runs its source had made
before. Used paste is never mixed.
"""

from dataclasses import replace
from itertools import takewhile

from station.care import facts as f
from station.care.answers import about, refusal
from station.care.context import Context
from station.care.floor import Floor
from station.care.reason import Reason
from station.care.reasons import against
from station.care.state import Container
from station.care.verdict import Decision, Verdict
from station.care.waste import leaded
from station.care.words import HoldReason, Limit, Word

NO_SUBSTITUTE = "A mixer warms paste unevenly: it is no substitute for the time to warm."
# the lid stays closed, so the air of the room does not matter
OF_OPENING = ("room-too-cold", "room-too-humid")


def mixed(floor: Floor, context: Context, container: Container) -> Decision:
    """The container was run in a mixing machine, its lid closed."""
    runs = runs_of(floor, container) + 1
    told: list[f.Body] = [f.Mixed(container.id, context.here.id)]
    reasons = [reason for reason in against(floor, container, None) if reason.code not in OF_OPENING]
    if any(reason.code == "not-taken-out" for reason in reasons):
        told.append(f.Sighted(container.id, context.here.id, warm=True))
    if runs > _allowed(floor, container):
        told.append(f.Held(container.id, HoldReason.MIXED_OFTEN, f"run {runs}"))
        return Decision(_too_often(floor, container, runs), tuple(told))
    verdict = _not_usable(floor, container, reasons[0]) if reasons else _mixed(floor, container, runs)
    return Decision(verdict, tuple(told))


def _allowed(floor: Floor, container: Container) -> int:
    used = container.content_limit is Limit.USED_PASTE
    return 0 if used else floor.specification(container.paste).mixings


def runs_of(floor: Floor, container: Container) -> int:
    """How often its paste was mixed: in it, and in what it was filled from before it was filled."""
    return container.mixings + max((_runs_before(floor, container, name) for name in container.sources), default=0)


def _runs_before(floor: Floor, container: Container, source: str) -> int:
    told = takewhile(lambda fact: fact.key != container.received_key, floor.ledger.history("container", source))
    return sum(1 for fact in told if isinstance(fact.body, f.Mixed) and not floor.ledger.is_undone(fact.key))


def _mixed(floor: Floor, container: Container, runs: int) -> Verdict:
    left = _allowed(floor, container) - runs
    once = f"{'once more' if left == 1 else f'{left} more times'} at most"
    opened = container.opened_at is not None
    return about(
        floor,
        container,
        Word.DONE,
        "mixed",
        "MIXED",
        f"{container.spoken} is recorded as mixed. {'Its open life went on.' if opened else 'No clock changes.'}",
        f"{f'It may be mixed {once}.' if left else 'Do not mix it again.'}{_holder(floor, container)}",
    )


def _holder(floor: Floor, container: Container) -> str:
    return " Leaded (Pb): wipe the holder with its own wipes." if leaded(floor, container.paste) else ""


def _not_usable(floor: Floor, container: Container, reason: Reason) -> Verdict:
    """Mixed although it may not be used now: why not, and that mixing mends nothing of it."""
    caution = f"The run is recorded. {NO_SUBSTITUTE}" if reason.word is Word.WAIT else "The run is recorded."
    return replace(refusal(floor, container, reason, None), note=caution)


def _too_often(floor: Floor, container: Container, runs: int) -> Verdict:
    allowed = _allowed(floor, container)
    what = "Used paste" if container.content_limit is Limit.USED_PASTE else container.paste
    times = "once" if allowed == 1 else f"{allowed} times"
    often = f"may be mixed {times}" if allowed else "is never mixed"
    return about(
        floor,
        container,
        Word.STOP,
        "mixed-often",
        "MIXED TOO OFTEN",
        f"{what} {often}; this was run {runs} of {container.spoken}. It is on hold from now.",
        "Set it aside and call the shift lead, who judges whether it still prints.",
    )
