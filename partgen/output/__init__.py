"""Files into a folder, whole or not at all, one run at a time."""
