"""The words of a site for its alarms, the usual ones where it has none, and the cautions that always stay."""

from dataclasses import dataclass

from station.care.words import Limit

MOST = 160  # two lines of a card on a small screen
GLOVES = "Gloves and eye protection; wash hands; paste and wipes into the paste waste, by the local rules."
_APART = "Paste, wipes and tools apart, into the leaded (Pb) waste by the local rules."
LEADED = f"LEADED (Pb): gloves, eye protection, wash hands. {_APART}"
EITHER = f"Paste not known: treat it as leaded (Pb). Gloves, eye protection, wash hands. {_APART}"
_OUT_OF_REACH = "Take it out of reach of the lines now, then discard it or hold it for evaluation."
_BOARDS = "Set aside the boards made since then; the line goes on with fresh paste only."
_WARM = "Leave it on hold. The shift lead judges by how long and how warm it was; in doubt ask the supplier."
_AGAIN = "Find it, see at which lines it was used and set those boards aside; then into the paste waste, "
_AGAIN += "leaded (Pb) apart."
# limits that a container or a bead may pass while its paste is at a line
AT_LINE = (
    *(Limit.SHELF, Limit.ROOM, Limit.OPEN, Limit.STENCIL, Limit.DECANTED, Limit.USED_PASTE),
    *(Limit.HOLD, Limit.OFF_LIST),
)
USUAL: dict[tuple[Limit, bool], str] = {
    **{(limit, True): _BOARDS for limit in AT_LINE},
    (Limit.HOLD, True): "Set aside the boards made with it since the hold, and ask who put it on hold.",
    (Limit.OFF_LIST, True): "Set aside the boards made with it since the list changed, and ask the process engineer.",
    (Limit.OFF_LIST, False): "No board made with it since the list changed goes on before it was judged.",
    (Limit.STENCIL, False): "No board made after the end goes on before somebody has judged it.",
    **{(limit, False): _OUT_OF_REACH for limit in (Limit.SHELF, Limit.ROOM, Limit.OPEN)},
    **{(limit, False): _OUT_OF_REACH for limit in (Limit.DECANTED, Limit.USED_PASTE)},
    (Limit.HOLD, False): "Leave it apart until whoever put it on hold has judged it.",
    **{(limit, False): _WARM for limit in (Limit.TO_COLD, Limit.THAW, Limit.MOVE)},
    (Limit.CONDITIONING, False): "Leave it closed and apart: water may be in it. The process engineer judges it.",
    (Limit.SEEN_AGAIN, False): _AGAIN,
}


@dataclass(frozen=True, slots=True)
class Reaction:
    """What the settings say to do at alarms of a limit; `at_line` is None where the words are for both."""

    limit: Limit
    at_line: bool | None
    text: str
