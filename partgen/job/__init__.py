"""The job file read and its plates built."""
