"""The guided form and the demo jobs."""
