"""What is printed or saved for the shop besides the cut files."""
