"""A count as a place shows it while it runs, and what may be touched to begin one or to see to what it found."""

import math
from dataclasses import replace
from datetime import timedelta

from station.care import alarms, counting
from station.care.answers import at_text
from station.care.counting_differences import Difference, unsettled
from station.care.counting_fold import Count
from station.care.floor import Floor
from station.care.verdict import Verdict
from station.care.words import Card, Finding, Word
from station.services.counting import BEGIN, LATER, STOP, WHOLE
from station.services.site import PlaceSetting
from station.ui.present.verdicts import verdict_model
from station.ui.view_models import ActionModel, CountModel, VerdictModel

DIFFERENCES = "differences"
# common practice, no source: long enough to look up from the shelf and scan once more
ENDS_SOON = timedelta(seconds=30)
BOTTOM = "Scans only count here until the count is ended. Cards do nothing; a badge signs in."
INSTRUCTION = "Nothing is taken out. Scan everything in it."


def count_model(floor: Floor, place: PlaceSetting, verdict: Verdict | None) -> CountModel | None:
    """The count that goes on at a place; None where nothing is counted."""
    count = counting.running(floor, place.id)
    if count is None:
        return None
    left = counting.time_left(floor, count)
    others = {seen.container for seen in count.seen} - set(counting.expected(floor, count))
    return CountModel(
        store=floor.plant.stores[count.store].title,
        progress=f"{len(counting.found(floor, count))} of {len(counting.expected(floor, count))}",
        caption="recorded here were seen",
        note=_others(len(others)),
        instruction=INSTRUCTION,
        last=_last(floor, count, verdict),
        countdown=f"Ends by itself in {math.ceil(left.total_seconds())} s. Scan on." if left <= ENDS_SOON else "",
        actions=_acts(floor, count),
    )


def _others(many: int) -> str:
    if not many:
        return ""
    return "1 more seen that is not recorded here" if many == 1 else f"{many} more seen that are not recorded here"


def _last(floor: Floor, count: Count, verdict: Verdict | None) -> VerdictModel | None:
    """The answer on the screen; once that is gone, what was seen last."""
    if verdict is not None:
        return verdict_model(floor, verdict)
    if not count.seen:
        return None
    last = count.seen[-1]
    word = Word.DONE if last.finding is Finding.AS_RECORDED else Word.STOP
    said = f"{last.container.replace('-', ' ')}: {last.finding.value}"
    return VerdictModel(word, headline=said, why=f"Scanned {at_text(floor, last.at)}.")


def _acts(floor: Floor, count: Count) -> tuple[ActionModel, ...]:
    unseen = len(counting.missing(floor, count))
    ringing = any(alarms.sounding(floor, alarm) for alarm, _ in alarms.open_alarms(floor))
    silence = (ActionModel(f"card:{Card.SILENCE.value}", "Silence", "alarms stay open"),) if ringing else ()
    return (
        ActionModel(f"{WHOLE}:{count.id}", "That was all", f"{unseen} not seen" if unseen else "all seen"),
        ActionModel(f"{STOP}:{count.id}", "Stop counting", "claims nothing missing"),
        *silence,
    )


def door_offers(floor: Floor, place: PlaceSetting) -> tuple[ActionModel, ...]:
    """What a door offers: to count its store, and what counts of it found to differ."""
    if place.store is None:
        return ()
    open_ones = tuple(difference_offer(floor, count, found) for count, found in unsettled(floor))
    ours = {count.id for count, _ in unsettled(floor) if count.store == place.store}
    return (
        ActionModel(f"{BEGIN}:{place.id}", "Count", "all that is in it"),
        *(offer for offer in open_ones if offer.id.partition(":")[2] in ours),
        *(_was_all(floor, count) for count in _undecided(floor) if _just_here(floor, count, place)),
    )


def _just_here(floor: Floor, count: Count, place: PlaceSetting) -> bool:
    at = count.ended_at
    return count.where == place.id and at is not None and floor.recently(at, counting.SURPRISE)


def _was_all(floor: Floor, count: Count) -> ActionModel:
    return ActionModel(f"{LATER}:{count.id}", "It was all", f"count of {at_text(floor, count.begun_at)}")


def difference_offer(floor: Floor, count: Count, found: tuple[Difference, ...]) -> ActionModel:
    """`3 differences`, `count of 09:12`."""
    many = "1 difference" if len(found) == 1 else f"{len(found)} differences"
    return ActionModel(f"{DIFFERENCES}:{count.id}", many, f"count of {at_text(floor, count.begun_at)}")


def whole_later(floor: Floor) -> tuple[ActionModel, ...]:
    """To say of a count afterwards that it was all, with the store it was of and how many were not seen."""
    return tuple(replace(_was_all(floor, count), hint=_whose(floor, count)) for count in _undecided(floor))


def _undecided(floor: Floor) -> tuple[Count, ...]:
    """The newest count of each store, where it ended without anybody having said whether it was all."""
    newest: dict[str, Count] = {}
    for count in sorted(floor.ledger.counts.values(), key=lambda found: found.begun_at):
        newest[count.store] = count
    known = (count for count in newest.values() if count.store in floor.plant.stores)
    return tuple(count for count in known if count.ended_at is not None and not count.whole)


def _whose(floor: Floor, count: Count) -> str:
    title, unseen = floor.plant.stores[count.store].title, len(counting.missing(floor, count))
    return f"{title} {at_text(floor, count.begun_at)}: {unseen} not seen"
