"""What an excursion of a store comes to for what lay in it: kept on record, warned of, charged, or held."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from station.care import facts as f
from station.care.cold_readings import Judged
from station.care.cold_readings_charge import covers
from station.care.cold_readings_rules import FREEZING_C, Policy
from station.care.cold_readings_stays import Stay, in_store, stays
from station.care.floor import Floor
from station.care.outside import Excursion, Side
from station.care.saying import day_time
from station.care.specification import Store
from station.care.words import Ending, HoldReason, Storage

INSTANT = timedelta(microseconds=1)
Lying = Sequence[tuple[str, Stay]]


def excursion_id(store: str, one: Excursion) -> str:
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
    """The facts of these excursions of one logger; what stands on record as it is adds nothing."""
    before = [one for one in floor.ledger.cold.excursions(store.id) if one.logger == logger]
    bodies: list[f.Body] = []
    for one in judged:
        bodies.extend(_told(floor, store, logger, one, before))
    return tuple(bodies)


def _told(
    floor: Floor, store: Store, logger: str, judged: Judged, before: Sequence[f.ExcursionFound]
) -> Iterator[f.Body]:
    one = judged.excursion
    name = excursion_id(store.id, one)
    same = [old for old in before if _touch(old, one)]
    lying = list(in_store(floor.ledger, store.id, one.start, max(one.end, one.start + INSTANT)))
    inside = tuple(dict.fromkeys(container for container, _ in lying))
    stands = [old for old in same if _as_far(old, one)]
    if not any(set(inside) <= set(old.containers) for old in stands):
        replaced = tuple(old.excursion for old in same if old.excursion != name)
        yield _found(store, logger, judged, inside, replaced)
    policy = policy_for(store, one)
    if policy is Policy.CHARGE:
        yield from _charges(floor, name, one, lying)
    if policy is Policy.HOLD:
        names = {name, *(old.excursion for old in same)}
        held = (container for container in inside if _to_hold(floor, container, names, grown=not stands))
        yield from (_held(floor, store, one, name, container) for container in held)


def missed(floor: Floor, containers: Iterable[str]) -> Iterator[f.Body]:
    """What excursions on record come to for these, whose stay in a store may have become known only after them: a
    take-out was taken back, another station told of a move, or stock was entered. Asked again it adds nothing."""
    for name in sorted(set(containers) & set(floor.ledger.containers)):
        for stay in stays(floor.ledger, name):
            store = floor.plant.stores.get(stay.store)
            if store is None:  # one of another site's settings
                continue
            for old in floor.ledger.cold.excursions(store.id):
                if stay.begins < max(old.end, old.start + INSTANT) and old.start < stay.until:
                    yield from _missed(floor, store, old, name, stay)


def _missed(floor: Floor, store: Store, old: f.ExcursionFound, name: str, stay: Stay) -> Iterator[f.Body]:
    """Who was inside when it was told was judged by the policy of then; only its charge may have grown since."""
    told_of = name in old.containers
    charged = any(told.excursion == old.excursion for told in _charged(floor, name))
    policy = policy_for(store, old)
    if policy is Policy.CHARGE and (charged or not told_of):
        yield from _charges(floor, old.excursion, old, [(name, stay)])
    if policy is Policy.HOLD and not told_of and _to_hold(floor, name, {old.excursion}, grown=False):
        yield _held(floor, store, old, old.excursion, name)


def _charged(floor: Floor, container: str) -> Iterator[f.WarmCharged]:
    history = floor.ledger.history("container", container)
    return (told.body for told in history if isinstance(told.body, f.WarmCharged))


def _held(floor: Floor, store: Store, one: Excursion | f.ExcursionFound, name: str, container: str) -> f.Held:
    note = f"{store.title} {one.side.value}, {one.peak_c:.1f} C, {day_time(one.start, floor.now, floor.zone)}"
    return f.Held(container, HoldReason.STORE_OUT, note, name)


def _touch(old: f.ExcursionFound, one: Excursion) -> bool:
    return old.side is one.side and old.start <= one.end and one.start <= old.end


def _as_far(old: f.ExcursionFound, one: Excursion) -> bool:
    """Whether it was told before from so early on, until so late, and so far outside."""
    further = one.peak_c > old.peak_c if one.side is Side.HIGH else one.peak_c < old.peak_c
    return old.start <= one.start and one.end <= old.end and not further


def _found(
    store: Store, logger: str, judged: Judged, inside: tuple[str, ...], replaced: tuple[str, ...]
) -> f.ExcursionFound:
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
        containers=inside,
        replaces=replaced,
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
