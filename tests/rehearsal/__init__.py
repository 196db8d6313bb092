"""Whole days played on a station with a clock that is set."""
