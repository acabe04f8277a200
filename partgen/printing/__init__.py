"""What the commands print: text for people, or the same as JSON. One file for each command."""
