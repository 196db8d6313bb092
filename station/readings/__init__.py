"""Temperature series from the files of loggers: declared or recognised layouts, instants in UTC, faults kept apart.

Text in, plain data out: `recognise` finds a layout or asks, `read` gives a `Series`, `merge` puts series together.
"""
