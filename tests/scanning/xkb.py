"""Reads what the installed xkb-data says each key writes: an outside source for the tables under test."""

import re
import subprocess
from pathlib import Path

_KEYMAP = """xkb_keymap {{
  xkb_keycodes {{ include "evdev+aliases(qwerty)" }};
  xkb_types {{ include "complete" }};
  xkb_compat {{ include "complete" }};
  xkb_symbols {{ include "pc+{layout}" }};
}};"""

# Names of X keysyms (keysymdef.h) that are not their own character, as far as the six layouts use them.
_NAMED = {
    **{"space": " ", "exclam": "!", "quotedbl": '"', "numbersign": "#", "dollar": "$", "percent": "%"},
    **{"ampersand": "&", "apostrophe": "'", "parenleft": "(", "parenright": ")", "asterisk": "*", "plus": "+"},
    **{"comma": ",", "minus": "-", "period": ".", "slash": "/", "colon": ":", "semicolon": ";", "less": "<"},
    **{"equal": "=", "greater": ">", "question": "?", "at": "@", "bracketleft": "[", "backslash": "\\"},
    **{"bracketright": "]", "asciicircum": "^", "underscore": "_", "grave": "`", "braceleft": "{", "bar": "|"},
    **{"braceright": "}", "asciitilde": "~", "exclamdown": "¡", "sterling": "£", "section": "§", "notsign": "¬"},
    **{"ordfeminine": "ª", "degree": "°", "twosuperior": "²", "mu": "µ", "periodcentered": "·", "masculine": "º"},
    **{"questiondown": "¿", "ssharp": "ß", "agrave": "à", "egrave": "è", "eacute": "é", "igrave": "ì"},
    **{"ograve": "ò", "ugrave": "ù", "ccedilla": "ç", "Ccedilla": "Ç", "ntilde": "ñ", "Ntilde": "Ñ"},
    **{"adiaeresis": "ä", "Adiaeresis": "Ä", "odiaeresis": "ö", "Odiaeresis": "Ö", "udiaeresis": "ü"},
    **{"Udiaeresis": "Ü"},
}


def written_by_place(layout: str, folder: Path) -> dict[int, tuple[str, str]]:
    """Key place -> what it writes without and with Shift, "" for a dead key; `layout` by xkb's name ("de")."""
    source, target = folder / "source.xkb", folder / "target.xkb"
    source.write_text(_KEYMAP.format(layout=layout))
    subprocess.run(["xkbcomp", "-w", "0", "-xkb", str(source), str(target)], check=True, capture_output=True)
    text = target.read_text()
    codes = {name: int(code) for name, code in re.findall(r"<(\w{4})> = (\d+);", text)}
    keys = re.findall(r"key <(\w{4})> \{([^}]*?)\}", text)
    return {codes[name] - 8: _levels(body) for name, body in keys if name in codes}


def _levels(body: str) -> tuple[str, str]:
    symbols = re.search(r"\[ *([^\]]*?) *\][^\[]*$", body)
    names = re.split(r",\s*", symbols.group(1)) if symbols else []
    first, second = (*names, "", "")[:2]
    return _character(first), _character(second)


def _character(name: str) -> str:
    return name if len(name) == 1 else _NAMED.get(name, "")
