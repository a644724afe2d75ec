"""The job, its members, the machine and their words."""
