"""The envelope of every answer."""
