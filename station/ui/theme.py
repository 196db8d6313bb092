"""Colours, patterns' colours, letters and sizes of the floor screens.

IEC 60073 gives the colours their meaning: red danger, yellow caution, green safe, blue act, grey neutral. Whoever
sees no colour has a word, a shape or a pattern beside each of them. Letters take both their colours from one `Pair`,
at least 7:1 apart (WCAG 2.2, success criterion 1.4.6); for bars and outlines 3:1 is enough (1.4.11).
"""

from dataclasses import dataclass, fields
from pathlib import Path

from PySide6.QtGui import QFontDatabase

from station.care.words import Word
from station.ui.view_models import StretchKind, Tone

FAMILY = "B612"
FACES = ("B612-Regular", "B612-Bold")
TOUCH_MILLIMETRES = 15.0
TOUCH_FLOOR_PIXELS = 57
CAP_HEIGHT = 0.75  # of the letter size, as B612 is drawn
DISTANCE_PER_DIGIT_HEIGHT = 200  # a digit is readable at 200 times its height


class FontsMissing(RuntimeError):
    """The letters the screens are made for can't be loaded; the sentence says how to mend it."""


@dataclass(frozen=True)
class Pair:
    """Colour of a text and of the ground it stands on, both as #RRGGBB."""

    text: str
    ground: str


@dataclass(frozen=True)
class Mark:
    """Colour of a line or shape and the ground it must be told from, both as #RRGGBB."""

    shape: str
    ground: str


@dataclass(frozen=True)
class Theme:
    """One set of colours; `line` rules between things and carries no meaning of its own."""

    name: str
    line: str
    body: Pair
    quiet: Pair
    card: Pair
    card_quiet: Pair
    bar: Pair
    bar_quiet: Pair
    bottom: Pair
    bottom_quiet: Pair
    disabled: Pair
    pressed: Pair
    act: Pair
    chip: Pair
    use: Pair
    wait: Pair
    stop: Pair
    done: Pair
    instead: Pair
    label_use: Pair
    label_wait: Pair
    label_stop: Pair
    label_done: Pair
    caution: Pair
    danger: Pair
    calm_row: Pair
    calm_digits: Pair
    calm_quiet: Pair
    wait_digits: Pair
    near_row: Pair
    near_digits: Pair
    near_quiet: Pair
    past_row: Pair
    past_digits: Pair
    past_quiet: Pair
    card_danger: Pair
    conditioning_mark: Mark
    usable_mark: Mark
    near_mark: Mark
    past_mark: Mark
    near_dot: Mark
    wait_pattern: Mark
    stop_pattern: Mark
    done_pattern: Mark
    bars_high: Mark
    bars_medium: Mark
    bars_low: Mark
    outline: Mark

    def pairs(self) -> dict[str, Pair]:
        """Every text and ground this theme can put together, by name."""
        return {field.name: value for field in fields(self) if isinstance(value := getattr(self, field.name), Pair)}

    def marks(self) -> dict[str, Mark]:
        """Every shape and ground this theme can put together, by name."""
        return {field.name: value for field in fields(self) if isinstance(value := getattr(self, field.name), Mark)}

    def verdict(self, word: Word, *, by_label: bool = False) -> Pair:
        """Panel colours of a verdict; BY LABEL has light ones of its own."""
        plain = {Word.USE: self.use, Word.WAIT: self.wait, Word.STOP: self.stop, Word.DONE: self.done}
        labelled = {
            Word.USE: self.label_use,
            Word.WAIT: self.label_wait,
            Word.STOP: self.label_stop,
            Word.DONE: self.label_done,
        }
        return (labelled if by_label else plain)[word]

    def row(self, tone: Tone) -> Pair:
        """Title and ground of a board row."""
        return {Tone.NEAR: self.near_row, Tone.PAST: self.past_row}.get(tone, self.calm_row)

    def row_quiet(self, tone: Tone) -> Pair:
        """Second line of a board row."""
        return {Tone.NEAR: self.near_quiet, Tone.PAST: self.past_quiet}.get(tone, self.calm_quiet)

    def digits(self, tone: Tone) -> Pair:
        """Count-down of a board row."""
        chosen = {
            Tone.CALM: self.calm_digits,
            Tone.WAIT: self.wait_digits,
            Tone.NEAR: self.near_digits,
            Tone.PAST: self.past_digits,
        }
        return chosen[tone]

    def stretch(self, kind: StretchKind) -> Mark:
        """Pattern colour and ground of one piece of a row's bar."""
        chosen = {
            StretchKind.CONDITIONING: self.conditioning_mark,
            StretchKind.USABLE: self.usable_mark,
            StretchKind.NEAR: self.near_mark,
            StretchKind.PAST: self.past_mark,
        }
        return chosen[kind]


_PAPER, _INK, _FAINT, _WHITE = "#F3F1EB", "#15181E", "#45484D", "#FFFFFF"
_SAND, _GREEN, _RED, _BLUE, _YELLOW = "#E6E2D7", "#135E37", "#9A1B1E", "#0B4F8A", "#F5B800"
_PINK, _CREAM, _DEEP_RED, _BROWN = "#F8DADC", "#FFF0C2", "#85090D", "#543B00"

LIGHT = Theme(
    name="light",
    line="#C4C1B6",
    body=Pair(_INK, _PAPER),
    quiet=Pair(_FAINT, _PAPER),
    card=Pair(_INK, _WHITE),
    card_quiet=Pair(_FAINT, _WHITE),
    bar=Pair(_WHITE, _INK),
    bar_quiet=Pair("#CFD1D6", _INK),
    bottom=Pair(_INK, _SAND),
    bottom_quiet=Pair("#3E4146", _SAND),
    disabled=Pair("#3E4146", "#E2E0DA"),
    pressed=Pair(_WHITE, _INK),
    act=Pair(_WHITE, _BLUE),
    chip=Pair(_WHITE, _INK),
    use=Pair(_WHITE, _GREEN),
    wait=Pair(_INK, _YELLOW),
    stop=Pair(_WHITE, _RED),
    done=Pair(_WHITE, _BLUE),
    instead=Pair(_GREEN, _WHITE),
    label_use=Pair(_GREEN, _WHITE),
    label_wait=Pair(_BROWN, _WHITE),
    label_stop=Pair(_RED, _WHITE),
    label_done=Pair(_BLUE, _WHITE),
    caution=Pair(_INK, _YELLOW),
    danger=Pair(_WHITE, _RED),
    calm_row=Pair(_INK, _PAPER),
    calm_digits=Pair(_INK, _PAPER),
    calm_quiet=Pair(_FAINT, _PAPER),
    wait_digits=Pair(_BLUE, _PAPER),
    near_row=Pair(_INK, _CREAM),
    near_digits=Pair(_BROWN, _CREAM),
    near_quiet=Pair(_FAINT, _CREAM),
    past_row=Pair(_INK, _PINK),
    past_digits=Pair(_DEEP_RED, _PINK),
    past_quiet=Pair("#404348", _PINK),
    card_danger=Pair(_RED, _WHITE),
    conditioning_mark=Mark(_BLUE, _WHITE),
    usable_mark=Mark(_GREEN, _PAPER),
    near_mark=Mark("#7A5600", _CREAM),
    past_mark=Mark(_RED, "#FBECEC"),
    near_dot=Mark(_INK, _YELLOW),
    wait_pattern=Mark("#7A5A00", _YELLOW),
    stop_pattern=Mark(_WHITE, _RED),
    done_pattern=Mark(_WHITE, _BLUE),
    bars_high=Mark("#F0565B", _INK),
    bars_medium=Mark(_YELLOW, _INK),
    bars_low=Mark("#CFD1D6", _INK),
    outline=Mark(_INK, _PAPER),
)

_NIGHT, _MOON, _HAZE, _SLATE = "#14171C", "#ECEAE2", "#B9BBC0", "#23272E"
_NIGHT_RED, _NIGHT_YELLOW = "#4A0E12", "#3A2E00"

DARK = Theme(
    name="dark",
    line="#3F444D",
    body=Pair(_MOON, _NIGHT),
    quiet=Pair(_HAZE, _NIGHT),
    card=Pair(_MOON, _SLATE),
    card_quiet=Pair("#C6C8CD", _SLATE),
    bar=Pair(_MOON, "#000000"),
    bar_quiet=Pair(_HAZE, "#000000"),
    bottom=Pair(_MOON, _SLATE),
    bottom_quiet=Pair("#C6C8CD", _SLATE),
    disabled=Pair("#B9BBC0", "#1B1E24"),
    pressed=Pair(_NIGHT, _MOON),
    act=Pair(_WHITE, _BLUE),
    chip=Pair(_NIGHT, _MOON),
    use=Pair(_WHITE, _GREEN),
    wait=Pair(_INK, "#E8AE00"),
    stop=Pair(_WHITE, _RED),
    done=Pair(_WHITE, _BLUE),
    instead=Pair("#8FE0B0", _NIGHT),
    label_use=Pair("#8FE0B0", _NIGHT),
    label_wait=Pair("#FFD24A", _NIGHT),
    label_stop=Pair("#FF9DA1", _NIGHT),
    label_done=Pair("#9CCBFF", _NIGHT),
    caution=Pair(_INK, "#E8AE00"),
    danger=Pair(_WHITE, _RED),
    calm_row=Pair(_MOON, _NIGHT),
    calm_digits=Pair(_MOON, _NIGHT),
    calm_quiet=Pair(_HAZE, _NIGHT),
    wait_digits=Pair("#9CCBFF", _NIGHT),
    near_row=Pair(_MOON, _NIGHT_YELLOW),
    near_digits=Pair("#FFD24A", _NIGHT_YELLOW),
    near_quiet=Pair("#D8D5C8", _NIGHT_YELLOW),
    past_row=Pair(_MOON, _NIGHT_RED),
    past_digits=Pair("#FFC9CC", _NIGHT_RED),
    past_quiet=Pair("#E2D3D3", _NIGHT_RED),
    card_danger=Pair("#FFB3B6", _SLATE),
    conditioning_mark=Mark("#9CCBFF", _NIGHT),
    usable_mark=Mark("#46B376", _NIGHT),
    near_mark=Mark("#FFD24A", _NIGHT_YELLOW),
    past_mark=Mark("#FF9DA1", _NIGHT_RED),
    near_dot=Mark(_INK, "#E8AE00"),
    wait_pattern=Mark("#6B4F00", "#E8AE00"),
    stop_pattern=Mark(_WHITE, _RED),
    done_pattern=Mark(_WHITE, _BLUE),
    bars_high=Mark("#F0565B", "#000000"),
    bars_medium=Mark(_YELLOW, "#000000"),
    bars_low=Mark("#CFD1D6", "#000000"),
    outline=Mark(_MOON, _NIGHT),
)


@dataclass(frozen=True)
class Scale:
    """Sizes of one screen. `unit` is 1 at 1920 x 1080; `touch` is the least side of anything to be touched."""

    unit: float
    touch: float

    def of(self, pixels_at_1080: float) -> float:
        """A length drawn at 1920 x 1080, in the pixels of this screen."""
        return pixels_at_1080 * self.unit


def scale_for(width: float, height: float, logical_dots_per_inch: float = 96.0) -> Scale:
    """Sizes for a window in logical pixels: letters grow with its area, touch targets with its dots per inch."""
    unit = max(0.42, ((width * height) / (1920 * 1080)) ** 0.5)
    touch = max(TOUCH_MILLIMETRES / 25.4 * logical_dots_per_inch, TOUCH_FLOOR_PIXELS)
    return Scale(unit=unit, touch=touch)


def digit_height_for(distance_metres: float, pixels_per_millimetre: float) -> float:
    """Least height of a digit in pixels to be read at a distance (height = distance / 200)."""
    return distance_metres * 1000 / DISTANCE_PER_DIGIT_HEIGHT * pixels_per_millimetre


def load_fonts(folder: Path) -> str:
    """Load the shipped faces and return the family name.

    Raises FontsMissing with a sentence when a face is missing or unreadable: another font would be wider, cut
    words and change what is read at a distance.
    """
    for face in FACES:
        _load_face(folder, face)
    return FAMILY


def _load_face(folder: Path, face: str) -> None:
    found = [path for ending in (".ttf", ".otf") if (path := folder / f"{face}{ending}").is_file()]
    if not found:
        raise FontsMissing(f"the font {face} is not in {folder}; install the station again, its fonts come with it")
    families = QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(found[0])))
    if FAMILY not in families:
        raise FontsMissing(f"{found[0]} holds no {FAMILY} letters; install the station again to replace it")
