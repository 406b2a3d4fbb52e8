"""People and promises: who asks for a bat, what was agreed, and what was written to them."""
