"""From key strokes to scans: a pure stream, healing of wrong layouts, and a thin Qt shell that listens."""
