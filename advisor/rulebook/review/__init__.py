"""Rules looked at together: conflicts, rules that never speak, differences."""
