"""The fitting on the web: questions, answers, the draft."""
