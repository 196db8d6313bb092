"""Tests of the label code, the templates and the raster."""
