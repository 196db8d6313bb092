"""An act just told is taken back: putting away, taking out, using up, removing a bead.

Only for a few minutes, and only where nothing was opened or put on a line: those began a life, and are a lead's.
"""

from collections.abc import Iterable

from station.care import facts as f
from station.care.answers import plain
from station.care.context import Context
from station.care.floor import Floor
from station.care.moments import MINUTE
from station.care.saying import spot
from station.care.state import Container
from station.care.used_paste import kept_from
from station.care.verdict import Decision
from station.care.words import Ending, Word

# what may follow an act without standing in the way of taking it back
HARMLESS = (
    f.LabelAsked,
    f.LabelSent,
    f.LabelFailed,
    f.LabelUnknown,
    f.LabelConfirmed,
    f.LabelsPaired,
    f.LabelsSwapped,
    f.ScanRefused,
    f.ReturnRefused,
    f.Sighted,
    f.Undone,
    f.Cleaned,
    f.PositionSetUp,
    f.BinChanged,
)


def undo(floor: Floor, context: Context, container: str | None, position: str | None) -> Decision:
    """Take back the last act on a container or a position."""
    if container is not None:
        # that its paste was kept after a bead is no act on the jar it came out of
        of_it = floor.ledger.history("container", container)
        history: Iterable[f.Fact] = (fact for fact in of_it if not _is_kept_elsewhere(fact.body, container))
        name = container.replace("-", " ")
    elif position is not None:
        # a jar that fed it may have ended elsewhere meanwhile; that is not an act on the position
        told = floor.ledger.history("position", position)
        history = (fact for fact in told if not isinstance(fact.body, f.Ended))
        name = spot(position)
    else:
        return Decision(
            plain(
                Word.WAIT,
                "card-alone",
                "UNDO",
                "UNDO needs to know what to take back.",
                "Scan the container or the tag of the position first, then the card.",
            )
        )
    last = _last_act(floor, history)
    if last is None:
        return _nothing(name)
    if not floor.recently(last.at, floor.rules.undo_within):
        return _too_late(name)
    kept = kept_from(floor, last.body.bead) if isinstance(last.body, f.Removed) else None
    if kept is not None:
        return _kept(name, kept)
    verdict = plain(
        Word.DONE,
        "undone",
        "TAKEN BACK",
        f"{_said(last.body, name)} is undone; the record keeps both.",
        _then(last.body),
        position,
    )
    return Decision(verdict, (f.Undone(last.key, f"undone at {context.here.id}"),))


def may_take_back(floor: Floor, container: str) -> bool:
    """Whether UNDO would take something back that was just told of this container."""
    return just_done(floor, container) is not None


def just_done(floor: Floor, container: str) -> f.Fact | None:
    """The act on this container that UNDO would take back now."""
    last = _last_act(floor, floor.ledger.history("container", container))
    return last if last is not None and floor.recently(last.at, floor.rules.undo_within) else None


def _then(body: f.Body) -> str:
    match body:
        case f.TakenOut(thaw_from=left, thaw_to=scanned) if scanned - left >= MINUTE:  # at another door
            return (
                "Tear its new label off and take it back to its store now. The way there and back counts as time out."
            )
        case f.TakenOut():
            return "Tear its new label off and put the container back now."
        case f.ThawBegun():
            return "Put it back into the freezer now."
        case f.MoveBegun():
            return "Put it back into its bin now."
        case f.PutAway() if body.counted is not None:
            return "It is on its way again: put it away in time."
        case f.PutAway(returning=True):
            return "It is out again. Scan it at the bench or the desk, then the REPRINT card, and put the new label on."
        case _:
            return "Go on as before."


def _is_kept_elsewhere(body: f.Body, container: str) -> bool:
    return isinstance(body, f.UsedPasteKept) and body.container != container


def _kept(name: str, kept: Container) -> Decision:
    verdict = plain(
        Word.STOP,
        "kept-before",
        "KEPT ALREADY",
        f"The bead of {name} was kept in {kept.spoken}, so it can't go back.",
        "Call the shift lead if the record is wrong.",
    )
    return Decision(verdict)


def _last_act(floor: Floor, history: Iterable[f.Fact]) -> f.Fact | None:
    """The newest act still standing, if it is one that may be taken back."""
    for fact in reversed(tuple(history)):
        if isinstance(fact.body, HARMLESS) or floor.ledger.is_undone(fact.key):
            continue
        return fact if _may_undo(fact.body) else None
    return None


def _may_undo(body: f.Body) -> bool:
    if isinstance(body, f.Ended):
        return body.ending is Ending.USED_UP
    if isinstance(body, f.TakenOut) and body.told_late:
        return False  # a shift lead's word
    return isinstance(body, f.PutAway | f.MoveBegun | f.ThawBegun | f.TakenOut | f.Removed)


def _said(body: f.Body, name: str) -> str:
    return {
        f.PutAway: f"The put-away of {name}",
        f.MoveBegun: f"The way of {name} to another store",
        f.ThawBegun: f"The beginning of the thaw of {name}",
        f.TakenOut: f"The take-out of {name}",
        f.Removed: f"The removal of the bead on {name}",
        f.Ended: f"The end of {name}",
    }[type(body)]


def _nothing(name: str) -> Decision:
    return Decision(
        plain(
            Word.STOP,
            "nothing-to-undo",
            "NOTHING TO UNDO",
            f"The last act on {name} is not one that can be taken back here.",
            "Call the shift lead if the record is wrong.",
        )
    )


def _too_late(name: str) -> Decision:
    return Decision(
        plain(
            Word.STOP,
            "undo-too-late",
            "TOO LATE TO UNDO",
            f"The last act on {name} is too long ago.",
            "Call the shift lead; a correction keeps both in the record.",
        )
    )
