"""Use cases: one function per thing a person does, over ports for everything outside."""
