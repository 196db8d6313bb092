"""Identity label and time label of one container, scanned one after the other: proof that both are on the same jar.

Two jars stand at a door and two time labels come out of a printer; each label is true, and on the wrong jar it gives
one paste the times of the other. A pair of scans is the two kinds of label within ten seconds at one place, with no
scan between them and none used twice, in either order:

- one container: its labels are paired, once for each time label;
- two containers, both out and neither paired, the identity label first: somebody means to pair, so the labels are
  swapped, and nothing of either is used until both are paired;
- any other two: it can't be told from somebody who handles two jars, so nothing is paired and nobody is blamed.

After two labels that made no pair the next one begins none until no scan came for ten seconds: whoever reads the
same jar once more would otherwise pair its label with one of the next jar.

The take-out itself is a scan of the identity label, so the time label may follow it at once; another container's label
may too, at a busy door, which therefore accuses nobody. At a line a scan means use: there labels are only
paired to sort a swap out. Whoever tries to put a jar back is never answered with a pair.
"""

from collections.abc import Iterator
from dataclasses import replace

from station.care import facts as f
from station.care.answers import about
from station.care.context import Context
from station.care.floor import Floor
from station.care.reasons import against
from station.care.scans import ContainerScan
from station.care.specification import Pairing
from station.care.state import Container
from station.care.verdict import Armed, Decision
from station.care.words import Place, Word

SWAPPED = "labels-swapped"
# the answers that a pair of scans may take the place of, and those a first scan of a pair may have had
SECOND: dict[Place, tuple[str, ...]] = {
    Place.FRIDGE: ("already-out",),
    Place.BENCH: ("look",),
    Place.DESK: ("look",),
    Place.PRINTER: (SWAPPED,),
    Place.DISPENSER: (SWAPPED,),
}
FIRST = {**SECOND, Place.FRIDGE: ("taken-out", "already-out")}


def is_unpaired(container: Container) -> bool:
    """Whether it carries a time label that was never scanned together with its identity label.

    What was filled here has no identity label, so there is nothing to pair.
    """
    out = container.has_been_out and container.ended is None and not container.sources
    return out and (container.newest_label > container.print_paired or container.swapped_with is not None)


def unpaired(floor: Floor) -> tuple[Container, ...]:
    """Every container whose two labels are still to be scanned together, for the end of a shift; by number.

    Of open ones only those in doubt: an OPENED label is stuck on the one jar that is open, at the line.
    """
    if floor.rules.label_pairing is Pairing.OFF:
        return ()
    found = (one for one in floor.alive() if one.opened_at is None or one.swapped_with is not None)
    return tuple(sorted(filter(is_unpaired, found), key=lambda one: one.id))


def compared(floor: Floor, context: Context, scan: ContainerScan, decision: Decision) -> Decision:
    """The decision on a scan, or, where the scan before it makes a pair with it, what the pair comes to."""
    armed = context.armed_at(floor.now)
    if armed is not None and armed.quiet and decision.armed is not None:
        return replace(decision, armed=replace(decision.armed, quiet=True))
    pair, code = _pair(floor, context, scan), decision.verdict.code
    if pair is None or floor.rules.label_pairing is Pairing.OFF or code not in SECOND[context.here.kind]:
        return decision
    identity, labelled, number = pair
    if not (is_unpaired(identity) and is_unpaired(labelled) and number >= labelled.newest_label):
        return decision
    if identity.id == labelled.id:
        return _paired(floor, identity, number)
    if context.here.kind in (Place.PRINTER, Place.DISPENSER):
        return decision
    if context.here.kind is Place.DESK:
        return _not_paired(decision, identity, labelled, scan)
    return _differ(floor, context, scan, (identity, labelled))


def _pair(floor: Floor, context: Context, scan: ContainerScan) -> tuple[Container, Container, int] | None:
    """Whose identity label, whose time label and its number; None where this scan and the one before make no pair."""
    before, armed = context.before, context.armed_at(floor.now)
    if before is None or armed is None or not isinstance(before.scan, ContainerScan):
        return None  # what an answer before this one used up, or only looked at, armed nothing
    first = before.scan
    if armed.container != first.container or before.verdict.code not in FIRST[context.here.kind]:
        return None
    with_times, plain = (first, scan) if scan.label is None else (scan, first)
    identity, labelled = floor.container(plain.container), floor.container(with_times.container)
    if plain.label is not None or with_times.label is None or identity is None or labelled is None:
        return None
    return identity, labelled, with_times.label.print_number


def _paired(floor: Floor, container: Container, number: int) -> Decision:
    verdict = about(
        floor,
        container,
        Word.DONE,
        "labels-paired",
        "LABELS PAIRED",
        f"Identity label and time label {number} both name {container.spoken}.",
        "See that both are on it. Nothing more to do.",
        note=" ".join(_still(floor, container)),
    )
    confirmed = (f.LabelConfirmed(container.id, number),) if container.print_confirmed < number else ()
    return Decision(verdict, (*confirmed, f.LabelsPaired(container.id, number)))


def _still(floor: Floor, container: Container) -> Iterator[str]:
    """What a pair of labels does not mend is not hidden behind it."""
    reasons = (reason for reason in against(floor, container, None) if reason.code != SWAPPED)
    first = next((reason for reason in reasons if reason.word is Word.STOP), None)
    if first is not None:
        yield f"Not to be used all the same: {first.why}"


def _differ(floor: Floor, context: Context, scan: ContainerScan, pair: tuple[Container, Container]) -> Decision:
    identity, labelled = pair
    before = context.before
    taken_out = before is not None and before.verdict.code == "taken-out"
    if scan.label is None or taken_out:
        return _unsure(floor, context, scan, pair)
    verdict = about(
        floor,
        identity,
        Word.STOP,
        SWAPPED,
        "LABELS SWAPPED",
        f"The identity label is of {identity.spoken}, the time label of {labelled.spoken}. Neither may be used now.",
        "Put each time label on the one with its number, then scan both labels of each, one after the other.",
        note="A label that tears: scan its identity label at the bench or the desk, then REPRINT.",
    )
    refused = f.ScanRefused(identity.id, context.here.id, SWAPPED, labelled.id)
    swapped = (f.LabelsSwapped(identity.id, labelled.id), f.LabelsSwapped(labelled.id, identity.id))
    return Decision(verdict, (*swapped, refused), armed=Armed(at=floor.now, quiet=True))


def _unsure(floor: Floor, context: Context, scan: ContainerScan, pair: tuple[Container, Container]) -> Decision:
    container, other = pair if scan.label is None else pair[::-1]
    verdict = about(
        floor,
        container,
        Word.WAIT,
        "labels-unsure",
        "NOT PAIRED",
        f"This label is of {container.spoken}, the one before it of {other.spoken}.",
        "Wait 10 s. Then scan the identity label of one of them, and the time label that is on it.",
    )
    refused = f.ScanRefused(container.id, context.here.id, "labels-unsure", other.id)
    return Decision(verdict, (refused,), armed=Armed(at=floor.now, quiet=True))


def _not_paired(decision: Decision, identity: Container, labelled: Container, scan: ContainerScan) -> Decision:
    """At the desk one container is looked at after another; only what is no pair is said."""
    other = identity if scan.label is not None else labelled
    note = f"Not paired: the label before this one is of {other.spoken}."
    return replace(decision, verdict=replace(decision.verdict, note=f"{decision.verdict.note} {note}".strip()))


def reminder(floor: Floor, scan: ContainerScan, container: Container, decision: Decision) -> Decision:
    """The decision, with a word on labels that were found swapped, or that nobody ever scanned together."""
    verdict = decision.verdict
    said = " ".join((verdict.note, *_reminders(floor, scan, container, verdict.code))).strip()
    return replace(decision, verdict=replace(verdict, note=said))


def _reminders(floor: Floor, scan: ContainerScan, container: Container, code: str) -> Iterator[str]:
    if code == "already-out" and container.swapped_with is not None:
        yield f"Its labels and those of {container.swapped_with.replace('-', ' ')} are still to be put right."
    if code != "opening-check" or scan.label is None or floor.rules.label_pairing is Pairing.OFF:
        return
    if is_unpaired(container):
        yield f"Its labels were never paired: see that both say {container.spoken}."
