"""A store's logger taken in at the desk: its file chosen, read beside the window, asked about, and recorded."""
