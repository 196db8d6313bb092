"""Specifications and paste lists at the shift desk."""
