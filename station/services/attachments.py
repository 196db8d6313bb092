"""Notes and photos: a person adds to the record what it can't know by itself. Judged by content, not by name."""

from collections.abc import Container, Sequence

from station.care import alarms
from station.care import facts as f
from station.care.answers import plain
from station.care.facts import Fact
from station.care.floor import Floor
from station.care.fold_lot import lot_name
from station.care.ledger import Ledger
from station.care.verdict import Decision
from station.care.waste import after_clearing
from station.care.words import Role, Word
from station.services.attaching import Enclosed, attached
from station.services.outcome import Outcome, Refusal
from station.services.station import Proof, Station

MOST_BYTES = 20 * 1024 * 1024
MOST_NOTE = 400
# how a file of each kind begins: JPEG by ISO/IEC 10918-1 (SOI, then a marker), PNG by ISO/IEC 15948, PDF by ISO 32000
_BEGINNINGS = {"jpg": b"\xff\xd8\xff", "png": b"\x89PNG\r\n\x1a\n", "pdf": b"%PDF-"}
_TEXTS = ("csv", "txt")
_PLAIN_CONTROLS = frozenset("\t\n\r\f")


def is_known(floor: Floor, about: str) -> bool:
    """Whether there is such a thing, told as `kind:name`: a container, position, lot, alarm, store or person."""
    kind, _, name = about.partition(":")
    ledger, plant = floor.ledger, floor.plant
    known: dict[str, Container[str]] = {
        "container": ledger.containers,
        "position": plant.positions,
        "lot": lots_known(ledger),
        "alarm": ledger.alarms,
        "store": plant.stores,
        "person": ledger.people,
    }
    return name in known.get(kind, ())


def lots_known(ledger: Ledger) -> tuple[str, ...]:
    """Every lot on record as facts call it, the newest first."""
    received = (lot_name(found.paste, found.lot) for found in reversed(ledger.containers.values()))
    return tuple(dict.fromkeys((*received, *ledger.lots)))


def attach(station: Station, about: str, note: str, files: Sequence[Enclosed], place: str) -> Outcome:
    """Keep a note, files, or both, of a subject such as `container:K1-007` or `alarm:...`.

    Who works at `place` says it. Raises Refusal for nothing at all, for files that are no proof and for what is not
    on record here; JournalTrouble.
    """
    refuse_unfit(note, files)

    def decide(floor: Floor) -> Decision:
        if not is_known(floor, about):
            raise Refusal("attach-unknown", "What this would be kept with is not on record here. Choose it anew.")
        kept = notes_and_files(station, about, note, files)
        many = "1 file" if len(files) == 1 else f"{len(files)} files"
        why = f"{many} kept with it." if files else "The note is kept with it."
        return Decision(plain(Word.DONE, "attached", "ON RECORD", why, "Go on."), kept)

    return station.said(decide, place)


def clear_alarm(station: Station, told: alarms.Clearing, proof: Proof, files: Sequence[Enclosed]) -> Outcome:
    """A shift lead clears an alarm, with photos or papers kept of it.

    Raises Refusal, alarms.ClearingRefused, JournalTrouble; nothing is recorded then.
    """
    if files:
        refuse_unfit("", files)

    def decide(floor: Floor, person: str) -> Decision:
        bodies = alarms.clear(floor, told, person)
        kept = notes_and_files(station, f"alarm:{told.alarm}", "", files) if files else ()
        why, todo = f"{told.disposition.value}.".capitalize(), after_clearing(floor, told.disposition, told.alarm)
        verdict = plain(Word.DONE, "cleared", "ALARM CLEARED", why, todo)
        return Decision(verdict, (*bodies, *kept))

    return station.decided(proof, Role.LEAD, decide)


def notes_and_files(station: Station, about: str, note: str, files: Sequence[Enclosed]) -> tuple[f.Attached, ...]:
    """The facts of a note and of files, which are kept now. Raises JournalTrouble."""
    said = note.strip()
    if not files:
        return (f.Attached(about, "note", "", "", 0, said),)
    return tuple(fact for file in files for fact in attached(station.evidence, about, _what(file), (file,), said))


def refuse_unfit(note: str, files: Sequence[Enclosed]) -> None:
    """Raise Refusal for a note or files that can't be kept as they are; nothing is kept then."""
    if not note.strip() and not files:
        raise Refusal("attach-nothing", "Write a note or choose a file.")
    if len(note) > MOST_NOTE:
        raise Refusal("note-long", f"The note is over {MOST_NOTE} characters. Say it shorter, or keep it as a file.")
    for file in files:
        if len(file.content) > MOST_BYTES:
            raise Refusal("file-large", f"{file.name} is over 20 MB. Make it smaller, or choose the file itself.")
        if kind_of(file) is None:
            raise Refusal("file-kind", f"{file.name} is no picture (JPEG, PNG), PDF or plain text. Choose another.")


def kind_of(file: Enclosed) -> str | None:
    """jpg, png, pdf, csv or txt by what is in the file; None for anything else. Of texts the name tells which."""
    for kind, beginning in _BEGINNINGS.items():
        if file.content.startswith(beginning):
            return kind
    ending = file.name.rpartition(".")[2].lower()
    return ending if ending in _TEXTS and file.content and _is_text(file.content) else None


def attachments_of(ledger: Ledger, about: str) -> tuple[Fact, ...]:
    """What was kept of a subject, the oldest first; what was taken back is left out."""
    return tuple(fact for fact in ledger.attached.get(about, ()) if not ledger.is_undone(fact.key))


def _what(file: Enclosed) -> str:
    return "photo" if kind_of(file) in {"jpg", "png"} else "file"


def _is_text(content: bytes) -> bool:
    """Loggers and spreadsheets write UTF-8, UTF-16 with its mark, or a code page of one byte a character."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            text = content.decode("utf-16")
        except UnicodeDecodeError:
            return False
    else:
        text = content.decode("latin-1")
    return not any(sign < " " and sign not in _PLAIN_CONTROLS for sign in text)
