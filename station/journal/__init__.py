"""The journal: facts in one SQLite file, stored whole, chained by hash, checked, backed up and upgraded."""
