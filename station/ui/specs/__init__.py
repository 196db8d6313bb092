"""Specifications and paste lists at the shift desk: one table of figures, view models, and the forms they fill."""
