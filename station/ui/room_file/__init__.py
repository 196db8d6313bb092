"""Room air out of a logger's file: read, asked where the file leaves a doubt, shown, and recorded when confirmed."""
