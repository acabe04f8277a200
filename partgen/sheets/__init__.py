"""A job's plates on its sheets, and how they are cut there."""
