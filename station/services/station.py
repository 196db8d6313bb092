"""The station at work: everything a person does goes in here, and comes out as facts on disk and an outcome.

Always in this order: read the clocks, note what fell due, decide, append, then act. A screen says DONE, a label
prints and a person is signed in only once the append is safely over.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path

from station.care import after_restore, alarms, arriving, counting, delivery, due, extension, receiving, versions
from station.care import facts as f
from station.care.cold_readings_outcome import missed
from station.care.cold_readings_record import KEPT
from station.care.decide import decide
from station.care.facts import Body, Fact
from station.care.floor import Floor
from station.care.ledger import Ledger, Subject
from station.care.room_read import room_read
from station.care.scans import CardScan, Scan
from station.care.state import Container, Somebody
from station.care.verdict import Decision, Effect, PrintIdentity, PrintLabel, SignIn, Silence, SwitchPlace
from station.care.words import Card, Role
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.target import PrintTarget, SlowTarget, taker_of
from station.services.badge_first import badge_first, refuse_nobody, refuse_unproved
from station.services.clockwatch import ClockWatch, behind
from station.services.due_list import DueList
from station.services.label_job import LabelJob, identity_job, label_job, to_write
from station.services.memory import MemoryEvidence
from station.services.numbering import Numbering
from station.services.opening import lists_apart, opening_bodies, outdated, refuse_demo_on_record
from station.services.outcome import Outcome, Refusal, refuse_no_room
from station.services.people import WRONG, Doorkeeper
from station.services.ports import Clock, ClockReading, Draft, Evidence, JournalPort, JournalTrouble
from station.services.printouts import Printouts
from station.services.reading import Reader
from station.services.sessions import Session, session_for
from station.services.site import Site

# what may be written while no program runs, and so says nothing of how the last one ended
BETWEEN_RUNS = (f.NumbersReserved, f.BadgesPrinted, f.PinRefused, f.PinProved)


@dataclass(frozen=True, slots=True)
class Proof:
    """Badge and PIN, by which a person proves a decision."""

    badge: str
    pin: str


class Station:
    """One station of one site. Not for several threads: the window and the command line each own theirs."""

    def __init__(
        self,
        site: Site,
        journal: JournalPort,
        clock: Clock,
        keys: KeyRing,
        target: PrintTarget,
        own: frozenset[int] | None = None,
        evidence: Evidence | None = None,
    ) -> None:
        """Add up the journal; nothing is written before `start`. Without `evidence` files are kept in memory only.

        `own` are the journals in it that this PC's clock dated; None where it holds no other station's facts.
        """
        self.site = site
        self.reader = Reader(site, keys, lambda: self._watch.last.wall.astimezone(site.zone).date())
        self.target = target
        self.evidence: Evidence = evidence or MemoryEvidence()
        self._journal = journal
        self._clock = clock
        self.keys = keys
        self._door = Doorkeeper(site, keys)
        self._watch = ClockWatch(clock.read())
        self.ledger = Ledger(own)
        self._ended_clean = True
        self._printouts = Printouts(site.station)
        self._numbering = Numbering(site.station, own)
        for fact in journal.facts():
            self._numbering.heard(fact, self.ledger.apply(fact))
            self._printouts.heard(fact)
            if not isinstance(fact.body, BETWEEN_RUNS):
                self._ended_clean = isinstance(fact.body, f.StationStopped)
        self.sessions: dict[str, Session] = {place.id: session_for(place) for place in site.places}
        self.place = site.home_place
        self._due = DueList()
        # whose stay in a store may have been in an excursion unnoticed, or whose lot may have come in untested
        self._unjudged = set(self.ledger.containers)
        self._due.learn(self.floor(), (("container", name) for name in self.ledger.containers))
        self.reader.know(self.ledger.people)

    # ------------------------------------------------------------------ life of the program

    def start(self, version: str, continues: str = "") -> Outcome:
        """The program starts: the settings become facts where they changed, and what fell due is caught up.

        `continues` is what a restored journal says it continues, as `journal-seq-hash`.
        Alarms that fell due while the program was off carry their true time; they are in the outcome's facts.
        """
        refuse_demo_on_record(self.site, self.ledger)
        newest = self.ledger.latest_at
        now = self._watch.last.wall
        back = behind(newest, self._watch.last) if newest is not None else None
        # the step comes first: it speaks of what the run before this one wrote
        bodies: list[Body] = [back.fact()] if back is not None else []
        elsewhere = self._numbering.elsewhere(self._journal.number) if continues else 0
        backup_at = newest if continues else None
        bodies.append(f.StationStarted(version, self._ended_clean, continues, elsewhere, backup_at))
        bodies.extend(self._printouts.left_open())
        if not continues:  # jobs of the PC that was are not those of this one, whatever they are called
            self._printouts.look_again(self.target, now)
        bodies.extend(counting.left_open(self._floor_at(now), self.site.station))
        bodies.extend(opening_bodies(self.site, self.ledger))
        lists = dict(self.ledger.rulebook.lists)
        facts, changed = self._append(bodies, None, now)
        held, touched = self._append(tuple(after_restore.not_known(self._floor_at(now), self._unjudged)), None, now)
        overdue = self.tick()
        said = (
            after_restore.said(self.floor()),
            outdated(self.site, self.ledger),
            lists_apart(lists, self.ledger, facts),
        )
        apart = " ".join(filter(None, said))
        outcome = Outcome(None, (*facts, *held), (*changed, *touched), trouble=apart)
        return _joined(outcome, overdue)

    def stop(self, reason: str) -> None:
        """The program ends by itself."""
        self._printouts.wait(self.target)
        self._say([f.StationStopped(reason)], None)

    def tick(self) -> Outcome:
        """What is due now, and what became of labels under way? Also notices a clock that moved."""
        facts: list[Fact] = []
        changed: list[Subject] = []
        reading = self._clock.read()
        self.sessions = {name: session.at(reading.wall) for name, session in self.sessions.items()}
        new, touched = self._clock_looked_at(reading)
        facts += new
        changed += touched
        floor, unjudged = self._floor_at(reading.wall), frozenset(self._unjudged)
        overdue: tuple[Body, ...] = (
            *due.due_facts(floor, self._due.overdue(floor)),
            *counting.idle_ends(floor, self.site.station),
            *missed(floor, unjudged),
            *after_restore.not_known(floor, unjudged),
            *delivery.untested(floor, unjudged),
        )
        if overdue:
            new, touched = self._append(overdue, None, reading.wall)
            facts += new
            changed += touched
        self._unjudged -= unjudged
        new, touched = self._append(self._printouts.news(self.target), None, reading.wall)
        self._printouts.said()
        return Outcome(None, (*facts, *new), (*changed, *touched))

    def _clock_looked_at(self, reading: ClockReading) -> tuple[tuple[Fact, ...], tuple[Subject, ...]]:
        """A clock that moved is on record, or is noticed again: what follows is dated by it."""
        before = self._watch
        self._watch, step = before.look(reading)
        if step is None:
            return (), ()
        self.sessions = {name: session.clock_moved() for name, session in self.sessions.items()}
        try:
            return self._append([step.fact()], None, reading.wall)
        except JournalTrouble:
            self._watch = before
            raise

    # ------------------------------------------------------------------ what people do

    def scan(self, texts: Sequence[str], place: str | None = None) -> Outcome:
        """A scan heard as these candidate texts, at a place (by default where the station works now)."""
        return self.scanned(self.reader.read(texts), place)

    def scanned(self, scan: Scan, place: str | None = None) -> Outcome:
        """A scan already read."""
        overdue = self.tick()
        name = place or self.place
        now = self._watch.last.wall
        session = self.sessions[name].at(now)
        context = replace(session.context, next_number=self._numbering.upcoming)
        floor = self._floor_at(now)
        decision = badge_first(floor, context, scan) or decide(floor, context, scan)
        refuse_unproved(decision.bodies)
        facts, changed = self._append(decision.bodies, session.context.person, now)
        self.sessions[name] = session.after(scan, decision, facts, now)
        outcome = Outcome(decision.verdict, facts, changed, name)
        try:
            for effect in decision.effects:
                outcome = self._carry_out(effect, outcome, name)
            outcome = _joined(outcome, self.tick())  # a hold may have reached a bead by this very scan
        except JournalTrouble as trouble:  # the decision itself is on disk and must not look as if it were not
            outcome = replace(outcome, trouble=trouble.sentence)
        return replace(
            outcome,
            facts=(*overdue.facts, *outcome.facts),
            changed=(*overdue.changed, *outcome.changed),
        )

    def carded(self, card: Card, container: str) -> Outcome:
        """A card said of a container by a touch that names it, so that nothing need have been scanned just before."""
        self.sessions[self.place] = self.sessions[self.place].about(container, self._clock.read().wall)
        return self.scanned(CardScan(card))

    def receive(
        self,
        arrivals: Iterable[receiving.Arrival],
        person: str | None,
        about: delivery.Delivery | None = None,
        proofs: Sequence[f.Attached] = (),
    ) -> Outcome:
        """Receive containers, all or none, and print their identity labels. Raises receiving.ArrivalRefused.

        `about` is what was said of the delivery they came with, `proofs` the files kept of it."""
        self.tick()
        refuse_nobody(self.site.plant.rules, person)
        floor, told = self.floor(), tuple(arrivals)
        outcome = self._say((*delivery.deliver(floor, about, told), *proofs), person)
        outcome = replace(outcome, verdict=delivery.delivered(floor, about, told) if told else None)
        return self.identify((arrival.container for arrival in told), outcome, person)

    def identify(self, containers: Iterable[str], outcome: Outcome, person: str | None, place: str = "") -> Outcome:
        """Print the identity label of each of these, which are on record by `outcome`, where labels of `place` do."""
        for name in containers:
            found = self.ledger.containers[name]
            try:
                make = partial(identity_job, container=found, keys=self.keys)
                outcome = self._send(found, 0, make, outcome, person, place)
            except JournalTrouble as trouble:  # what was received is on disk; told twice it would be there twice
                return replace(outcome, trouble=trouble.sentence)
        return outcome

    def new_container(self) -> str:
        """The next container number of this station; a number is never given twice."""
        return self._numbering.give()

    def reserve(self, paste: str, count: int, person: str | None) -> tuple[str, ...]:
        """Numbers for a sheet of this paste, to be written on by hand; on record before anybody can print them.

        Raises Refusal for nobody, where the site wants to know who.
        """
        refuse_nobody(self.site.plant.rules, person)
        numbers = tuple(self.new_container() for _ in range(count))
        self._append([f.NumbersReserved(paste, numbers)], person, self._clock.read().wall)
        return numbers

    def read_room(self, temperature_c: float, humidity: float, person: str | None, source: str = "") -> Outcome:
        """The room as somebody read it, or a file (`source` names it): degrees Celsius and percent.

        Figures that repeat the reading before to the digit are marked so. Raises Refusal for what no room is.
        """
        refuse_nobody(self.site.plant.rules, person)
        refuse_no_room(temperature_c, humidity)
        before = self.ledger.room
        repeated = before is not None and (before.temperature_c, before.humidity) == (temperature_c, humidity)
        outcome = self._say([f.RoomRead(temperature_c, humidity, repeated, source)], person)
        return replace(outcome, verdict=room_read(self.floor(), temperature_c, humidity))

    def set_up_scanner(self, meant: str, written: str) -> Outcome:
        """The set-up card was scanned: what this PC writes for the characters the scanner means, in the same order.

        Whoever is badged in stands in the record; nobody has to be, since before it no badge may be readable.
        """
        return self._say([f.ScannerSetUp(meant, written)], self.sessions[self.place].context.person)

    @property
    def scanner_layout(self) -> f.ScannerSetUp | None:
        """What the set-up card taught this station last, or None if it was never scanned here."""
        return self.ledger.scanners.get(self.site.station)

    def acknowledge(self, alarm_ids: tuple[str, ...], person: str | None) -> Outcome:
        """Somebody has seen these alarms."""
        return self._say(alarms.acknowledge(self.floor(), alarm_ids), person)

    def clear(self, clearing: alarms.Clearing, badge: str, pin: str) -> Outcome:
        """A shift lead clears an alarm. Raises Refusal or alarms.ClearingRefused; nothing is recorded then."""
        floor = self.floor()
        lead = self.prove(Proof(badge, pin), Role.LEAD)
        return self._say(alarms.clear(floor, clearing, lead.id), lead.id, proved=True)

    def release(self, container: str, hold: str, note: str, badge: str, pin: str) -> Outcome:
        """A shift lead releases one hold, named by its fact."""
        floor = self.floor()
        lead = self.prove(Proof(badge, pin), Role.LEAD)
        found = floor.container(container)
        if found is None or not any(entry.key == hold for entry in found.holds):
            raise Refusal("no-hold", "That hold does not stand any more.")
        if not note.strip():
            raise Refusal("no-reason", "Say in a few words why it is released; it stands in the record.")
        return self._say([f.Released(container, hold, note)], lead.id, proved=True)

    def extend(self, asked: extension.Extending, badge: str, pin: str) -> Outcome:
        """A shift lead moves one limit. Raises Refusal or extension.ExtensionRefused; nothing is recorded then."""
        floor = self.floor()
        lead = self.prove(Proof(badge, pin), Role.LEAD)
        fact, verdict = extension.extend(floor, asked, lead.id)
        return replace(self._say([fact], lead.id, proved=True), verdict=verdict)

    def prove(self, proof: Proof, role: Role | None) -> Somebody:
        """The person a badge and PIN prove, who may decide as `role`. Raises Refusal; a wrong PIN is on record."""
        now = self._clock.read().wall
        try:
            person = self._door.prove(self._floor_at(now), proof.badge, proof.pin, role)
        except Refusal as refusal:
            if refusal.code == WRONG:
                self._append([f.PinRefused(proof.badge)], None, now)
            raise
        if person.wrong_pins:
            self._append([f.PinProved(person.id)], person.id, now)
        return person

    def decided(self, proof: Proof, role: Role | None, decide: Callable[[Floor, str], Decision]) -> Outcome:
        """Somebody with `role` decides something by the rules. Raises Refusal, or what `decide` raises."""
        self.tick()
        person = self.prove(proof, role)
        decision = decide(self._floor_at(self._watch.last.wall), person.id)
        outcome = replace(self._say(decision.bodies, person.id, proved=True), verdict=decision.verdict)
        try:
            for effect in decision.effects:
                outcome = self._carry_out(effect, outcome, self.place)
        except JournalTrouble as trouble:  # the decision itself is on disk and must not look as if it were not
            outcome = replace(outcome, trouble=trouble.sentence)
        return outcome

    def said(self, decide: Callable[[Floor], Decision], place: str) -> Outcome:
        """Whoever works at a place says something that needs no proof. Raises what `decide` raises."""
        self.tick()
        refuse_nobody(self.site.plant.rules, self.sessions[place].context.person)
        decision = decide(self._floor_at(self._watch.last.wall))
        outcome = self._say(decision.bodies, self.sessions[place].context.person)
        return replace(outcome, verdict=decision.verdict, place=place)

    def confirm_clock(self, badge: str, pin: str) -> Outcome:
        """A shift lead has checked the time of the PC and says it is right."""
        lead = self.prove(Proof(badge, pin), Role.LEAD)
        clock = self.ledger.clock
        if clock.trusted_until is None:
            raise Refusal("clock-right", "The clock is not in doubt; there is nothing to confirm.")
        since = clock.segment_from or clock.trusted_until
        return self._say([f.ClockConfirmed(clock.stepped_by, clock.trusted_until, since)], lead.id, proved=True)

    def learn(self, facts: Iterable[Fact]) -> Outcome:
        """Facts of other stations, already in the journal: add them up, and raise what falls due by them.

        What the other station handled by an older version of a specification comes under the one in force at once.
        """
        told = tuple(facts)
        changed = tuple(subject for fact in told for subject in self._learned(fact))
        self._minded(self._clock.read().wall, changed)
        if any(isinstance(fact.body, KEPT) for fact in told):  # whoever lay there may be known here only
            self._unjudged.update(self.ledger.containers)
        anew = any(isinstance(fact.body, f.SpecificationSet) for fact in told)
        in_force = self.ledger.specifications.values()
        tighter = versions.tightened(self.ledger, self.site.plant.positions, in_force, None if anew else set(changed))
        said = self._say(tuple(tighter), None, proved=True)
        return _joined(Outcome(None, told, changed), said)

    def _learned(self, fact: Fact) -> tuple[Subject, ...]:
        changed = self.ledger.apply(fact)
        self._numbering.heard(fact, changed)
        return changed

    def head(self) -> str:
        """The chain hash of the journal's last fact (64 hex digits), to be noted elsewhere."""
        return self._journal.head()[1]

    @property
    def record_file(self) -> Path | None:
        """The journal's file, to be read beside the program; None for a journal that is kept in memory."""
        path = getattr(self._journal, "path", None)
        return path if isinstance(path, Path) else None

    def floor(self) -> Floor:
        """The plant as it stands at this moment."""
        return self._floor_at(self._clock.read().wall)

    # ------------------------------------------------------------------ inside

    def _floor_at(self, now: datetime) -> Floor:
        return Floor(self.site.plant, self.ledger, now, self.site.zone)

    def _say(self, bodies: Iterable[Body], person: str | None, *, proved: bool = False) -> Outcome:
        """Write these facts between two ticks: a clock that moved is noticed before anything is dated by it.

        `proved`: `person` has proved a role for them, or the program says them by itself.
        """
        told = tuple(bodies)
        if not proved:
            refuse_unproved(told)
        before = self.tick()
        facts, changed = self._append(told, person, self._watch.last.wall)
        said = Outcome(None, (*before.facts, *facts), (*before.changed, *changed))
        try:
            return _joined(said, self.tick())
        except JournalTrouble as trouble:  # what was said is on disk and must not look as if it were not
            return replace(said, trouble=trouble.sentence)

    def _append(
        self, bodies: Sequence[Body], person: str | None, at: datetime
    ) -> tuple[tuple[Fact, ...], tuple[Subject, ...]]:
        if not bodies:
            return (), ()
        segment = self._watch.segment
        drafts = [Draft(body, at, self.site.station, person, segment) for body in bodies]
        facts = self._journal.append(drafts)
        changed: tuple[Subject, ...] = ()
        for fact in facts:
            touched = self.ledger.apply(fact)
            self._numbering.heard(fact, touched)
            self._printouts.heard(fact)
            changed += touched
        raised = (("container", fact.body.subject) for fact in facts if isinstance(fact.body, f.AlarmRaised))
        self._minded(at, (*changed, *raised))
        return facts, changed

    def _minded(self, at: datetime, changed: Iterable[Subject]) -> None:
        """What may fall due anew by these, and whose badges may be scanned."""
        told = tuple(changed)
        self._due.learn(self._floor_at(at), told)
        self._unjudged.update(name for kind, name in told if kind == "container")
        if any(kind == "person" for kind, _ in told):
            self.reader.know(self.ledger.people)

    def _carry_out(self, effect: Effect, outcome: Outcome, place: str) -> Outcome:
        match effect:
            case PrintLabel():
                return self._print(effect.container, outcome, place)
            case PrintIdentity():
                return self.identify((effect.container,), outcome, self.sessions[place].context.person, place)
            case SignIn():
                self.sessions[place] = self.sessions[place].signed_in(effect.person, self._watch.last.wall)
            case SwitchPlace():
                return self._switched(effect.place, outcome)
            case Silence():
                ids = tuple(alarm.id for alarm, _ in alarms.open_alarms(self.floor()))
                said = self.acknowledge(ids, self.sessions[place].context.person)
                return _joined(outcome, said)
        return outcome

    def _switched(self, place: str, outcome: Outcome) -> Outcome:
        """Work at another place from now, and say so by its title."""
        self.place = place
        title = self.site.place(place).title
        verdict = outcome.verdict
        if verdict is not None:
            verdict = replace(verdict, headline=title.upper(), why=f"This station now works at: {title}.")
            verdict = arriving.arrived(self.floor(), self.site.place(place).positions, verdict)
        return replace(outcome, verdict=verdict, place=place)

    def _print(self, container: str, outcome: Outcome, place: str) -> Outcome:
        """Print the next time label of a container."""
        person = self.sessions[place].context.person
        found = self.ledger.containers[container]
        number = found.print_number + 1
        make = partial(label_job, container=found, keys=self.keys, who=person or "")
        return self._send(found, number, make, outcome, person, place)

    def _send(
        self,
        container: Container,
        number: int,
        make: Callable[[Floor], LabelJob],
        outcome: Outcome,
        person: str | None,
        place: str = "",
    ) -> Outcome:
        """Ask, send, and record which of the two happened; the clocks run whatever the printer does."""
        target = taker_of(self.target, container.kind, place or self.place)
        try:
            job = make(self.floor())
            body = f.LabelAsked(container.id, job.print_number, job.content.code, job.discard_by)
            asked = self._say([body], person)
            outcome = _joined(outcome, asked)
            ticket = target.send(job.content)
        except LabelFault as fault:
            failed = self._say([f.LabelFailed(container.id, number, fault.sentence)], person)
            by_hand = to_write(self.floor(), container, number)
            return replace(_joined(outcome, failed), trouble=f"{fault.sentence} {by_hand}")
        if isinstance(target, SlowTarget):  # a tick will say what became of it
            self._printouts.on_its_way(ticket, container.id, job.print_number)
            return outcome
        sent = self._say([f.LabelSent(container.id, job.print_number, target.name)], person)
        return _joined(outcome, sent)


def _joined(first: Outcome, then: Outcome) -> Outcome:
    facts, changed = (*first.facts, *then.facts), (*first.changed, *then.changed)
    return replace(first, facts=facts, changed=changed, trouble=first.trouble or then.trouble)
