"""Sheets of ordinary paper: cards, badges and tags to cut out, and what is written by hand while a station is down."""
