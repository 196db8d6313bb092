"""The whole table: every state at every place, asked with every scan."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from functools import cache

from station.care.specification import Rules
from station.care.verdict import Decision
from station.care.words import Holder, Limit
from station.rehearsal.answers import scans
from station.rehearsal.answers.case import Case
from station.rehearsal.answers.containers import STATES
from station.rehearsal.answers.hands import NOW, OTHER_JOURNAL, Hands
from station.rehearsal.answers.plant import LIMITS, PLACES, POSITIONS, RULES
from station.rehearsal.answers.positions import ANY_CHOICE, IN_DISPENSER, ON_STENCIL, PROBES, WITH_LEADED
from station.rehearsal.answers.scans import Ask
from station.rehearsal.answers.state import State
from station.services.site import PlaceSetting

BESIDE = ("FRIDGE2", "LINE3", "DOTS2")
"""Places that only serve to bring states about."""
ASKED = tuple(place for place in PLACES if place.id not in BESIDE)
NOTHING_THERE = State("", "")
THERE = State("the one whose paste is there", "")
A_JAR = State("ready, a jar", "", kind="JAR", lines=PROBES[0].lines)
LABELS_NEEDED = {
    scans.TIME_LABEL: 1,
    scans.OLD_LABEL: 2,
    scans.PAIRED: 1,
    scans.OTHERS_FIRST: 1,
    scans.OTHERS_LAST: 1,
}
PROBES_AT = {"DUAL": PROBES[:1], "HEAD": PROBES[::2], "DOTS": (*PROBES, A_JAR)}
"""A position of a dual-lane printer, and a head, are positions like any other: fewer containers are asked there."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer of the table. `limits` are those that run or ring in this state; `case` can be asked again."""

    place: str
    lies: str
    container: str
    ask: Ask
    decision: Decision
    limits: frozenset[Limit]
    case: Case

    @property
    def short(self) -> str:
        """Word and code."""
        return f"{self.decision.verdict.word.value} `{self.decision.verdict.code}`"


@cache
def all_answers() -> tuple[Answer, ...]:
    """Every answer, in the order of the page."""
    return tuple(
        answer
        for place in ASKED
        for answers in (_alone(place), _of_containers(place), _of_positions(place))
        for answer in answers
    )


def _alone(place: PlaceSetting) -> Iterator[Answer]:
    yield from _asked(place, NOTHING_THERE, NOTHING_THERE, scans.PLAIN)


def _of_containers(place: PlaceSetting) -> Iterator[Answer]:
    more = scans.AT_POSITION if place.positions else ()
    for state in STATES:
        yield from _asked(place, NOTHING_THERE, state, (*scans.OF_CONTAINER, *more))


def _of_positions(place: PlaceSetting) -> Iterator[Answer]:
    if not place.positions:
        return
    for state in position_states(place):
        yield from _asked(place, state, NOTHING_THERE, (scans.OWN_TAG, *scans.AFTER_TAG, *scans.PLAIN))
        probes = PROBES_AT.get(place.id, PROBES)
        there = (THERE,) if any("!receive jar" in line for line in state.lines) else ()
        for probe in (*probes, *there):
            yield from _asked(place, state, probe, scans.WITH_TAG)


def position_states(place: PlaceSetting) -> tuple[State, ...]:
    """The states the first position of a place is asked in."""
    holder = _holder(place)
    if holder is Holder.DISPENSER:
        return IN_DISPENSER
    return ON_STENCIL if holder is Holder.HEAD else (*ON_STENCIL, *WITH_LEADED)


def _holder(place: PlaceSetting) -> Holder:
    return POSITIONS[place.positions[0]].holder


def _asked(place: PlaceSetting, lies: State, container: State, asks: Iterable[Ask]) -> Iterator[Answer]:
    case = made(place, lies, container)
    station = case.hands.station
    floor = station.floor()
    found = station.ledger.containers.get(case.hands.name("it"))
    running = [limit for limit, _ in floor.standing(found).limits] if found is not None else []
    ringing = [alarm.limit for alarm in station.ledger.alarms.values()]
    limits = frozenset((*running, *ringing))
    for ask in asks:
        if _makes_sense(case, ask):
            yield Answer(place.id, lies.name, container.name, ask, case.answer(ask.codes), limits, case)


def _makes_sense(case: Case, ask: Ask) -> bool:
    """A label needs to have been printed, and another container to be there; what was never received has no label but
    the one it is known by."""
    if ask is scans.NEWER_LABEL:
        return case.is_known()
    if ask in (scans.OTHERS_FIRST, scans.OTHERS_LAST) and "other" not in case.hands.aliases:
        return False
    return case.prints() >= LABELS_NEEDED.get(ask, 0)


def made(place: PlaceSetting, lies: State, container: State) -> Case:
    """The station in this state, at the moment that is asked about."""
    rules = container.rules if lies is NOTHING_THERE else ANY_CHOICE if lies.rules == RULES else lies.rules
    hands = _played(rules, (*_lines(place, lies), *_lines(place, container)), container.ahead, container.hears_only_it)
    if container is THERE:
        hands = hands.copy(NOW)
        hands.aliases["it"] = hands.name("jar")
    return Case(hands, place.id, place.positions[0] if place.positions else "1", container.label)


@cache
def _played(rules: Rules, lines: tuple[str, ...], ahead: int | None, only_it: bool) -> Hands:
    """The station after a script; the same for every place that the script does not name."""
    hands = Hands(rules)
    if ahead is None:
        return hands.play(lines)
    minutes = timedelta(minutes=ahead)
    other = Hands(rules, number=OTHER_JOURNAL, ahead=minutes).play(lines)
    hands.until(NOW)
    hands.aliases = dict(other.aliases)
    hands.meet(other, other.name("it") if only_it else "")
    hands.compare_clocks(minutes)
    return hands


def _lines(place: PlaceSetting, state: State) -> Iterator[str]:
    here, position = (place.id, place.positions[0]) if place.positions else ("LINE1", "1")
    holder = POSITIONS[position].holder
    life = LIMITS.enclosed_life if holder is Holder.HEAD else LIMITS.stencil_life
    kind = state.kind or ("CARTRIDGE" if holder is Holder.DISPENSER else "JAR")
    for line in state.lines:
        placed = line.replace("HERE", here).replace("POS", position)
        aged = re.sub(r"LIFE([+-]\d+)", lambda found: _aged(life, found[1]), placed)
        yield f"{aged} kind={kind}" if "!receive" in aged and "kind=" not in aged else aged


def _aged(life: timedelta | None, older_by: str) -> str:
    whole = life or timedelta(0)
    return f"{whole // timedelta(minutes=1) + int(older_by)}m"
