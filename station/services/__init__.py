"""What people do with the station, act by act; whatever lies outside it is reached through ports."""
