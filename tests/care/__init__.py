"""The rules of paste care, tried at any instant."""
