"""Where the heat goes in a joint and a part."""
