"""Where a bat is being made: stages, readings, job card."""
