"""What comes in and goes out: texts read, job files read, folders and drawings written."""
