"""Full-scale paper templates as PDF: a plate on as many pages as it needs, bars to measure."""
