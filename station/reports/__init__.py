"""Reports as rows and a document, apart from how they are shown, and the files they are written to."""
