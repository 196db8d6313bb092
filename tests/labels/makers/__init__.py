"""Makers' labels: published examples, damage, and a second reader beside ours."""
