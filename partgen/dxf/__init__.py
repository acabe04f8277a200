"""DXF written and read."""
