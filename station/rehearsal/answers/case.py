"""One station in one state, asked without being changed: whatever a scan would write happens to a copy."""

from dataclasses import dataclass, replace
from datetime import datetime

from station.care.decide import decide
from station.care.moments import NOTHING
from station.care.scans import ContainerScan, PlaceScan, Scan, SeenLabel, UnreadScan
from station.care.verdict import Decision, SignIn
from station.labels.containercode import container_id, container_numbers
from station.rehearsal.answers.containers import NAMED_ELSEWHERE
from station.rehearsal.answers.hands import NOW, SECOND, Hands, length, own_label
from station.services.outcome import Outcome
from station.services.sessions import Session

UNREAD = UnreadScan("?", "This is no code of this plant.", "Scan the label of the container again.")


@dataclass(frozen=True, slots=True)
class Moment:
    """A station between two scans at one place."""

    hands: Hands
    session: Session
    at: datetime


class Case:
    """A state of the plant at one place. `label` is that of the container, where nothing else is known of it."""

    def __init__(self, hands: Hands, place: str, position: str, label: SeenLabel | None) -> None:
        """The hands must have played their script."""
        self.hands, self.place, self.position, self._label = hands, place, position, label
        self._moments: dict[tuple[str, ...], Moment] = {(): Moment(hands, hands.station.sessions[place], NOW)}

    def answer(self, codes: tuple[str, ...]) -> Decision:
        """What the last of these codes comes to after the others."""
        moment = self.after(codes[:-1])
        at, scan = self._next(moment, codes)
        return decided(moment, at, scan)

    def act(self, codes: tuple[str, ...]) -> Outcome:
        """The same for real, on a copy."""
        moment = self.after(codes[:-1])
        at, scan = self._next(moment, codes)
        return self._copy(moment, at).station.scanned(scan, self.place)

    def after(self, codes: tuple[str, ...]) -> Moment:
        """The station after these scans."""
        if codes not in self._moments:
            self._moments[codes] = self._went_on(codes)
        return self._moments[codes]

    def _went_on(self, codes: tuple[str, ...]) -> Moment:
        moment = self.after(codes[:-1])
        at, scan = self._next(moment, codes)
        decision = decided(moment, at, scan)
        if not decision.bodies and all(isinstance(effect, SignIn) for effect in decision.effects):
            return Moment(moment.hands, _session_after(moment.session, at, scan, decision), at)
        copy = self._copy(moment, at)
        copy.station.scanned(scan, self.place)
        return Moment(copy, copy.station.sessions[self.place], at)

    def _copy(self, moment: Moment, at: datetime) -> Hands:
        copy = moment.hands.copy(at)
        copy.station.sessions[self.place] = moment.session
        return copy

    def _next(self, moment: Moment, codes: tuple[str, ...]) -> tuple[datetime, Scan]:
        *delay, _ = codes[-1].split()
        wait = length(delay[0]) if delay else SECOND if len(codes) > 1 else NOTHING
        return moment.at + wait, self.scan(codes[-1])

    def scan(self, code: str) -> Scan:
        """What a code is, read; a time before it is passed over."""
        code = code.rsplit(maxsplit=1)[-1]
        name, _, which = code.replace("POS", self.position).partition("#")
        if code.startswith("unread:"):
            return UNREAD
        if code.startswith("place:"):
            return PlaceScan(code.removeprefix("place:"))
        if name != "it":
            return self.hands.scan(name)
        if self._label is not None or "it" not in self.hands.aliases:
            return ContainerScan(NAMED_ELSEWHERE, self._label)
        number = self.prints() + {"label": 0, "old": -1, "newer": 1}.get(which, 0)
        found = self.hands.station.ledger.containers.get(self.hands.name("it"))
        label = own_label(found, number) if which else None
        return ContainerScan(self.hands.name("it"), label)

    def prints(self) -> int:
        """How many time labels the container asked about has had; none where nothing is known of it."""
        found = self.hands.station.ledger.containers.get(self.hands.name("it"))
        return found.print_number if found is not None else 0

    def is_known(self) -> bool:
        """Whether the container asked about stands in the record."""
        return self.hands.name("it") in self.hands.station.ledger.containers


def _session_after(session: Session, at: datetime, scan: Scan, decision: Decision) -> Session:
    """A place after a scan that wrote nothing: the record is as it was."""
    after = session.at(at).after(scan, decision, (), at)
    for effect in decision.effects:
        after = after.signed_in(effect.person, at) if isinstance(effect, SignIn) else after
    return after


def decided(moment: Moment, at: datetime, scan: Scan) -> Decision:
    """The one decision function, asked as the station asks it."""
    session = moment.session.at(at)
    station = moment.hands.station
    numbers = (container_numbers(name) for name in station.ledger.containers)
    newest = max((counter for by, counter in numbers if by == station.site.station), default=0)
    context = replace(session.context, next_number=container_id(station.site.station, newest + 1))
    return decide(moment.hands.floor_at(at), context, scan)
