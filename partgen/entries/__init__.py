"""Values and tables of the job file."""
