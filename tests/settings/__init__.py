"""Tests of the settings reader."""
