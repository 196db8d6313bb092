"""Script players over the services, with a clock that is set by the script."""
