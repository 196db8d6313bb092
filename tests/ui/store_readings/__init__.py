"""A store's readings at the desk."""
