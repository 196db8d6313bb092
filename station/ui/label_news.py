"""Labels that did not come out, or that nobody can answer for: said on the screen until somebody has seen to them.

The times that belong on the label stand there too, large enough to be copied by hand; the clocks run all the same.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from station.care.facts import Fact, LabelAsked, LabelFailed, LabelUnknown
from station.care.floor import Floor
from station.labels.target import PrintTarget, SlowTarget
from station.services.label_job import times_by_hand
from station.ui import wording
from station.ui.view_models import BannerModel, HealthMark, Tone

NAME = "Labels"
BY_HAND = "Copy these times by hand; the clocks run. To print it again, scan the container and REPRINT."
NAME_BY_HAND = "Write its number on it by hand, or print it again at the shift desk."


@dataclass(frozen=True, slots=True)
class Missing:
    """One label nobody has: 0 is the identity label. `lost` where it is sure that it did not come out."""

    number: int
    lost: bool
    reason: str


class LabelNews:
    """Which labels are missing, by container, the newest last."""

    def __init__(self) -> None:
        """None yet."""
        self._missing: dict[str, Missing] = {}

    def hear(self, facts: Iterable[Fact]) -> None:
        """A label went missing, or somebody had the container in hand again, or another label of it was sent."""
        for fact in facts:
            match fact.body:
                case LabelFailed(container, number, reason) | LabelUnknown(container, number, reason):
                    self._missing.pop(container, None)
                    self._missing[container] = Missing(number, isinstance(fact.body, LabelFailed), reason)
                case LabelAsked():
                    continue
                case other:
                    self._missing.pop(getattr(other, "container", ""), None)

    def banner(self, floor: Floor) -> BannerModel | None:
        """The newest missing label with its times, and how many more there are."""
        standing = [(name, found) for name, found in self._missing.items() if _wanted(floor, name, found)]
        if not standing:
            return None
        name, missing = standing[-1]
        more = f" {len(standing) - 1} more labels are missing." if len(standing) > 1 else ""
        what = "NO LABEL CAME OUT" if missing.lost else "PERHAPS NO LABEL CAME OUT"
        text = f"{what}: {name.replace('-', ' ')}{_times(floor, name, missing)}."
        by_hand = BY_HAND if missing.number else NAME_BY_HAND
        return BannerModel(text, f"{missing.reason} {by_hand}{more}", Tone.PAST)


def _wanted(floor: Floor, name: str, missing: Missing) -> bool:
    """Not where a take-out was undone since: then no label is wanted."""
    container = floor.container(name)
    if container is None or container.ended is not None:
        return False
    return not missing.number or bool(times_by_hand(floor, container))


def _times(floor: Floor, name: str, missing: Missing) -> str:
    container = floor.container(name)
    if container is None or not missing.number:
        return ""
    told = (f"{what} {wording.day_and_time(at, floor.zone)}" for what, at in times_by_hand(floor, container))
    return ", " + ", ".join(told)


def label_health(target: PrintTarget, fault: str = "") -> HealthMark:
    """Whether labels can be made and printed now, as far as anybody knows; `fault` is why none can be made."""
    trouble = fault or (target.trouble() if isinstance(target, SlowTarget) else "")
    return HealthMark(NAME, not trouble, trouble or target.name)
