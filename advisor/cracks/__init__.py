"""Whether a bead cracks while it solidifies."""
