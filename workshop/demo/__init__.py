"""A workshop of the project's own invention, to try everything out; nothing and nobody in it is real."""
