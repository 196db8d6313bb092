"""What an excursion of a store comes to for what lay in it: kept on record, warned of, charged, or held."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import reduce

from station.care import facts as f
from station.care.cold_readings import Judged
from station.care.cold_readings_charge import covers
from station.care.cold_readings_joined import as_far, together
from station.care.cold_readings_rules import FREEZING_C, Policy
from station.care.cold_readings_stays import FOREVER, Stay, in_store, stays
from station.care.floor import Floor
from station.care.outside import Excursion, Side
from station.care.saying import day_time
from station.care.specification import Store
from station.care.words import Ending, HoldReason, Storage

INSTANT = timedelta(microseconds=1)
BEGINNING = datetime.min.replace(tzinfo=UTC)
Lying = Sequence[tuple[str, Stay]]


def excursion_id(store: str, one: Excursion | f.ExcursionFound) -> str:
    """The name of an excursion: where, which side, since when."""
    side = "warm" if one.side is Side.HIGH else "cold"
    return f"{store} {side} {one.start:%Y-%m-%dT%H:%M:%S.%fZ}"


def policy_for(store: Store, one: Excursion | f.ExcursionFound) -> Policy:
    """What this one comes to here. Freezing in a refrigerator always holds; being too cold spends no time."""
    if store.storage is Storage.COLD and one.side is Side.LOW and one.peak_c < FREEZING_C:
        return Policy.HOLD
    if store.care.policy is Policy.CHARGE and one.side is Side.LOW:
        return Policy.WARN
    return store.care.policy


def told(floor: Floor, store: Store, logger: str, judged: Sequence[Judged]) -> tuple[f.Body, ...]:
    """The facts of these excursions of one logger; what stands on record as it is adds nothing.

    What touches one on record is told together with it, so that no later file makes any later, shorter or milder.
    """
    standing: Sequence[f.ExcursionFound] = floor.ledger.cold.excursions(store.id)
    lying = tuple(in_store(floor.ledger, store.id, BEGINNING, FOREVER))
    bodies: list[f.Body] = []
    for one in judged:
        found = _found(store, logger, one, lying)
        same = _same(standing, found)
        whole = reduce(together, same, found)
        whole = _named(whole, _inside(lying, whole.start, whole.end), same)
        stands = [old for old in same if as_far(old, found)]
        if not any(set(found.containers) <= set(old.containers) for old in stands):
            bodies.append(whole)
            standing = [*(old for old in standing if old not in same), whole]
        else:
            bodies += _confirmed(same, found)
        bodies += _comes_to(floor, store, found, whole, lying, grown=not stands)
    return tuple(bodies)


def _same(standing: Sequence[f.ExcursionFound], found: f.ExcursionFound) -> tuple[f.ExcursionFound, ...]:
    """Those on record that are one with it, also by way of another of them."""
    same: list[f.ExcursionFound] = []
    start, end = found.start, found.end
    for old in sorted(standing, key=lambda one: one.start, reverse=True):  # from its end backwards, then onwards
        if _one_with(old, found, start, end):
            same.append(old)
            start, end = min(start, old.start), max(end, old.end)
    later = (old for old in sorted(standing, key=lambda one: one.start) if old not in same)
    for old in later:
        if _one_with(old, found, start, end):
            same.append(old)
            end = max(end, old.end)
    return tuple(same)


def _one_with(old: f.ExcursionFound, found: f.ExcursionFound, start: datetime, end: datetime) -> bool:
    alike = old.logger == found.logger or old.excursion == found.excursion
    return alike and old.side is found.side and old.start <= end and start <= old.end


def _named(whole: f.ExcursionFound, inside: tuple[str, ...], same: Sequence[f.ExcursionFound]) -> f.ExcursionFound:
    """With the name of its earliest beginning, all that lay inside, and those it says anew."""
    name = excursion_id(whole.store, whole)
    replaced = dict.fromkeys((*whole.replaces, *(old.excursion for old in same)))
    return replace(
        whole,
        excursion=name,
        containers=tuple(dict.fromkeys((*whole.containers, *inside))),
        replaces=tuple(other for other in replaced if other != name),
    )


def _confirmed(same: Sequence[f.ExcursionFound], found: f.ExcursionFound) -> Iterator[f.ExcursionConfirmed]:
    """Without this, taking back the file that told of it first would take it back though another one tells of it."""
    for old in same:
        further = tuple(name for name in found.readings if name not in old.readings)
        if old.readings and further:  # where none was noted, every file of its time speaks for it
            yield f.ExcursionConfirmed(old.store, old.excursion, further)


def _comes_to(
    floor: Floor, store: Store, found: f.ExcursionFound, whole: f.ExcursionFound, lying: Lying, *, grown: bool
) -> Iterator[f.Body]:
    policy = policy_for(store, found)
    if policy is Policy.CHARGE:
        yield from _charges(floor, whole.excursion, found, _there(lying, found.start, found.end))
    if policy is Policy.HOLD:
        names = {whole.excursion, *whole.replaces}
        held = (container for container in found.containers if _to_hold(floor, container, names, grown=grown))
        yield from (_held(floor, store, found, whole.excursion, container) for container in held)


def _there(lying: Lying, start: datetime, end: datetime) -> list[tuple[str, Stay]]:
    """What lay in the store for some of a time."""
    last = max(end, start + INSTANT)
    return [(name, stay) for name, stay in lying if stay.begins < last and start < stay.until]


def _inside(lying: Lying, start: datetime, end: datetime) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name, _ in _there(lying, start, end)))


def missed(floor: Floor, containers: Iterable[str]) -> Iterator[f.Body]:
    """What excursions on record come to for these, whose stay in a store may have become known only after them: a
    take-out was taken back, another station told of a move, or stock was entered. Asked again it adds nothing."""
    told = {
        store.id: (store, found)
        for store in floor.plant.stores.values()
        if (found := floor.ledger.cold.excursions(store.id))
    }
    if not told:  # every tick asks
        return
    for name in sorted(set(containers) & set(floor.ledger.containers)):
        for stay in stays(floor.ledger, name):
            if stay.store not in told:  # it may be one of another site's settings
                continue
            store, excursions = told[stay.store]
            for old in excursions:
                if stay.begins < max(old.end, old.start + INSTANT) and old.start < stay.until:
                    yield from _missed(floor, store, old, name, stay)


def _missed(floor: Floor, store: Store, old: f.ExcursionFound, name: str, stay: Stay) -> Iterator[f.Body]:
    """Who was inside when it was told was judged by the policy of then; only its charge may have grown since."""
    told_of = name in old.containers
    names = {old.excursion, *old.replaces}
    policy = policy_for(store, old)
    if policy is Policy.CHARGE and (not told_of or _charged(floor, name, old, names)):
        yield from _charges(floor, old.excursion, old, [(name, stay)])
    if policy is Policy.HOLD and not told_of and _to_hold(floor, name, names, grown=False):
        yield _held(floor, store, old, old.excursion, name)


def _charged(floor: Floor, container: str, one: f.ExcursionFound, names: set[str]) -> bool:
    """Whether it was ever charged to it, also where a lead gave the minutes back since: by one of its names, or by an
    excursion of its time that is charged no more, whose charge held its own."""
    told = ((fact, fact.body) for fact in floor.ledger.history("container", container))
    return any(
        isinstance(body, f.WarmCharged)
        and (body.excursion in names or (floor.ledger.is_undone(fact.key) and _share_time(body, one)))
        for fact, body in told
    )


def _share_time(one: f.WarmCharged, other: f.ExcursionFound) -> bool:
    return one.start < other.end and other.start < one.end


def _held(floor: Floor, store: Store, one: Excursion | f.ExcursionFound, name: str, container: str) -> f.Held:
    note = f"{store.title} {one.side.value}, {one.peak_c:.1f} C, {day_time(one.start, floor.now, floor.zone)}"
    return f.Held(container, HoldReason.STORE_OUT, note, name)


def _found(store: Store, logger: str, judged: Judged, lying: Lying) -> f.ExcursionFound:
    """As these readings alone say it."""
    one = judged.excursion
    return f.ExcursionFound(
        excursion=excursion_id(store.id, one),
        store=store.id,
        logger=logger,
        side=one.side,
        start=one.start,
        end=one.end,
        peak_c=one.peak_c,
        outside=one.outside,
        ended=one.ended,
        kinetic_c=judged.kinetic_c,
        longest_gap=judged.longest_gap,
        containers=_inside(lying, one.start, one.end),
        replaces=(),
        readings=judged.readings,
    )


def _charges(floor: Floor, name: str, one: Excursion | f.ExcursionFound, lying: Lying) -> Iterator[f.WarmCharged]:
    """The part of it that each lay there and its life out of the cold did not run anyway."""
    for container, stay in lying:
        start, end = max(one.start, stay.begins), min(one.end, stay.out_from)
        if start < end and not covers(floor.ledger.containers[container].charged, start, end):
            yield f.WarmCharged(container, stay.store, name, start, end)


def _to_hold(floor: Floor, container: str, names: set[str], *, grown: bool) -> bool:
    """One hold for an excursion; another only where it has grown since and none for it stands."""
    found = floor.ledger.containers[container]
    if found.ended is Ending.DISCARDED:
        return False
    history = floor.ledger.history("container", container)
    holds = {told.key for told in history if isinstance(told.body, f.Held) and told.body.excursion in names}
    stand = any(hold.key in holds for hold in found.holds)
    return not stand and (grown or not holds)
