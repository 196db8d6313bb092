"""Painted parts of a place's screen; each shows one view model and keeps no state of the paste."""
