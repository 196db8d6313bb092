"""What a screen shows, as plain values: no Qt, no rules, nothing that changes.

Whoever builds these has already decided and worded everything; a widget only draws. Every instant is an
aware UTC datetime and every text is final, in the language of the site.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from station.care.words import Place, Priority, Word
from station.ui.ruler import LIVE, Reach


class StretchKind(StrEnum):
    """What a piece of a row's bar means."""

    CONDITIONING = "conditioning"
    USABLE = "usable"
    NEAR = "near"
    PAST = "past"


class Tone(StrEnum):
    """How much a row or banner asks for attention."""

    CALM = "calm"
    WAIT = "wait"
    NEAR = "near"
    PAST = "past"


class Scope(StrEnum):
    """What the alarm counts in the bar cover."""

    HERE = "this place"
    PLANT = "plant"


@dataclass(frozen=True)
class ActionModel:
    """Something a person may do by touch or key; `id` is handed back when it is done."""

    id: str
    label: str
    hint: str = ""
    enabled: bool = True
    key: str = ""


@dataclass(frozen=True)
class InsteadModel:
    """The container to take in place of the one that was scanned."""

    title: str
    detail: str = ""


@dataclass(frozen=True)
class VerdictModel:
    """The answer to a scan. `headline` is the largest line below the word."""

    word: Word
    by_label: bool = False
    headline: str = ""
    subject: str = ""
    why: str = ""
    todo: str = ""
    note: str = ""
    times: tuple[tuple[str, str], ...] = ()
    instead: InsteadModel | None = None


@dataclass(frozen=True)
class QuestionModel:
    """Something only a person can answer, by card, touch or key; it takes the place of the verdict."""

    title: str
    subject: str = ""
    lines: tuple[str, ...] = ()
    answers: tuple[ActionModel, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Stretch:
    """One piece of a row's bar, from `start` to `end` (aware UTC, start <= end)."""

    kind: StretchKind
    start: datetime
    end: datetime


@dataclass(frozen=True)
class BoardRow:
    """One container or bead on the time board.

    `countdown` is written by `wording`; `caption` says what the countdown runs to. `group` is the heading the
    row stands under, shown where it changes. `unacknowledged` rows flash with the phase the screen is given. `marks`
    are instants at which something was recorded.
    """

    title: str
    subtitle: str = ""
    stretches: tuple[Stretch, ...] = ()
    countdown: str = ""
    caption: str = ""
    tone: Tone = Tone.CALM
    tall: bool = False
    feeding: bool = False
    group: str = ""
    priority: Priority | None = None
    unacknowledged: bool = False
    marks: tuple[datetime, ...] = ()


@dataclass(frozen=True)
class BoardModel:
    """Rows on one shared time ruler, most urgent first; `more` counts rows the caller left out.

    A story has a `reach` of its own, and `now` is where its line stands; what is left out of it is `older`.
    """

    now: datetime
    rows: tuple[BoardRow, ...] = ()
    more: int = 0
    reach: Reach = LIVE
    older: bool = False


@dataclass(frozen=True)
class HealthMark:
    """Whether one device or link works; `text` says how it is, or how to mend it."""

    name: str
    ok: bool
    text: str


@dataclass(frozen=True)
class TopBarModel:
    """What is always visible: where, who, open alarms, the time with its zone, sound, health."""

    place: str
    clock_text: str
    zone: str
    person: str = ""
    alarms_high: int = 0
    alarms_medium: int = 0
    alarms_low: int = 0
    scope: Scope = Scope.HERE
    sound_ok: bool = True
    health: tuple[HealthMark, ...] = ()
    unacknowledged: bool = False

    def count(self, priority: Priority) -> int:
        """Open alarms of one priority."""
        counts = {
            Priority.HIGH: self.alarms_high,
            Priority.MEDIUM: self.alarms_medium,
            Priority.LOW: self.alarms_low,
        }
        return counts[priority]


@dataclass(frozen=True)
class StripModel:
    """A STOP that a later scan folded away; it stays until `id` is handed back as seen to."""

    id: str
    time_text: str
    text: str
    detail: str = ""


@dataclass(frozen=True)
class BannerModel:
    """Something about the station itself that stands until mended: clock stepped, no sound, disk full."""

    text: str
    todo: str = ""
    tone: Tone = Tone.NEAR


@dataclass(frozen=True)
class JustScannedRow:
    """One line of what was scanned here lately; `by_label` never looks like the plain word."""

    time_text: str
    subject: str
    outcome: str
    word: Word | None = None
    by_label: bool = False


@dataclass(frozen=True)
class TakeNextRow:
    """A container to take out next, and where it lies."""

    what: str
    location: str
    container: str
    note: str = ""


@dataclass(frozen=True)
class CurveModel:
    """Some days of a store: lines of (0 to 1 across, Celsius) that break at gaps, and the stretches out of limits."""

    lines: tuple[tuple[tuple[float, float], ...], ...]
    outside: tuple[tuple[float, float], ...]
    low_celsius: float
    high_celsius: float
    caption: str


@dataclass(frozen=True)
class StoreModel:
    """A cold storage: its last reading, limits and recent readings in degrees Celsius, oldest first."""

    name: str
    reading: str
    caption: str
    ok: bool = True
    celsius: tuple[float, ...] = ()
    low_celsius: float | None = None
    high_celsius: float | None = None
    curve: CurveModel | None = None


@dataclass(frozen=True)
class AlarmCardModel:
    """One alarm with what a shift lead may do about it."""

    title: str
    lines: tuple[str, ...] = ()
    actions: tuple[ActionModel, ...] = ()
    priority: Priority = Priority.MEDIUM
    unacknowledged: bool = False


@dataclass(frozen=True)
class CountModel:
    """A count that goes on here, over everything between the bar and the foot line. `last` is its newest answer."""

    store: str
    progress: str
    caption: str
    note: str
    instruction: str
    last: VerdictModel | None = None
    countdown: str = ""
    actions: tuple[ActionModel, ...] = ()


@dataclass(frozen=True)
class ScreenModel:
    """Everything one place shows. Empty parts take no room; an empty screen teaches with `empty_hint`.

    Each line of `empty_hint` is one step. `headings` that are empty leave the widget's own word.
    """

    place: Place
    top: TopBarModel
    board: BoardModel
    verdict: VerdictModel | None = None
    question: QuestionModel | None = None
    strips: tuple[StripModel, ...] = ()
    banner: BannerModel | None = None
    just_scanned: tuple[JustScannedRow, ...] = ()
    actions: tuple[ActionModel, ...] = ()
    take_next: tuple[TakeNextRow, ...] = ()
    store: StoreModel | None = None
    alarm_cards: tuple[AlarmCardModel, ...] = ()
    summary: tuple[tuple[str, str], ...] = ()
    empty_hint: str = ""
    bottom: str = ""
    count: CountModel | None = None
