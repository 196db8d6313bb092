"""What the rules refuse to record as told."""


class Refused(Exception):
    """It can't be recorded as told, and nothing is; the sentence says why and how to mend it."""
