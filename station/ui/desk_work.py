"""Between a window and the station: scans and touches in, a screen model out. No widgets, so it is tested without.

Whatever fails is said on the screen and never looks like an answer: a scan that could not be stored shows STOP.
"""

import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care.counting import running
from station.care.delivery import Delivery
from station.care.facts import AlarmRaised, ClockStepped
from station.care.reason import Reason
from station.care.reasons import SEVERITY, against, against_printing_on
from station.care.receiving import Arrival
from station.care.scans import CardScan, PlaceScan, Scan, TagScan
from station.care.verdict import Verdict
from station.care.words import Card, Priority, Word
from station.scanning.calibration import NotTaught, Taught
from station.services.attaching import Enclosed
from station.services.counting import count_by_touch, ended_by_itself
from station.services.delivery import receive_delivery
from station.services.outcome import Outcome
from station.services.ports import JournalTrouble
from station.services.site import PlaceSetting
from station.services.station import Station
from station.ui import wording
from station.ui.label_news import LabelNews, label_health
from station.ui.present.screens import Extras, screen_model
from station.ui.present.store_reading import StoreCurves
from station.ui.ringing import missed_banner, nobody_there, ringing, settings_banner, standing
from station.ui.view_models import BannerModel, HealthMark, ScreenModel, StripModel, Tone

LOG = logging.getLogger(__name__)
POSITION_CARDS = frozenset(
    {
        Card.REMOVE,
        Card.KEEP_USED,
        Card.CARRY_OVER,
        Card.CLEANED,
        Card.PAUSE,
        Card.RESUME,
        Card.SAME_BEAD,
        Card.NEW_BEAD,
        Card.DISMOUNT,
    }
)
SHOWN_FOR = timedelta(seconds=60)
MOST_STRIPS = 3
# banners by what they are about, the gravest first; one is shown at a time
BANNERS = ("fault", "save", "no label", "label", "silence", "missed", "restored", "settings", "keyboard", "slept")
# STOPs that ask nothing of anybody once the next scan is made
PASSING = frozenset(
    {
        "incomplete",
        "unread",
        "makers-label-here",
        "not-taught",
        "look",
        "bead-on",
        "no-bead",
        "still-mounted",
        "not-mounted",
        "nothing-to-keep",
        "kept-before",
        "nothing-to-undo",
        "undo-too-late",
        "count-difference",  # it stands among the differences of the count
        "count-refused",
    }
)


@dataclass(frozen=True, slots=True)
class Shown:
    """The verdict on a place's screen, and since when."""

    verdict: Verdict
    at: datetime


@dataclass(frozen=True, slots=True)
class Folded:
    """A STOP that a later scan took off the panel, and the strip that stands for it."""

    verdict: Verdict
    strip: StripModel


class DeskWork:
    """One window's work: which verdict stands at which place, folded STOPs, trouble, health."""

    def __init__(self, station: Station) -> None:
        """Nothing scanned yet."""
        self.station = station
        self.sound_ok = True
        self.label_fault = ""
        self.health: dict[str, HealthMark] = {}
        self._shown: dict[str, Shown] = {}
        self._folded: dict[str, tuple[Folded, ...]] = {}
        self._banners: dict[str, BannerModel] = {}
        self._labels = LabelNews()
        self._curves = StoreCurves(station)
        self._last_act = station.floor().now
        self._strip_count = 0
        self._awake_since: datetime | None = None
        self._alarm_turn = 0
        self._garbling_told = False
        self.missed: tuple[str, ...] = ()

    # ------------------------------------------------------------------ in

    def heard(self, texts: Sequence[str]) -> Outcome | None:
        """A scan was heard."""
        return self._work(lambda: self.station.scan(texts))

    def scanned(self, scan: Scan) -> Outcome | None:
        """A touch that stands for a scan."""
        return self._work(lambda: self.station.scanned(scan))

    def card(self, card: Card) -> Outcome | None:
        """A card was touched; at a printer with one position the touch names that position too."""
        place = self.place()
        armed = self.station.sessions[place.id].context.armed_at(self.station.floor().now)
        nothing_meant = armed is None or armed.position is None
        if card in POSITION_CARDS and len(place.positions) == 1 and nothing_meant:
            self._work(lambda: self.station.scanned(TagScan(place.positions[0])))
        return self.scanned(CardScan(card))

    def empty(self, container: str) -> Outcome | None:
        """The container that fed the bead before this one was touched as empty."""
        return self._work(lambda: self.station.carded(Card.EMPTY, container))

    def count(self, touch: str, name: str) -> Outcome | None:
        """A count was begun or ended by touch."""
        return self._work(lambda: count_by_touch(self.station, touch, name))

    def said(self, headline: str, why: str) -> None:
        """Something a person said in a form is recorded: shown as DONE."""
        self._show(self.place().id, Verdict(Word.DONE, "recorded", headline, why, "Go on."))

    def told(self, outcome: Outcome) -> Outcome:
        """Something is recorded: show its answer, and say in a banner what could not be done after it."""
        if outcome.facts:
            self._banners.pop("save", None)
        if outcome.verdict is not None:
            self._show(outcome.place or self.station.place, outcome.verdict)
        self._labels.hear(outcome.facts)
        if outcome.trouble and not any(fact.body.NAME == "label-failed" for fact in outcome.facts):
            self._banners["label"] = BannerModel("Recorded, but not all of it was done.", outcome.trouble, Tone.PAST)
        elif any(fact.body.NAME == "label-sent" for fact in outcome.facts):
            self._banners.pop("label", None)
        return outcome

    def go_to(self, place: str) -> None:
        """Work at another place from now."""
        self.scanned(PlaceScan(place))

    def incomplete(self, text: str) -> None:
        """Keys that were no whole scan: shown, never acted on."""
        verdict = Verdict(
            Word.STOP,
            "incomplete",
            "INCOMPLETE SCAN",
            f"Only {len(text)} characters came through; nothing was recorded.",
            "Scan it again, the whole code in the light.",
        )
        self._show(self.place().id, verdict)

    def garbled(self, garbled: bool) -> None:
        """Whether the keyboard had garbled the scan and it was put right: said once, until the next scan."""
        self._banners.pop("keyboard", None)
        if garbled and not self._garbling_told:
            text = "The scanner and this PC have different keyboard layouts, or Caps Lock is on."
            mend = "The scan was put right. Scan the scanner set-up card once, so that every code is."
            self._banners["keyboard"] = BannerModel(text, mend, Tone.NEAR)
            self._garbling_told = True

    def scanner_set_up(self, lesson: Taught | NotTaught) -> None:
        """The scanner set-up card: what it taught is recorded, or it is said why nothing could be learned."""
        if isinstance(lesson, NotTaught):
            verdict = Verdict(Word.STOP, "not-taught", "SCANNER NOT SET UP", lesson.sentence, lesson.mend)
            self._show(self.place().id, verdict)
        elif self._work(lambda: self.station.set_up_scanner(lesson.meant, lesson.written)) is not None:
            self.said("SCANNER SET UP", lesson.sentence)

    def receive(
        self,
        arrivals: Sequence[Arrival],
        person: str | None,
        about: Delivery | None = None,
        loggers: Sequence[Enclosed] = (),
    ) -> Outcome:
        """Receive containers, or a whole delivery. Raises what the station raises, for the form to say."""
        if about is None:
            outcome = self.station.receive(arrivals, person)
        else:
            outcome = receive_delivery(self.station, about, arrivals, person, loggers)
        self._labels.hear(outcome.facts)
        if outcome.verdict is not None:
            self._show(self.place().id, replace(outcome.verdict, todo=outcome.trouble or outcome.verdict.todo))
        return outcome

    def next_alarm(self) -> None:
        """Show the next open alarm at the desk: the most urgent may have to wait for somebody else's act."""
        self._alarm_turn += 1

    def acknowledge(self, alarm: str) -> Outcome | None:
        """An alarm was silenced by touch."""
        person = self.station.sessions[self.station.place].context.person
        return self._work(lambda: self.station.acknowledge((alarm,), person))

    def tick(self, *, stay: bool = False) -> Outcome | None:
        """A second went by: what fell due, what is no longer shown, and home after a while.

        `stay` while a form is open: whoever fills it in is at work at this place, as is whoever counts.
        """
        outcome = self._ticked()
        self._counts_ended(outcome)
        now = self.station.floor().now
        self._slept(outcome, now)
        if ringing(self.station.floor()) is None:
            self._banners.pop("missed", None)
        for place, shown in tuple(self._shown.items()):
            stale = not timedelta(0) <= now - shown.at < SHOWN_FOR and shown.verdict.code != "opening-check"
            if stale or not self._still_true(shown.verdict):
                self._fold(place)
        if stay or running(self.station.floor(), self.station.place) is not None:
            self._last_act = now
        if now - self._last_act > self.station.site.home_after and self.station.place != self.station.site.home_place:
            self.station.place = self.station.site.home_place
        return outcome

    def _ticked(self) -> Outcome | None:
        """A tick that can't be saved takes nothing off the panel: the banner and the alarm say so, every second."""
        try:
            outcome = self.station.tick()
        except JournalTrouble as trouble:
            self._cannot_save(trouble)
            return None
        self._labels.hear(outcome.facts)
        if outcome.facts:
            self._banners.pop("save", None)
        return outcome

    def _counts_ended(self, outcome: Outcome | None) -> None:
        for place, verdict in ended_by_itself(self.station, outcome.facts if outcome is not None else ()):
            self._show(place, verdict)

    def _slept(self, outcome: Outcome | None, now: datetime) -> None:
        """After a suspend say for a minute how long it was: the paste went on ageing all the time."""
        if self._awake_since is not None and now - self._awake_since >= SHOWN_FOR:
            self._awake_since = None
            self._banners.pop("slept", None)
        for fact in outcome.facts if outcome is not None else ():
            if isinstance(fact.body, ClockStepped) and fact.body.suspended:
                length = wording.time_left(fact.body.by)
                text = f"This PC slept for {length}. All times went on meanwhile."
                self._banners["slept"] = BannerModel(text, "", Tone.NEAR)
                self._awake_since = now

    def seen(self, strip: str) -> None:
        """A folded STOP was seen to."""
        place = self.place().id
        self._folded[place] = tuple(found for found in self._folded.get(place, ()) if found.strip.id != strip)

    def started(self, outcome: Outcome) -> None:
        """The station was started: what fell due while it was off is said in one summary until it is silenced."""
        self._labels.hear(outcome.facts)
        self._counts_ended(outcome)
        settings = settings_banner(self.station.floor(), outcome.trouble)
        if settings is not None:
            self._banners["settings"] = settings
        missed = [fact.body for fact in outcome.facts if isinstance(fact.body, AlarmRaised)]
        self.missed = tuple(raised.alarm for raised in missed)
        if missed:
            self._banners["missed"] = missed_banner(self.station.site, missed)

    def fault(self, banner: BannerModel) -> None:
        """A fault in the program stands on the screen, before everything else, until it is started again."""
        self._banners["fault"] = banner

    def show_only(self, place: str, verdict: Verdict | None) -> None:
        """Let this verdict, or none, stand alone at a place."""
        self._folded.pop(place, None)
        self._shown.pop(place, None)
        if verdict is not None:
            self._show(place, verdict)

    # ------------------------------------------------------------------ out

    def place(self) -> PlaceSetting:
        """Where the station works now."""
        return self.station.site.place(self.station.place)

    def screen(self) -> ScreenModel:
        """The screen of this place at this moment."""
        place, floor = self.place(), self.station.floor()
        shown = self._shown.get(place.id)
        asked = {"no label": self._labels.banner(floor), **standing(self.station.site, floor, self._last_act)}
        banners = self._banners | {key: banner for key, banner in asked.items() if banner is not None}
        if "label" in self.health:
            self.health["label"] = label_health(self.station.target, self.label_fault)
        extras = Extras(
            verdict=shown.verdict if shown is not None else None,
            strips=tuple(found.strip for found in self._folded.get(place.id, ()) if self._still_stops(found.verdict)),
            health=tuple(self.health.values()),
            sound_ok=self.sound_ok,
            banner=next((banners[key] for key in BANNERS if key in banners), None),
            alarm_turn=self._alarm_turn,
            curve=self._curves.of(place.store),
        )
        return screen_model(floor, place, self.station.sessions[place.id], extras)

    def sounding(self) -> Priority | None:
        """The most urgent priority that still sounds, None for silence. What can't be saved can't be silenced."""
        if "save" in self._banners:
            return Priority.HIGH
        floor = self.station.floor()
        loudest = ringing(floor)
        return None if loudest is not None and nobody_there(self.station.site, floor, self._last_act) else loudest

    # ------------------------------------------------------------------ inside

    def _work(self, act: Callable[[], Outcome]) -> Outcome | None:
        """Do something on the station; what can't be stored is said and shown as STOP."""
        try:
            outcome = act()
        except JournalTrouble as trouble:
            self._cannot_save(trouble)
            self._show(self.place().id, _not_recorded(trouble))
            return None
        return self.told(outcome)

    def _cannot_save(self, trouble: JournalTrouble) -> None:
        LOG.error("journal: %s (%s)", trouble.code, trouble.detail)
        self._banners["save"] = BannerModel("CANNOT SAVE. Nothing is recorded now.", trouble.sentence, Tone.PAST)

    def _show(self, place: str, verdict: Verdict) -> None:
        self._fold(place)
        if verdict.word is Word.USE:  # whatever stopped it before was seen to, such as a shift lead who was asked for
            standing = self._folded.get(place, ())
            self._folded[place] = tuple(found for found in standing if found.verdict.container != verdict.container)
        now = self.station.floor().now
        self._last_act = now
        self._shown[place] = Shown(verdict, now)

    def _still_true(self, verdict: Verdict) -> bool:
        """A USE on the screen lives no longer than the reasons for it; other words may stand."""
        if verdict.word is not Word.USE:
            return True
        floor = self.station.floor()
        container, position = floor.container(verdict.container or ""), floor.position(verdict.position or "")
        if container is not None:
            return not against(floor, container, position)
        bead = position.bead  # of what is judged by its label only the bead it lies in is on record here
        lies_there = bead is not None and any(portion.container == verdict.container for portion in bead.portions)
        return bead is not None and lies_there and not against_printing_on(floor, position, bead)

    def _still_stops(self, verdict: Verdict) -> bool:
        """A folded STOP goes by itself once its reason is gone, as after REMOVE or EMPTY; others wait to be seen to."""
        if verdict.code not in SEVERITY:
            return True
        floor = self.station.floor()
        container, position = floor.container(verdict.container or ""), floor.position(verdict.position or "")
        standing: tuple[Reason, ...] = ()
        if container is not None:
            standing = against(floor, container, position if verdict.position else None)
        elif verdict.container is None and position.bead is not None:
            standing = against_printing_on(floor, position, position.bead)
        return verdict.by_label or any(reason.code == verdict.code for reason in standing)

    def _fold(self, place: str) -> None:
        """Take the verdict off the panel; a STOP stays as a strip until it is seen to."""
        before = self._shown.pop(place, None)
        if before is None or before.verdict.word is not Word.STOP or before.verdict.code in PASSING:
            return
        self._strip_count += 1
        verdict = before.verdict
        name = (verdict.container or "").replace("-", " ")
        strip = StripModel(
            id=f"strip-{self._strip_count}",
            time_text=wording.clock_of_day(before.at, self.station.site.zone),
            text=f"{name} {verdict.headline}".strip(),
            detail=verdict.todo,
        )
        standing = [found for found in self._folded.get(place, ()) if self._still_stops(found.verdict)]
        older = [found for found in standing if found.strip.text != strip.text]
        self._folded[place] = (Folded(verdict, strip), *older)[:MOST_STRIPS]


def _not_recorded(trouble: JournalTrouble) -> Verdict:
    return Verdict(
        Word.STOP,
        "not-recorded",
        "NOT RECORDED",
        "The station could not save this.",
        f"{trouble.sentence} Write the time on the container by hand.",
    )
