"""The published decision table: every state of paste and positions, asked with every scan at every place.

The states are brought about by real acts on a station of an imagined plant; the answers are those of the program.
"""
