"""What a person is asked in writing: forms over the screen that know fields and sentences, nothing of the plant."""
