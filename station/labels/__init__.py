"""Labels: what the codes say, how they are signed and checked, and how a label is drawn at whole printer dots."""
