"""`station answers [FILE]`: what every scan is answered, asked of the program and written as a page."""

from argparse import Namespace

from station.cli.saying import YES, refuse, say
from station.rehearsal.answers.page import page


def run(told: Namespace) -> int:
    """Print the page, or write it to a file; what stands there is replaced."""
    if told.file is None:
        say(page().rstrip("\n"))
        return YES
    try:
        told.file.parent.resolve(strict=True)  # said before all the asking, which takes a while
        told.file.write_text(page(), encoding="utf-8", newline="\n")
    except OSError as trouble:
        return refuse(f"{told.file} can't be written ({trouble.strerror}). Choose another file, or make its folder.")
    say(f"done: {told.file}")
    return YES
