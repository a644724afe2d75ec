"""What to dial in and how to prepare a joint: the main answer."""
