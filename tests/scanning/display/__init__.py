"""Helpers for the tests on a real X display: the server, the hands that type, and the program typed into."""
