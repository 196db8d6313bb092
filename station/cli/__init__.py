"""The command line: one module for each command, each with a `run` that gives the exit code.

0 the answer is yes, 1 the answer is no (a fault found, an expectation missed), 2 it cannot be done as told.
Answers go to standard output, faults to standard error, both in UTF-8.
"""
