"""`station read-image FILE`: what the codes on a photo mean, each as `station read` says it."""

from argparse import Namespace

from station.cli.read import as_json, keys_for, meaning_of, say_meaning
from station.cli.saying import NO, YES, complain, refuse, say_json
from station.scanning.image_codes import NoPicture, codes_in, picture_in
from station.settings.load import load

NO_CODE = (
    "There is no QR or Data Matrix code to be read on {file}. Take the photo again: the whole code with white paper "
    "around it, sharp, without glare, large enough to fill a third of the picture."
)


def run(told: Namespace) -> int:
    """Read every code; no code at all, or one that means nothing here, is the answer "no"."""
    site = load(told.config) if told.config is not None else None
    keys = keys_for(site, told.data)
    try:
        seen = codes_in(picture_in(told.file))
    except NoPicture as fault:
        return refuse(str(fault))
    meanings = [(code, meaning_of(code.scan, site, keys)) for code in seen]
    for code, meaning in meanings:
        if told.json:
            say_json({"symbology": code.identifier, **as_json(meaning)})
        else:
            say_meaning(meaning, f"{code.kind}: ")
    if not meanings:
        complain([NO_CODE.format(file=told.file)])
    return NO if not meanings or any(meaning.faults for _, meaning in meanings) else YES
