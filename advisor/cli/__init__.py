"""The commands: one short file each, which parses, calls and prints."""
