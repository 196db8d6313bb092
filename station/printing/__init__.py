"""Where labels go: PNG and PDF files, one dot of the label for one dot of the printer."""
