"""What a person is asked in writing: forms laid over the screen. They know fields and sentences, nothing of the plant."""
