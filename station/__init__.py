"""Thawmark: a desktop station that keeps solder paste fit for use on electronics assembly lines."""
