"""The rulebook: YAML files -> validated -> SQLite index -> match -> settle -> trail.

It knows rules, quantities and layers, and nothing of welding: attributes and topics come from
`rules/vocabulary.yaml`. Checking, testing and advising all read files through `yaml_text.read_yaml`.
"""
