"""Warm-up figures of a container kind from thermocouple runs, at the desk: loaded only when somebody opens it."""
