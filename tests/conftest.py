"""What all tests have in common."""

from hypothesis import settings

# how long one example takes is the machine's affair; a loaded one would fail what is right
settings.register_profile("thawmark", deadline=None)
settings.load_profile("thawmark")
