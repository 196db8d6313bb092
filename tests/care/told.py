"""What a person reads of one answer, and what the record keeps of it, for tables of many answers."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import TypeVar

from station.care import facts as f
from station.care.verdict import Verdict
from station.services.outcome import Outcome
from tests.care.bench import Bench

Kind = TypeVar("Kind")

FIRST, SECOND = "K7-001", "K7-002"

Refused = tuple[str | None, str, str, str]
"""Container, where, code and text of a refused scan."""


@dataclass(frozen=True, slots=True)
class Told:
    """An answer: its code, what it is about, and the refused scan it leaves in the record."""

    code: str
    container: str | None = None
    position: str | None = None
    refused: Refused | None = None
    asks: tuple[str, ...] = ()


Answering = Callable[[], Outcome]
Answer = tuple[Answering, Told]


def told_by(outcome: Outcome) -> Told:
    """The same of something that happened; the newest refused scan counts."""
    verdict = outcome.verdict
    assert verdict is not None
    bodies = [fact.body for fact in outcome.facts if isinstance(fact.body, f.ScanRefused)]
    refused = (bodies[-1].container, bodies[-1].where, bodies[-1].code, bodies[-1].text) if bodies else None
    return Told(verdict.code, verdict.container, verdict.position, refused, verdict.asks)


def unsaid(verdict: Verdict | None) -> list[str]:
    """The parts of an answer that say nothing, or say that something is missing."""
    assert verdict is not None
    parts = {"headline": verdict.headline, "why": verdict.why, "todo": verdict.todo}
    return [name for name, text in parts.items() if not text or "None" in str(text)]


def kept(bench: Bench, kind: type[Kind]) -> list[Kind]:
    """What the record has of one kind of fact."""
    return [fact.body for fact in bench.journal.facts() if isinstance(fact.body, kind)]


def out_without_put_away(bench: Bench, jar: str) -> f.TakenOut:
    """What another station tells, whose put-away has not come here yet."""
    now, hour = bench.clock.wall, timedelta(hours=1)
    given = (now, now, now + 3 * hour, now + 168 * hour, 3 * hour, None, None, 23.0, 40.0, 5.0)
    return f.TakenOut(jar, "FRIDGE", *given, "SN-4 version 1", "Europe/Berlin")
