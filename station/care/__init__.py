"""The trade's rules: pure data and functions, with `now` always an argument.

Nothing here reads a clock, a file, a screen or a database, so every rule can be tried at any instant.
"""
