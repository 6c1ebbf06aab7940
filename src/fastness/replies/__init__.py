"""A student's question with a position: what is asked, and what the survey answers."""
