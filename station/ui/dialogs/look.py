"""The house look for what Qt draws itself in a form: fields, labels, scroll bar. Colours only as pairs of the theme."""

from station.ui.theme import FAMILY, Pair, Scale, Theme

CAPTION, COMPLAINT, NOTE, TEXT, LOUD = "caption", "complaint", "note", "text", "loud"


def style_sheet(theme: Theme, scale: Scale) -> str:
    """Qt style sheet of one form; lengths in logical pixels of this screen."""
    touch, thick = round(scale.touch), max(2, round(scale.of(4)))
    small, normal = max(13, round(scale.of(22))), max(15, round(scale.of(27)))
    return "\n".join(
        (
            f"QLabel {{ font-family: {FAMILY}; background: transparent; }}",
            _label(CAPTION, theme.body, normal, bold=True),
            _label(NOTE, theme.quiet, small),
            _label(TEXT, theme.body, normal),
            _label(COMPLAINT, theme.caution, small, bold=True, padded=True),
            _label(LOUD, theme.danger, normal, bold=True, padded=True),
            _field(theme, touch, thick, max(16, round(scale.of(32)))),
            _scrolling(theme, touch),
        )
    )


def _label(role: str, pair: Pair, size: int, *, bold: bool = False, padded: bool = False) -> str:
    ground = f"background: {pair.ground}; padding: 3px 8px;" if padded else ""
    weight = "bold" if bold else "normal"
    return f'QLabel[role="{role}"] {{ color: {pair.text}; font-size: {size}px; font-weight: {weight}; {ground} }}'


def _field(theme: Theme, touch: int, thick: int, size: int) -> str:
    card, focus, off = theme.card, theme.act.ground, theme.disabled
    inner = touch - 2 * thick
    return (
        f"QLineEdit {{ font-family: {FAMILY}; font-size: {size}px; color: {card.text}; background: {card.ground};"
        f" border: {thick}px solid {theme.outline.shape}; border-radius: 0; padding: 0 {thick * 2}px;"
        f" min-height: {inner}px; max-height: {inner}px;"
        f" selection-background-color: {theme.act.ground}; selection-color: {theme.act.text}; }}\n"
        f"QLineEdit:focus {{ border: {thick + 2}px solid {focus}; padding: 0 {thick * 2 - 2}px;"
        f" min-height: {inner - 4}px; max-height: {inner - 4}px; }}\n"
        f"QLineEdit:disabled {{ color: {off.text}; background: {off.ground}; border-style: dashed; }}"
    )


def _scrolling(theme: Theme, touch: int) -> str:
    """The handle is as wide as a gloved finger; it shows only where the form is taller than the screen."""
    ink, sand = theme.outline.shape, theme.bottom.ground
    return (
        "QScrollArea, QWidget#paperBody, QWidget#paperPage { background: transparent; border: none; }\n"
        f"QScrollBar:vertical {{ width: {touch}px; background: {sand}; border: none; margin: 0; }}\n"
        f"QScrollBar::handle:vertical {{ min-height: {touch}px; background: {ink}; border: 8px solid {sand}; }}\n"
        "QScrollBar::add-line, QScrollBar::sub-line { height: 0; }\n"
        "QScrollBar::add-page, QScrollBar::sub-page { background: none; }"
    )
