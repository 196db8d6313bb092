"""Text in whole dots: the bundled typeface at a size given by the height of its capitals."""

from dataclasses import dataclass
from functools import lru_cache

from PIL import Image, ImageDraw, ImageFont

from station.labels.resources import font_path

FACES = {"regular": "B612-Regular", "bold": "B612-Bold", "mono": "B612Mono-Bold"}
_PROBE_SIZE = 1000
_LETTER_SIZE = 40
_NO_LETTER = "\ufffe"  # a code point that no typeface has anything for, by the Unicode standard


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text ready to be drawn. `left`, `top`, `right`, `bottom` bound its ink around the pen's start
    on the baseline, in dots; `capital` is the height of a capital."""

    text: str
    font: ImageFont.FreeTypeFont
    capital: int
    left: int
    top: int
    right: int
    bottom: int

    @property
    def width(self) -> int:
        """Dots of ink from side to side."""
        return self.right - self.left


# A check of templates sets the same lines again and again; a line at a size never changes.
@lru_cache(maxsize=1024)
def set_line(text: str, face: str, capital_dots: int) -> Line:
    """Set `text` so that its capitals are `capital_dots` high. OSError if the bundled typeface is missing."""
    font = _font(face, capital_dots)
    left, top, right, bottom = font.getbbox(text, mode="1", anchor="ls")
    return Line(text, font, capital_dots, int(left), int(top), int(right), int(bottom))


# Most lines of a label are the same on the next one, and drawing letters takes longest of all.
@lru_cache(maxsize=256)
def inked(line: Line) -> Image.Image:
    """The dots of a line, 1 for ink; its corner belongs `left`, `top` from the pen's start. Not to be drawn on."""
    image = Image.new("1", (max(1, line.width), max(1, line.bottom - line.top)), 0)
    draw = ImageDraw.Draw(image)
    draw.fontmode = "1"
    draw.text((-line.left, -line.top), line.text, fill=1, font=line.font, anchor="ls")
    return image


def letters_missing(text: str, face: str) -> str:
    """The characters of `text` that the typeface has no letter for, each once: a label would show an empty box."""
    return "".join(letter for letter in dict.fromkeys(text) if _is_missing(letter, face))


@lru_cache(maxsize=1024)
def _is_missing(letter: str, face: str) -> bool:
    font = _font(face, _LETTER_SIZE)
    drawn, box = (list(font.getmask(character, mode="1")) for character in (letter, _NO_LETTER))
    return drawn == box


# Loading a face from disk costs more than drawing with it; a face at a size never changes.
@lru_cache(maxsize=64)
def _font(face: str, capital_dots: int) -> ImageFont.FreeTypeFont:
    probe = _load(face, _PROBE_SIZE)
    return _load(face, capital_dots * _PROBE_SIZE / -probe.getbbox("H", anchor="ls")[1])


def _load(face: str, size: float) -> ImageFont.FreeTypeFont:
    # The basic engine draws the same dots whether or not a shaping library is installed.
    return ImageFont.truetype(font_path(FACES[face]), size, layout_engine=ImageFont.Layout.BASIC)
