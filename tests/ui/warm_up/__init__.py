"""Tests of the warm-up figures at the desk."""
