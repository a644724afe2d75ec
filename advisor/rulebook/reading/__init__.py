"""YAML files read, checked and compiled."""
